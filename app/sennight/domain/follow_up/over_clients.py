"""Over clients: what became of all courses of one protocol, counted.

Plain statistics of a practice's own record. Nobody was drawn by lot and nobody compared, so that
a change says nothing of its cause. One client's second course counts as a course of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, localcontext
from fractions import Fraction
from statistics import median

from sennight.domain.courses.courses import Course, End, Stop
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import course_week
from sennight.domain.follow_up.adherence import adherence
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.measures import NO_OWN, Measures, Verdict
from sennight.domain.follow_up.outcomes import outcomes

_BETTER = frozenset({Verdict.BETTER, Verdict.AT_THE_EDGE, Verdict.SLIGHTLY_BETTER})
_WORSE = frozenset({Verdict.WORSE, Verdict.SLIGHTLY_WORSE})


@dataclass(frozen=True, slots=True)
class CourseRecord:
    """One course with what its client, known by an id, reported."""

    client: str
    layout: Layout
    taken: Sequence[Taken] = ()
    scores: Sequence[Score] = ()
    measures: Measures = NO_OWN

    @property
    def course(self) -> Course:
        """The course."""
        return self.layout.course


@dataclass(frozen=True, slots=True)
class Spread:
    """How figures spread, one or more; `deviation` is the sample's, None of one alone."""

    n: int
    mean: Fraction
    deviation: Decimal | None
    median: Fraction
    least: Fraction
    most: Fraction


def spread(values: Sequence[Fraction]) -> Spread:
    """How values spread, of which there must be one.

    The deviation is the square root of the sum of squares about the mean over n - 1
    (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.6).
    """
    n = len(values)
    mean = sum(values, Fraction(0)) / n
    deviation = None
    if n > 1:
        variance = sum(((value - mean) ** 2 for value in values), Fraction(0)) / (n - 1)
        with localcontext(prec=28):
            deviation = (Decimal(variance.numerator) / Decimal(variance.denominator)).sqrt()
    return Spread(n, mean, deviation, Fraction(median(values)), min(values), max(values))


@dataclass(frozen=True, slots=True)
class Changed:
    """One measure: how its ratings changed from the first to the last, over courses."""

    measure: str
    change: Spread
    better: int
    same: int
    worse: int


@dataclass(frozen=True, slots=True)
class Stopped:
    """A remedy that was stopped, or (without a name) courses that were ended, with the reasons.

    `weeks` are course weeks of the first day without it.
    """

    remedy: str
    weeks: Spread
    reasons: tuple[str, ...]

    @property
    def count(self) -> int:
        """How often."""
        return self.weeks.n


@dataclass(frozen=True, slots=True)
class Reacted:
    """Reactions to one remedy."""

    remedy: str
    count: int
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProtocolRecord:
    """What became of the courses of a protocol up to a day.

    `reached` counts, for each phase in order, the courses that came to its first day. `running`
    are those that have a day to come.
    """

    protocol: str
    began: int
    clients: int
    running: int
    reached: tuple[tuple[str, int], ...]
    proportion: Spread | None
    persistence: Spread | None
    changes: tuple[Changed, ...]
    with_flares: int
    flares: int
    stops: tuple[Stopped, ...]
    ends: Stopped | None
    reactions: tuple[Reacted, ...]


def protocol_record(protocol: str, courses: Iterable[CourseRecord], today: date) -> ProtocolRecord:
    """Count the courses that began by `today` and were not struck out."""
    begun = [
        record for record in courses if record.course.start <= today and not record.course.is_void
    ]
    flares = [_flares(record, today) for record in begun]
    proportions, persistences = _adherence(begun, today)
    return ProtocolRecord(
        protocol,
        began=len(begun),
        clients=len({record.client for record in begun}),
        running=sum(today <= record.layout.days.last for record in begun),
        reached=_reached(begun, today),
        proportion=spread(proportions) if proportions else None,
        persistence=spread(persistences) if persistences else None,
        changes=tuple(_changes(begun)),
        with_flares=sum(map(bool, flares)),
        flares=sum(flares),
        stops=tuple(_stops(begun, today)),
        ends=_ends(begun, today),
        reactions=_reactions(begun),
    )


def _flares(record: CourseRecord, today: date) -> int:
    return sum(run.span.first <= today for run in record.layout.flares)


def _reached(begun: Sequence[CourseRecord], today: date) -> tuple[tuple[str, int], ...]:
    """By phase, those of flare-ups excepted, in the order of the longest protocol."""
    names: dict[str, int] = {}
    for record in sorted(begun, key=lambda record: -len(record.course.protocol.phases)):
        for phase in record.course.protocol.phases:
            if not phase.is_rescue:
                names.setdefault(phase.id, 0)
        for phase_id in {run.phase.id for run in record.layout.phases if run.span.first <= today}:
            names[phase_id] = names.get(phase_id, 0) + 1
    return tuple(names.items())


def _adherence(
    begun: Sequence[CourseRecord], today: date
) -> tuple[list[Fraction], list[Fraction]]:
    """The proportions, and how far clients went on, of the courses that have a diary."""
    kept = (
        adherence(record.layout, record.taken, today=today) for record in begun if record.taken
    )
    overall = [report.overall for report in kept]
    return (
        [share for of in overall if (share := of.proportion) is not None],
        [share for of in overall if (share := of.persistence) is not None],
    )


def _changes(begun: Sequence[CourseRecord]) -> Iterator[Changed]:
    """Each measure that two ratings were given of in a course."""
    found = [
        outcome
        for record in begun
        for outcome in outcomes(record.layout, record.scores, record.measures)
        if not outcome.phase
    ]
    for measure in sorted({outcome.measure for outcome in found}):
        own = [outcome for outcome in found if outcome.measure == measure]
        yield Changed(
            measure,
            spread([outcome.change for outcome in own]),
            better=sum(outcome.verdict in _BETTER for outcome in own),
            same=sum(outcome.verdict is Verdict.SAME for outcome in own),
            worse=sum(outcome.verdict in _WORSE for outcome in own),
        )


def _stops(begun: Sequence[CourseRecord], today: date) -> Iterator[Stopped]:
    stops = [
        (_name(record.course, revision.remedy), _week(record, revision), revision.reason)
        for record in begun
        for revision in record.course.revisions
        if isinstance(revision, Stop) and not revision.is_void and revision.first <= today
    ]
    for remedy in sorted({name for name, _, _ in stops}):
        own = [(week, reason) for name, week, reason in stops if name == remedy]
        yield _stopped(remedy, own)


def _ends(begun: Sequence[CourseRecord], today: date) -> Stopped | None:
    ends = [
        (_week(record, revision), revision.reason)
        for record in begun
        for revision in record.course.revisions
        if isinstance(revision, End) and not revision.is_void and revision.first <= today
    ]
    return _stopped("", ends) if ends else None


def _stopped(remedy: str, stops: Sequence[tuple[Fraction, str]]) -> Stopped:
    weeks = spread([week for week, _ in stops])
    return Stopped(remedy, weeks, _by_number(reason for _, reason in stops))


def _week(record: CourseRecord, revision: Stop | End) -> Fraction:
    return Fraction(course_week(record.course.start, revision.first))


def _name(course: Course, remedy: str) -> str:
    return next((known.name for known in course.remedies if known.id == remedy), remedy)


def _reactions(begun: Sequence[CourseRecord]) -> tuple[Reacted, ...]:
    """Of each client once, those to a remedy of the course from its first day on."""
    found = {
        (record.client, reaction)
        for record in begun
        for reaction in record.course.client.reactions
        if not reaction.is_void
        and reaction.day >= record.course.start
        and reaction.remedy in {remedy.name for remedy in record.course.remedies}
    }
    reactions = [reaction for _, reaction in found]
    return tuple(
        Reacted(
            remedy,
            sum(reaction.remedy == remedy for reaction in reactions),
            _by_number(reaction.what for reaction in reactions if reaction.remedy == remedy),
        )
        for remedy in sorted({reaction.remedy for reaction in reactions})
    )


def _by_number(texts: Iterable[str]) -> tuple[str, ...]:
    """Each text once, the most frequent first, then by the alphabet."""
    counts = Counter(text for text in texts if text)
    return tuple(sorted(counts, key=lambda text: (-counts[text], text)))
