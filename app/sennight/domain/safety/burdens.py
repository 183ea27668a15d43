"""What adds up over herbs: their number, and milligrams of a constituent a day.

Amounts of herbs that are taken on different days of one run count together, and as-needed doses
in full, so a sum may overstate, never understate. Rubs are not taken, so they count in numbers
of herbs alone. A herb whose content is not known is not counted, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import chain, pairwise

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span, joined
from sennight.domain.exposure.intakes import intakes
from sennight.domain.exposure.runs import Amount, Intake, greatest
from sennight.domain.herbs.herbs import Level, MateriaMedica, Presence
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.finding_rules import ConstituentCeiling, HerbNumber
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import CountRule, Group, LimitRule
from sennight.domain.safety.statements import (
    AddsUp,
    Ceiling,
    CeilingPassed,
)
from sennight.domain.safety.steps import (
    GiveLess,
)
from sennight.domain.safety.uses import Use, meeting

ZERO = Fraction(0)


# Numbers of herbs


def count_findings(uses: Sequence[Use], facts: ClientFacts) -> Iterator[Finding]:
    """Several herbs of a group swallowed on the same days; what goes on the skin adds nothing."""
    for rule in facts.rules.counts:
        group = [use for use in uses if use.oral and rule.group.holds(use.herb)]
        if len(group) >= rule.count:
            yield _count(rule, group)


def _count(rule: CountRule, group: Sequence[Use]) -> Finding:
    days: list[Span] = []
    herbs: dict[str, None] = {}
    for span, current in _together(group):
        if len(current) >= rule.count:
            days.append(span)
            herbs |= dict.fromkeys(current)
    taken = {
        remedy: spans
        for use in group
        if use.herb.id in herbs
        for remedy, spans in use.oral.items()
    }
    return Finding(
        severity=SEVERITY_OF[rule.level],
        rule=HerbNumber(rule.id, rule.count),
        fact="",
        herbs=tuple(herbs),
        remedies=meeting(taken, days)[0],
        days=tuple(days),
        statements=(AddsUp(tuple(herbs), rule.text, rule.origin),),
    )


def _together(group: Sequence[Use]) -> Iterator[tuple[Span, list[str]]]:
    """The runs of days on which the same of these herbs are swallowed, and which they are."""
    changes: dict[date, set[int]] = {}
    for n, use in enumerate(group):
        for span in joined(tuple(chain(*use.oral.values()))):
            for edge in (span.first, span.end):
                changes.setdefault(edge, set()).add(n)
    current: set[int] = set()
    for first, end in pairwise(sorted(changes)):
        current ^= changes[first]  # joined spans of a herb never meet, so each edge turns it
        yield Span(first, end), [group[n].herb.id for n in sorted(current)]


# Milligrams a day


@dataclass(frozen=True, slots=True)
class _Part:
    """A day's amount of one herb of one stretch, and the mg that a gram of it holds.

    `low` is None where that is not known.
    """

    span: Span
    herb: str
    amount: Amount
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
    layout: Layout, uses: Sequence[Use], materia_medica: MateriaMedica, facts: ClientFacts
) -> Iterator[Finding]:
    """Constituents whose sum passes a ceiling, or may pass it."""
    constituents = dict.fromkeys(rule.constituent for rule in facts.rules.limits)
    holding = {
        constituent: group
        for constituent in constituents
        if (group := _counted(uses, constituent))
    }
    wanted = {use.herb.id for group in holding.values() for use in group}
    taken = [intake for intake in intakes(layout) if intake.herb in wanted] if wanted else []
    for constituent, group in holding.items():
        herbs = {use.herb.id for use in group}
        parts = [_part(intake, constituent, facts) for intake in taken if intake.herb in herbs]
        sums = list(_sums(parts))
        for rule in facts.rules.limits:
            ceiling = _ceiling(materia_medica, rule) if rule.constituent == constituent else None
            if ceiling:
                yield from _passed(rule, ceiling, sums, group)


def _counted(uses: Sequence[Use], constituent: str) -> list[Use]:
    """The herbs by mouth that hold more than traces of it."""
    group = Group(constituent=constituent, least=Presence.LOW)
    return [use for use in uses if use.oral and group.holds(use.herb)]


def _ceiling(materia_medica: MateriaMedica, rule: LimitRule) -> Ceiling | None:
    burden = materia_medica.burdens.get(rule.constituent)
    for limit in burden.limits if burden else ():
        if limit.value == rule.value:
            return Ceiling(rule.constituent, rule.value, limit.unit, limit.text, limit.origin)
    return None


def _part(intake: Intake, constituent: str, facts: ClientFacts) -> _Part:
    """What an intake holds of a constituent; nothing is known where no content is held."""
    for content in facts.rules.contents:
        fits = (content.constituent, content.herb) == (constituent, intake.herb)
        if fits and intake.key.form in content.forms and not intake.amount.unknown:
            return _Part(intake.span, intake.herb, intake.amount, content.low, content.high)
    return _Part(intake.span, intake.herb, intake.amount, None, ZERO)


def _sums(parts: Sequence[_Part]) -> Iterator[_Sum]:
    known = [part for part in parts if part.low is not None]
    edges = sorted({edge for part in known for edge in (part.span.first, part.span.end)})
    for first, end in pairwise(edges):
        current = [part for part in known if part.span.first <= first < part.span.end]
        low = greatest((part.amount, part.low or ZERO) for part in current)
        high = greatest((part.amount, part.high) for part in current)
        yield _Sum(Span(first, end), low, high, tuple(part.herb for part in current))


def _passed(
    rule: LimitRule, ceiling: Ceiling, sums: Sequence[_Sum], group: Sequence[Use]
) -> Iterator[Finding]:
    """Where what the herbs hold passes the ceiling, surely or perhaps."""
    surely = [total for total in sums if total.low > rule.value]
    perhaps = [total for total in sums if total.high > rule.value]
    less = (GiveLess(),)
    if surely:
        passed = CeilingPassed(ceiling, max(total.low for total in surely), surely=True)
        yield replace(_burden(rule, passed, surely, group, level=rule.surely), steps=less)
    elif perhaps and rule.perhaps:
        passed = CeilingPassed(ceiling, max(total.high for total in perhaps), surely=False)
        yield replace(_burden(rule, passed, perhaps, group, level=rule.perhaps), steps=less)


def _burden(
    rule: LimitRule,
    statement: CeilingPassed,
    sums: Sequence[_Sum],
    group: Sequence[Use],
    *,
    level: Level,
) -> Finding:
    herbs = tuple(dict.fromkeys(herb for total in sums for herb in total.herbs))
    days = tuple(total.span for total in sums)
    taken = {
        remedy: spans
        for use in group
        if use.herb.id in herbs
        for remedy, spans in use.oral.items()
    }
    return Finding(
        severity=SEVERITY_OF[level],
        rule=ConstituentCeiling(rule.constituent, rule.value),
        fact="",
        herbs=herbs,
        remedies=meeting(taken, days)[0],
        days=days,
        statements=(statement,),
    )
