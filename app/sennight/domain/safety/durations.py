"""Days of use over a limit.

Days of use are the days of a herb's stretches over all its remedies; days off in a cycle and
pauses are none, days between the doses of a line that is not taken daily are. They add up
over gaps, until a break begins the count anew: as long as the herb's record asks for, else as
long as the use before it or half the limit, and a week at least. A limit in weeks a year counts
the days of use among any 365 days.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise

from sennight.domain.dates import ONE_DAY, Span, add_months, joined
from sennight.domain.herbs.herbs import Duration, DurationKind, DurationUnit, Herb
from sennight.domain.safety.facts import EVER, UNDER, ClientFacts
from sennight.domain.safety.finding_rules import LengthOfUse
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.rules import TrialLength
from sennight.domain.safety.statements import (
    LengthsPassed,
)
from sennight.domain.safety.steps import (
    LastDoseOn,
    Step,
)
from sennight.domain.safety.uses import Use, meeting

YEAR = timedelta(365)
SHORTEST_BREAK = 7
"""Days off that are a break at all: common practice."""


def duration_findings(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """The limits of a herb's record that its days of use pass, in one."""
    spans = joined(tuple(span for runs in use.all.values() for span in runs))
    passed: list[_Passed] = []
    for limit in use.herb.durations:
        if limit.kind is DurationKind.MAX_COURSE and not _is_trial(use.herb, limit, facts):
            over = _over(limit, spans, use.herb)
            days = meeting({"": over}, _holds(use.herb, limit, facts))[1]
            passed += [_Passed(limit, days)] if days else []
    told = _without_grown_ups(use.herb, passed, facts)
    if told:
        yield _finding(use, sorted(told, key=lambda passing: min(passing.days)))


def _without_grown_ups(
    herb: Herb, passed: Sequence[_Passed], facts: ClientFacts
) -> Sequence[_Passed]:
    """Without the limits of everybody where a child's own is passed on the same days."""
    for_child = [passing for passing in passed if _is_of_an_age(herb, passing.limit, facts)]
    days = joined(tuple(span for passing in for_child for span in passing.days))
    return [
        passing
        for passing in passed
        if passing in for_child
        or not all(any(span.overlap(day) == day for span in days) for day in passing.days)
    ]


def _is_of_an_age(herb: Herb, limit: Duration, facts: ClientFacts) -> bool:
    return any(
        (rule.herb, rule.count, rule.unit) == (herb.id, limit.count, limit.unit)
        and _years(rule.tag) > 0
        for rule in facts.rules.for_some
    )


def _is_trial(herb: Herb, length: Duration, facts: ClientFacts) -> bool:
    """Whether a length is only that of a trial."""
    trial = TrialLength(herb.id, length.count, length.unit)
    return trial in facts.rules.trials


@dataclass(frozen=True, slots=True)
class _Passed:
    """A limit, and the days of use beyond it."""

    limit: Duration
    days: tuple[Span, ...]


def _finding(use: Use, passed: Sequence[_Passed]) -> Finding:
    """The limits, the one that is passed first at the head."""
    first = passed[0]
    days = tuple(span for passing in passed for span in passing.days)
    return Finding(
        severity=Severity.CAUTION,
        rule=LengthOfUse(use.herb.id),
        fact="",
        herbs=(use.herb.id,),
        remedies=meeting(use.all, days)[0],
        days=days,
        statements=(LengthsPassed(use.herb.id, tuple(passing.limit for passing in passed)),),
        steps=_shorter(use.herb, first.limit, first.days),
    )


def _shorter(herb: Herb, limit: Duration, days: tuple[Span, ...]) -> tuple[Step, ...]:
    last = days[0].first - ONE_DAY
    if limit.unit is DurationUnit.WEEKS_PER_YEAR:
        return (LastDoseOn(herb.id, last, None),)
    break_days = _break(herb) or usual_break(_days(limit, last))
    return (LastDoseOn(herb.id, last, break_days),)


def _break(herb: Herb) -> int | None:
    """How many days off begin the count anew, where the record says so."""
    breaks = [
        duration.count * (7 if duration.unit is DurationUnit.WEEKS else 1)
        for duration in herb.durations
        if duration.kind is DurationKind.MIN_BREAK
    ]
    return max(breaks, default=None)


def _holds(herb: Herb, limit: Duration, facts: ClientFacts) -> tuple[Span, ...]:
    """The days on which a duration is about this client."""
    for rule in facts.rules.for_some:
        if (rule.herb, rule.count, rule.unit) == (herb.id, limit.count, limit.unit):
            years = _years(rule.tag)
            return facts.under(Fraction(years)) if years else facts.days(rule.tag, herb)
    return (EVER,)


def _years(tag: str) -> int:
    return int(tag.removeprefix(UNDER)) if tag.startswith(UNDER) else 0


def _over(limit: Duration, spans: tuple[Span, ...], herb: Herb) -> tuple[Span, ...]:
    if limit.unit is DurationUnit.WEEKS_PER_YEAR:
        return tuple(over_in_a_year(spans, limit.count * 7))
    days = _days(limit, spans[0].first)
    known = _break(herb)
    if known is not None:
        return tuple(over_limit(spans, days, known))
    return tuple(over_limit(spans, days, usual_break(days), or_as_used=True))


def _days(limit: Duration, first: date) -> int:
    """How many days a limit is that is counted from a day on."""
    if limit.unit is DurationUnit.MONTHS:
        return (add_months(first, limit.count) - first).days
    return limit.count * (7 if limit.unit is DurationUnit.WEEKS else 1)


def usual_break(limit: int) -> int:
    """Days off that begin the count anew where no text says how many: common practice.

    Half as long as the use, in whole weeks.
    """
    half = -(-limit // 2)
    return max(SHORTEST_BREAK, half - half % SHORTEST_BREAK)


def over_limit(
    spans: Iterable[Span], limit: int, pause: int | None, *, or_as_used: bool = False
) -> Iterator[Span]:
    """The days of use beyond a number of them; a gap of `pause` days begins the count anew.

    `or_as_used`: so does a shorter one of a week or more that is as long as the use before it.
    """
    used, end = 0, None
    for span in spans:
        enough = min(pause, max(SHORTEST_BREAK, used)) if pause and or_as_used else pause
        if enough is not None and end is not None and (span.first - end).days >= enough:
            used = 0
        left = max(0, limit - used)
        if span.days > left:
            yield Span(span.first + timedelta(left), span.end)
        used += span.days
        end = span.end


def over_in_a_year(spans: tuple[Span, ...], limit: int) -> Iterator[Span]:
    """The days of use that, with the 364 days before them, hold more than `limit` such days.

    Between the ends of spans, and those a year on, the number rises by one a day or stays.
    """
    edges = {edge for span in spans for edge in (span.first, span.end)}
    cuts = sorted(edges | {edge + YEAR for edge in edges})
    for first, end in pairwise(cuts):
        if any(first in span for span in spans):
            used = _used(spans, Span(first + ONE_DAY - YEAR, first + ONE_DAY))
            rises = not any(first - YEAR in span for span in spans)
            wait = max(0, limit + 1 - used)
            if wait == 0 or (rises and first + timedelta(wait) < end):
                yield Span(first + timedelta(wait), end)


def _used(spans: Iterable[Span], window: Span) -> int:
    return sum(max(0, span.overlap(window).days) for span in spans)
