"""What adds up over herbs: their number, and milligrams of a constituent a day.

Amounts of herbs that are taken on different days of one run count together, and as-needed doses
in full, so a sum may overstate, never understate. Rubs are not taken, so they count in numbers
of herbs alone. A herb whose content is not known is not counted, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.exposure.intakes import intakes
from sennight.domain.exposure.runs import Intake
from sennight.domain.herbs.herbs import Level, MateriaMedica, Presence
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.finding_rules import ConstituentCeiling, HerbNumber
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import CountRule, Group, LimitRule
from sennight.domain.safety.statements import (
    AddsUp,
    Ceiling,
    CeilingPassed,
    GiveLess,
)
from sennight.domain.safety.uses import Use, meeting

ZERO = Fraction(0)


# Numbers of herbs


def count_findings(found: Sequence[Use], facts: ClientFacts) -> Iterator[Finding]:
    """Several herbs of a group on the same days."""
    for rule in facts.rules.counts:
        group = [use for use in found if rule.group.holds(use.herb)]
        if len(group) >= rule.count:
            yield _count(rule, group)


def _count(rule: CountRule, group: Sequence[Use]) -> Finding:
    spans = [span for use in group for runs in use.all.values() for span in runs]
    edges = sorted({edge for span in spans for edge in (span.first, span.end)})
    days: list[Span] = []
    herbs: dict[str, None] = {}
    for first, end in pairwise(edges):
        then = [use for use in group if _taken_on(use, Span(first, end))]
        if len(then) >= rule.count:
            days.append(Span(first, end))
            herbs |= {use.herb.id: None for use in then}
    taken = {r: d for use in group if use.herb.id in herbs for r, d in use.all.items()}
    return Finding(
        severity=SEVERITY_OF[rule.level],
        rule=HerbNumber(rule.id, rule.count),
        fact="",
        herbs=tuple(herbs),
        remedies=meeting(taken, days)[0],
        days=tuple(days),
        statements=(AddsUp(tuple(herbs), rule.text, rule.origin),),
    )


def _taken_on(use: Use, span: Span) -> bool:
    return any(span.touches(run) for runs in use.all.values() for run in runs)


# Milligrams a day


@dataclass(frozen=True, slots=True)
class _Part:
    """mg a day that one herb of one stretch holds; `low` is None where that is not known."""

    span: Span
    herb: str
    low: Fraction | None
    high: Fraction


@dataclass(frozen=True, slots=True)
class _Sum:
    """What a run of days holds of a constituent, in mg a day, from least to most."""

    span: Span
    low: Fraction
    high: Fraction
    herbs: tuple[str, ...]


def amount_findings(
    layout: Layout, found: Sequence[Use], materia_medica: MateriaMedica, facts: ClientFacts
) -> Iterator[Finding]:
    """Constituents whose sum passes a ceiling, or may pass it."""
    constituents = dict.fromkeys(rule.constituent for rule in facts.rules.limits)
    holding = {one: group for one in constituents if (group := _counted(found, one))}
    wanted = {use.herb.id for group in holding.values() for use in group}
    taken = [one for one in intakes(layout) if one.herb in wanted] if wanted else []
    for constituent, group in holding.items():
        herbs = {use.herb.id for use in group}
        parts = [_part(one, constituent, facts) for one in taken if one.herb in herbs]
        sums = list(_sums(parts))
        for rule in facts.rules.limits:
            ceiling = _ceiling(materia_medica, rule) if rule.constituent == constituent else None
            if ceiling:
                yield from _passed(rule, ceiling, sums, group)


def _counted(found: Sequence[Use], constituent: str) -> list[Use]:
    """The herbs by mouth that hold more than traces of it."""
    group = Group(constituent=constituent, least=Presence.LOW)
    return [use for use in found if use.oral and group.holds(use.herb)]


def _ceiling(materia_medica: MateriaMedica, rule: LimitRule) -> Ceiling | None:
    burden = materia_medica.burdens.get(rule.constituent)
    for one in burden.limits if burden else ():
        if one.value == rule.value:
            return Ceiling(rule.constituent, rule.value, one.unit, one.text, one.origin)
    return None


def _part(one: Intake, constituent: str, facts: ClientFacts) -> _Part:
    """What an intake holds of a constituent; nothing is known where no content is held."""
    for content in facts.rules.contents:
        fits = (content.constituent, content.herb) == (constituent, one.herb)
        if fits and one.key.form in content.forms and not one.amount.unknown:
            grams = one.amount.high
            return _Part(one.span, one.herb, grams * content.low, grams * content.high)
    return _Part(one.span, one.herb, None, ZERO)


def _sums(parts: Sequence[_Part]) -> Iterator[_Sum]:
    known = [one for one in parts if one.low is not None]
    edges = sorted({edge for one in known for edge in (one.span.first, one.span.end)})
    for first, end in pairwise(edges):
        then = [one for one in known if one.span.first <= first < one.span.end]
        low = sum((one.low for one in then if one.low), ZERO)
        high = sum((one.high for one in then), ZERO)
        yield _Sum(Span(first, end), low, high, tuple(one.herb for one in then))


def _passed(
    rule: LimitRule, ceiling: Ceiling, sums: Sequence[_Sum], group: Sequence[Use]
) -> Iterator[Finding]:
    """Where what the herbs hold passes the ceiling, surely or perhaps."""
    surely = [one for one in sums if one.low > rule.value]
    perhaps = [one for one in sums if one.high > rule.value]
    less = (GiveLess(),)
    if surely:
        passed = CeilingPassed(ceiling, max(one.low for one in surely), surely=True)
        yield replace(_burden(rule, passed, surely, group, level=rule.surely), steps=less)
    elif perhaps and rule.perhaps:
        passed = CeilingPassed(ceiling, max(one.high for one in perhaps), surely=False)
        yield replace(_burden(rule, passed, perhaps, group, level=rule.perhaps), steps=less)


def _burden(
    rule: LimitRule,
    statement: CeilingPassed,
    sums: Sequence[_Sum],
    group: Sequence[Use],
    *,
    level: Level,
) -> Finding:
    herbs = tuple(dict.fromkeys(herb for one in sums for herb in one.herbs))
    days = tuple(one.span for one in sums)
    taken = {r: d for use in group if use.herb.id in herbs for r, d in use.oral.items()}
    return Finding(
        severity=SEVERITY_OF[level],
        rule=ConstituentCeiling(rule.constituent, rule.value),
        fact="",
        herbs=herbs,
        remedies=meeting(taken, days)[0],
        days=days,
        statements=(statement,),
    )
