"""Findings: what a safety check reports, and which of them stop a course from being given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from sennight.domain.courses.courses import Accept
from sennight.domain.dates import Span, joined
from sennight.domain.herbs.herbs import Level


class Severity(StrEnum):
    """How grave a finding is, the gravest first."""

    AVOID = "avoid"
    CAUTION = "caution"
    NOTE = "note"


_GRAVEST = tuple(Severity)

SEVERITY_OF: Mapping[Level, Severity] = {
    Level.CONTRAINDICATED: Severity.AVOID,
    Level.AVOID: Severity.AVOID,
    Level.REFER: Severity.AVOID,
    Level.CAUTION: Severity.CAUTION,
    Level.SEPARATE: Severity.CAUTION,
    Level.MONITOR: Severity.NOTE,
}
"""The severity of each level; `info` is no finding but a line on the handout."""

REFER = "Refer the client to a doctor."
LEAVE_OUT = "Leave it out."


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a careful colleague would say about a course.

    `id` names the rule, what it is about and the herb, never a date, so that a decision about
    it holds. `fact` is the tag of the client's fact, empty where none is needed. `remedies` are
    ids, `days` the days on which it holds, `instead` what one could do, each a sentence.
    """

    severity: Severity
    id: str
    fact: str
    herbs: tuple[str, ...]
    remedies: tuple[str, ...]
    days: tuple[Span, ...]
    text: str
    source: str
    instead: tuple[str, ...] = ()

    @property
    def first(self) -> date:
        """The first day on which it holds."""
        return self.days[0].first

    @property
    def last(self) -> date:
        """The last day on which it holds."""
        return self.days[-1].last


def merged(found: Iterable[Finding]) -> tuple[Finding, ...]:
    """One finding for each id, the gravest severity of each holding, the worst first.

    Those without a day are left out.
    """
    by_id: dict[str, Finding] = {}
    for one in found:
        if any(one.days):
            known = by_id.get(one.id)
            by_id[one.id] = _with(known, one) if known else one
    runs = (
        replace(one, days=joined(one.days), text=_with_what_to_do(one)) for one in by_id.values()
    )
    return tuple(sorted(runs, key=_order))


def _with_what_to_do(one: Finding) -> str:
    """The text of a finding about a herb to avoid says so, unless it says what else to do."""
    tells = one.severity is not Severity.AVOID or not one.herbs or REFER in one.text
    tells = tells or LEAVE_OUT[1:-1] in one.text
    return one.text if tells else f"{one.text} {LEAVE_OUT}"


def _order(one: Finding) -> tuple[int, date, str]:
    return _GRAVEST.index(one.severity), one.first, one.id


def _with(one: Finding, two: Finding) -> Finding:
    return Finding(
        severity=min(one.severity, two.severity, key=_GRAVEST.index),
        id=one.id,
        fact=one.fact,
        herbs=_each(one.herbs + two.herbs),
        remedies=_each(one.remedies + two.remedies),
        days=one.days + two.days,
        text=_both(one.text, two.text),
        source=one.source if two.source in one.source else f"{one.source}; {two.source}",
        instead=_each(one.instead + two.instead),
    )


def _both(one: str, two: str) -> str:
    """Both texts; what they are about is not said twice."""
    facts, colon, said = two.partition(": ")
    if two in one:
        return one
    if colon and one.startswith(facts + colon):
        return f"{one} {said[:1].upper()}{said[1:]}"
    return f"{one} {two}"


def _each(values: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(values))


def unaccepted(found: Iterable[Finding], accepts: Iterable[Accept]) -> tuple[Finding, ...]:
    """The `avoid` findings that nobody decided to go ahead with; they stop publishing.

    A decision without a reason decides nothing.
    """
    decided = {one.finding for one in accepts if one.reason.strip()}
    return tuple(one for one in found if one.severity is Severity.AVOID and one.id not in decided)
