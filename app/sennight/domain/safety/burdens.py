"""What adds up over herbs: their number, and milligrams of a constituent a day.

Amounts of herbs that are taken on different days of one run count together, and as-needed doses
in full, so a sum may overstate, never understate. Rubs are not taken, so they count in numbers
of herbs alone. A herb whose content is not known is named, never guessed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from sennight.domain.amounts import rounded
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.intakes import intakes
from sennight.domain.exposure.runs import Intake
from sennight.domain.herbs.general_rules import BurdenLimit
from sennight.domain.herbs.herbs import Level, MateriaMedica, Presence
from sennight.domain.safety.facts import ClientFacts
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import CountRule, Group, LimitRule
from sennight.domain.safety.uses import Use, meeting
from sennight.domain.tag_words import lower_first

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
    herbs: dict[str, str] = {}
    for first, end in pairwise(edges):
        then = [use for use in group if _taken_on(use, Span(first, end))]
        if len(then) >= rule.count:
            days.append(Span(first, end))
            herbs |= {use.herb.id: use.herb.name for use in then}
    taken = {r: d for use in group if use.herb.id in herbs for r, d in use.all.items()}
    return Finding(
        severity=SEVERITY_OF[rule.level],
        id=f"burden.{rule.id}.{rule.count}",
        fact="",
        herbs=tuple(herbs),
        remedies=meeting(taken, days)[0],
        days=tuple(days),
        text=_together(tuple(herbs.values()), rule.text),
        source=str(rule.origin),
    )


def _together(names: Sequence[str], said: str) -> str:
    others = [lower_first(name) for name in names[1:]]
    together = " together" if others else ""
    return f"{listed([*names[:1], *others])}{together}: {said}."


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
        sums, of = list(_sums(parts)), facts.rules.words.label(constituent)
        for rule in facts.rules.limits:
            ceiling = _ceiling(materia_medica, rule) if rule.constituent == constituent else None
            if ceiling:
                yield from _passed(rule, ceiling, sums, group, of=of)
                yield from _untold(rule, ceiling, parts, group, of=of)


def _counted(found: Sequence[Use], constituent: str) -> list[Use]:
    """The herbs by mouth that hold more than traces of it."""
    group = Group(constituent=constituent, least=Presence.LOW)
    return [use for use in found if use.oral and group.holds(use.herb)]


def _ceiling(materia_medica: MateriaMedica, rule: LimitRule) -> BurdenLimit | None:
    burden = materia_medica.burdens.get(rule.constituent)
    return (
        next((one for one in burden.limits if one.value == rule.value), None) if burden else None
    )


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
    rule: LimitRule,
    ceiling: BurdenLimit,
    sums: Sequence[_Sum],
    group: Sequence[Use],
    *,
    of: str,
) -> Iterator[Finding]:
    """Where what the herbs hold passes the ceiling, surely or perhaps."""
    limit = _limit_words(rule, ceiling)
    surely = [one for one in sums if one.low > rule.value]
    perhaps = [one for one in sums if one.high > rule.value]
    if surely:
        most = rounded(max(one.low for one in surely), 0)
        said = f"A day's herbs contain {most} mg of {of} or more, over {limit}"
        yield _with_less(_burden(rule, ceiling, surely, group, level=rule.surely, said=said))
    elif perhaps and rule.perhaps:
        most = rounded(max(one.high for one in perhaps), 0)
        said = (
            f"The content varies: a day's herbs may contain up to {most} mg of {of}, over {limit}"
        )
        yield _with_less(_burden(rule, ceiling, perhaps, group, level=rule.perhaps, said=said))


def _limit_words(rule: LimitRule, ceiling: BurdenLimit) -> str:
    return f"{rounded(rule.value, 0)} {ceiling.unit.replace('/day', ' a day')}"


def _with_less(one: Finding) -> Finding:
    return replace(one, instead=("Give less, or fewer of these herbs at once.",))


def _untold(
    rule: LimitRule,
    ceiling: BurdenLimit,
    parts: Sequence[_Part],
    group: Sequence[Use],
    *,
    of: str,
) -> Iterator[Finding]:
    """Herbs whose content in these forms is not known, so that nothing can be summed."""
    if not rule.perhaps:
        return
    for use in group:
        missing = [one for one in parts if one.herb == use.herb.id and one.low is None]
        days = [_Sum(one.span, ZERO, ZERO, (one.herb,)) for one in missing]
        limit = _limit_words(rule, ceiling)
        said = (
            f"{use.herb.name} contains {of}, but how much in this form is not recorded, so it "
            f"is not counted against {limit}"
        )
        if days:
            yield _burden(rule, ceiling, days, [use], level=Level.MONITOR, said=said)


def _burden(
    rule: LimitRule,
    ceiling: BurdenLimit,
    sums: Sequence[_Sum],
    group: Sequence[Use],
    *,
    level: Level,
    said: str,
) -> Finding:
    herbs = tuple(dict.fromkeys(herb for one in sums for herb in one.herbs))
    days = tuple(one.span for one in sums)
    taken = {r: d for use in group if use.herb.id in herbs for r, d in use.oral.items()}
    return Finding(
        severity=SEVERITY_OF[level],
        id=f"burden.{rule.constituent}.{rounded(rule.value, 3)}",
        fact="",
        herbs=herbs,
        remedies=meeting(taken, days)[0],
        days=days,
        text=f"{said} ({lower_first(ceiling.text)}).",
        source=str(ceiling.origin),
    )
