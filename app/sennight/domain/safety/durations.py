"""Days of use over a limit.

Days of use are the days of a herb's stretches over all its remedies; days off in a cycle and
pauses are none, days between the doses of a line that is not taken daily are. They add up
however long the gaps between are, unless the herb's record gives a break that begins the count
anew. A limit in weeks a year counts the days of use among any 365 days.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise

from sennight.domain.dates import ONE_DAY, Span, add_months, joined
from sennight.domain.herbs.herbs import Duration, DurationKind, DurationUnit, Herb
from sennight.domain.safety.facts import EVER, UNDER, ClientFacts
from sennight.domain.safety.finding_rules import LengthOfUse
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.rules import TrialLength
from sennight.domain.safety.statements import LastDoseOn, LengthsPassed
from sennight.domain.safety.uses import Use, meeting

YEAR = timedelta(365)


def duration_findings(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """The limits of a herb's record that its days of use pass, in one."""
    spans = joined(tuple(span for runs in use.all.values() for span in runs))
    pause = _break(use.herb)
    passed: list[_Passed] = []
    for limit in use.herb.durations:
        if limit.kind is DurationKind.MAX_COURSE and not _is_trial(use.herb, limit, facts):
            over = _over(limit, spans, pause)
            days = meeting({"": over}, _holds(use.herb, limit, facts))[1]
            passed += [_Passed(limit, days)] if days else []
    if passed:
        yield _finding(use, sorted(passed, key=lambda passing: min(passing.days)))


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
        steps=(LastDoseOn(use.herb.id, first.days[0].first - ONE_DAY, _break(use.herb)),),
    )


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


def _over(limit: Duration, spans: tuple[Span, ...], pause: int | None) -> tuple[Span, ...]:
    if limit.unit is DurationUnit.WEEKS_PER_YEAR:
        return tuple(over_in_a_year(spans, limit.count * 7))
    if limit.unit is DurationUnit.MONTHS:
        days = (add_months(spans[0].first, limit.count) - spans[0].first).days
    else:
        days = limit.count * (7 if limit.unit is DurationUnit.WEEKS else 1)
    return tuple(over_limit(spans, days, pause))


def over_limit(spans: Iterable[Span], limit: int, pause: int | None) -> Iterator[Span]:
    """The days of use beyond a number of them; a gap of `pause` days begins the count anew."""
    used, end = 0, None
    for span in spans:
        if pause is not None and end is not None and (span.first - end).days >= pause:
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
