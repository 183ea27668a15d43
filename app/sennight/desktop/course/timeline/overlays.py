"""What lies over the lanes of the timeline: the days of findings, the ratings, and a ghost."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.desktop.kit.translating import translate
from sennight.domain.amounts import plain_number
from sennight.domain.dates import Span
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.gate_words import threshold_words
from sennight.domain.follow_up.gates import GateReading, GateState
from sennight.domain.follow_up.progress import Progress
from sennight.domain.tag_words import upper_first
from sennight.practice.course_reading import CourseReading
from sennight.practice.safety import Severity, WordedFinding

RATED = 10
"""A scale up to here is drawn whole; of a longer one, what was rated."""


@dataclass(frozen=True, slots=True)
class FindingDays:
    """The days that a caution or an avoid is about, in the lane of one remedy."""

    remedy: str
    severity: Severity
    span: Span
    heading: str


@dataclass(frozen=True, slots=True)
class ScoreLane:
    """The ratings of one measure: heights from 0 (the scale's low end) to 1, by day.

    `verdict` is what the change, and the gate of its phase, come to; `met` whether that gate is
    met, None where none waits.
    """

    name: str
    points: tuple[tuple[date, float], ...]
    verdict: str
    met: bool | None


def finding_days(lines: Iterable[WordedFinding]) -> tuple[FindingDays, ...]:
    """What stands on the lanes: everything but notes, the gravest last, so that it is on top."""
    told = [line for line in lines if line.severity is not Severity.NOTE]
    return tuple(
        FindingDays(remedy, line.severity, span, line.heading)
        for line in sorted(told, key=lambda line: line.severity is Severity.AVOID)
        for remedy in line.remedies
        for span in line.days
    )


def score_lane(reading: CourseReading, scores: Sequence[Score]) -> ScoreLane | None:
    """The measure that the gate of today's phase waits for, else the first one rated."""
    rated = reading.progress(scores)
    if not rated:
        return None
    gates = [gate for gate in reading.gates(scores) if reading.today in gate.run.span]
    waited = {gate.gate.measure: gate for gate in gates}
    shown = next((measure for measure in rated if measure.id in waited), rated[0])
    gate = waited.get(shown.id)
    met = None if gate is None else gate.state is GateState.MET
    points = _points(shown, *reading.measures.scale(shown.id))
    return ScoreLane(upper_first(shown.name), points, _verdict(shown, gate), met)


def _points(rated: Progress, low: int, high: int) -> tuple[tuple[date, float], ...]:
    most = max(score.value for score in rated.ratings)
    top = Fraction(high) if high <= RATED else max(Fraction(low + 1), most)
    return tuple((s.day, float((s.value - low) / (top - low))) for s in rated.ratings)


def _verdict(rated: Progress, gate: GateReading | None) -> str:
    """`7 to 4.5: gate met (to fall by 30 %)`."""
    first, last = plain_number(rated.first), plain_number(rated.last)
    change = f"{first} to {last}" if len(rated.ratings) > 1 else first
    if gate is None or gate.state is GateState.NOT_SAID_YET:
        return change
    template = translate("Timeline", "{change}: gate not met (to {wanted})")
    if gate.state is GateState.MET:
        template = translate("Timeline", "{change}: gate met (to {wanted})")
    return template.format(change=change, wanted=threshold_words(gate.gate, gate.measure))
