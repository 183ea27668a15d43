"""What became of a protocol's courses, in rows that a window and a table both show.

To be passed on, counts of one to four are not told, nor the figures of so few, nor any words of
the practitioner's: with them somebody could be known again (common practice in health statistics).
Nor is what they could be worked out from: the other parts of one whole, and a whole that is small.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.follow_up.measures import NO_OWN
from sennight.domain.follow_up.over_clients import (
    Changed,
    ProtocolRecord,
    Reacted,
    Spread,
    Stopped,
)

FEWEST_TOLD = 5
FEW = f"fewer than {FEWEST_TOLD}"
NOT_TOLD = f"not told, with {FEW} in one part"
CAUTION = (
    "This is one practice’s record, not a trial: who came, who stayed and what else changed "
    "differ from course to course, so a change does not show what caused it."
)


class Topic(StrEnum):
    """What a row is about."""

    COURSES = "courses"
    PHASES = "phases"
    TAKEN = "taken"
    SCORES = "scores"
    FLARE_UPS = "flare-ups"
    STOPPED = "stopped"
    REACTIONS = "reactions"


@dataclass(frozen=True, slots=True)
class Row:
    """How many, of how many where that is to be said, the figures, and the words written down.

    Rows of one `whole` are its parts: together they are all of what each is counted of.
    """

    topic: Topic
    name: str
    count: int
    of: int | None = None
    figures: str = ""
    words: str = ""
    whole: str = ""

    @property
    def told_count(self) -> str:
        """`9 of 14`."""
        return str(self.count) if self.of is None else f"{self.count} of {self.of}"

    @property
    def is_of_few(self) -> bool:
        """Whether they, or those among whom they are counted, are so few."""
        return 0 < self.count < FEWEST_TOLD or (self.of is not None and self.of < FEWEST_TOLD)

    @property
    def passed_on_count(self) -> str:
        """The same, where it is neither so few nor all but so few that they could be known."""
        if self.is_of_few:
            return FEW if self.count else "0"
        rest = FEWEST_TOLD if self.of is None else self.of - self.count
        return f"all but {FEW}" if 0 < rest < FEWEST_TOLD else self.told_count

    @property
    def passed_on(self) -> Row:
        """The row without figures of so few, and without words."""
        figures = self.figures if self.count >= FEWEST_TOLD else ""
        return replace(self, figures=figures, words="")


def passed_on_counts(rows: Sequence[Row]) -> tuple[str, ...]:
    """The counts of rows as they are passed on; of a whole with few in a part, no part but 0."""
    hidden = {row.whole for row in rows if row.whole and 0 < row.count < FEWEST_TOLD}
    return tuple(
        NOT_TOLD if row.whole in hidden and row.count else row.passed_on_count for row in rows
    )


def record_rows(record: ProtocolRecord) -> tuple[Row, ...]:
    """All that is told of a protocol's courses, topic by topic."""
    return tuple(_rows(record))


def _rows(record: ProtocolRecord) -> Iterator[Row]:
    began = record.began
    yield Row(Topic.COURSES, "began", began)
    yield Row(Topic.COURSES, "clients", record.clients)
    yield Row(Topic.COURSES, "still running", record.running, began)
    if record.ends:
        yield _stopped(Topic.COURSES, "ended early", record.ends, began)
    for phase, count in record.reached:
        yield Row(Topic.PHASES, f"reached {phase_title(phase)}", count, began)
    for name, share in (
        ("due doses taken, on days with an entry", record.proportion),
        ("days kept up, of days planned", record.persistence),
    ):
        if share:
            yield Row(Topic.TAKEN, name, share.n, began, _percent(share))
    for changed in record.changes:
        yield from _changed(changed, began)
    flares = f"{record.flares} in all" if record.flares else ""
    yield Row(Topic.FLARE_UPS, "courses with one or more", record.with_flares, began, flares)
    for stopped in record.stops:
        yield _stopped(Topic.STOPPED, stopped.remedy, stopped, None)
    yield from map(_reacted, record.reactions)


def _changed(changed: Changed, began: int) -> Iterator[Row]:
    measure = NO_OWN.of(changed.measure)
    name = measure.name if measure else changed.measure
    n = changed.change.n
    yield Row(Topic.SCORES, f"{name}, last minus first", n, began, _words(changed.change, 1, ""))
    verdicts = {"better": changed.better, "the same": changed.same, "worse": changed.worse}
    if sum(verdicts.values()):
        for verdict, count in verdicts.items():
            yield Row(Topic.SCORES, f"{name}: {verdict}", count, n, whole=changed.measure)


def _stopped(topic: Topic, name: str, stopped: Stopped, of: int | None) -> Row:
    weeks = stopped.weeks
    least, most = plain_number(weeks.least), plain_number(weeks.most)
    span = f"week {least}" if least == most else f"weeks {least} to {most}"
    middle = "" if least == most else f", median {plain_number(weeks.median)}"
    return Row(topic, name, stopped.count, of, span + middle, "; ".join(stopped.reasons))


def _reacted(reacted: Reacted) -> Row:
    return Row(Topic.REACTIONS, reacted.remedy, reacted.count, words="; ".join(reacted.what))


def _percent(share: Spread) -> str:
    hundred = replace(
        share,
        mean=share.mean * 100,
        median=share.median * 100,
        least=share.least * 100,
        most=share.most * 100,
        deviation=None if share.deviation is None else share.deviation * 100,
    )
    return _words(hundred, 0, " %")


def _words(values: Spread, places: int, unit: str) -> str:
    """`mean 84 %, SD 9 %; median 86 %; 61 % to 97 %`."""

    def told(value: Fraction) -> str:
        return f"{rounded(value, places)}{unit}".replace("-", "−")

    if values.deviation is None:
        return told(values.mean)
    grain = Decimal(1).scaleb(-places)
    deviation = values.deviation.quantize(grain, ROUND_HALF_UP)
    spread = f"mean {told(values.mean)}, SD {deviation}{unit}; median {told(values.median)}"
    return f"{spread}; {told(values.least)} to {told(values.most)}"
