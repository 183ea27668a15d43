"""Ethanol in tinctures: for whom it is left out, and how much one dose gives."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.exposure.ethanol import EthanolRow, ethanol_rows
from sennight.domain.safety.facts import UNDER, ClientFacts
from sennight.domain.safety.finding_rules import EthanolInDose, EthanolWithFact
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.rules import DoseLimit, EthanolRule
from sennight.domain.safety.statements import (
    EthanolDose,
    EthanolSpokenAgainst,
    FormWithoutEthanol,
    LessInOneDose,
)
from sennight.domain.safety.uses import chosen, meeting, remedy_days

USUAL_WEIGHT = Fraction(60)
"""kg taken where the weight is not known: common practice, a light adult."""


def ethanol_findings(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    """What speaks against the ethanol of the course's tinctures."""
    rows = [row for row in ethanol_rows(layout) if row.strength is None or row.strength > 0]
    if rows:
        for rule in facts.rules.liquor:
            if rule.tag in facts.facts or rule.tag.startswith(UNDER):
                yield _met(layout, rule, rows, facts)
        for limit in facts.rules.dose_limits:
            yield _dose(limit, rows, facts)


def _met(layout: Layout, rule: EthanolRule, rows: list[EthanolRow], facts: ClientFacts) -> Finding:
    spans: tuple[Span, ...]
    if rule.tag.startswith(UNDER):
        spans = facts.under(Fraction(int(rule.tag.removeprefix(UNDER))))
    else:
        spans = facts.plain_days(rule.tag)
    tinctures = {row.remedy for row in rows}
    remedies, days = meeting(chosen(remedy_days(layout), tinctures.__contains__), spans)
    return Finding(
        severity=SEVERITY_OF[rule.level],
        rule=EthanolWithFact(rule.tag),
        fact="age" if rule.tag.startswith(UNDER) else rule.tag,
        herbs=(),
        remedies=remedies,
        days=days,
        statements=(EthanolSpokenAgainst(rule.tag, rule.text, rule.origin),),
        steps=(FormWithoutEthanol(),),
    )


def _dose(limit: DoseLimit, rows: list[EthanolRow], facts: ClientFacts) -> Finding:
    weight = facts.client.weight_kg or USUAL_WEIGHT
    over = [row for row in rows if row.per_dose and row.per_dose * 1000 > limit.mg_per_kg * weight]
    remedies = tuple(dict.fromkeys(row.remedy for row in over))
    most = max((row.per_dose * 1000 / weight for row in over if row.per_dose), default=weight)
    assumed = None if facts.client.weight_kg else weight
    return Finding(
        severity=SEVERITY_OF[limit.level],
        rule=EthanolInDose(limit.mg_per_kg),
        fact="",
        herbs=(),
        remedies=remedies,
        days=tuple(row.span for row in over),
        statements=(EthanolDose(most, assumed, limit.text, limit.origin),),
        steps=(LessInOneDose(),),
    )
