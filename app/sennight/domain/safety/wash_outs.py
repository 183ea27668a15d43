"""Days between a medicine and a herb: after a medicine that ended, before one that begins.

A medicine or an enzyme that a herb drove up is still there for days. So a rule that says how many
holds so long beyond the medicine's own days. Operations have their own days (`facts`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

from sennight.domain.courses.clients import Fact
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.safety.facts import EVER, ClientFacts, plain_span
from sennight.domain.safety.finding_rules import HerbWithFact
from sennight.domain.safety.findings import SEVERITY_OF, Finding
from sennight.domain.safety.herb_rules import HerbRule
from sennight.domain.safety.rule_findings import active_rules, taken_for
from sennight.domain.safety.statements import (
    WashOut,
)
from sennight.domain.safety.steps import (
    LastDoseOn,
    NotBefore,
    Step,
)
from sennight.domain.safety.uses import Use, meeting


@dataclass(frozen=True, slots=True)
class _Between:
    """Days on which a herb is too near to a medicine, and how that is said."""

    span: Span
    statement: WashOut
    step: Step


def wash_outs_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A herb too soon after a medicine ended, or too shortly before one begins."""
    for rule, found in active_rules(use.herb, facts):
        for met in found:
            if met.tag not in facts.rules.counts_back:
                for fact in met.facts:
                    yield from _of_fact(use, rule, met.tag, fact, facts)


def _of_fact(
    use: Use, rule: HerbRule, tag: str, fact: Fact, facts: ClientFacts
) -> Iterator[Finding]:
    for between in _between(use, rule, fact, facts):
        remedies, days = meeting(taken_for(use, rule, tag, facts), (between.span,))
        if days:
            yield Finding(
                severity=SEVERITY_OF[rule.level],
                rule=HerbWithFact(use.herb.id, tag),
                fact=tag,
                herbs=(use.herb.id,),
                remedies=remedies,
                days=days,
                statements=(between.statement,),
                steps=(between.step,),
                met=(fact,),
            )


def _between(use: Use, rule: HerbRule, fact: Fact, facts: ClientFacts) -> Iterator[_Between]:
    held, herb, name = plain_span(fact), use.herb.id, facts.name(fact)
    if rule.days_before and fact.until:
        days = rule.days_before
        free = held.end + timedelta(min(days, (EVER.end - held.end).days))
        told = WashOut(herb, name, fact.until, days, rule.text, rule.origins, ended=True)
        yield _Between(Span(held.end, free), told, NotBefore(herb, free))
    if rule.days_after and fact.since:
        days = rule.days_after
        first = held.first - timedelta(min(days, (held.first - EVER.first).days - 1))
        told = WashOut(herb, name, fact.since, days, rule.text, rule.origins, ended=False)
        yield _Between(Span(first, held.first), told, LastDoseOn(herb, first - ONE_DAY, None))
