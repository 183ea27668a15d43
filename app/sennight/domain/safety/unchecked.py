"""Facts in words that no record knows, and names that could be several things: not checked.

A fact that nobody can check is told, so that somebody looks it up: what is not found counts as
nothing everywhere else.
"""

from __future__ import annotations

from collections.abc import Iterator

from sennight.domain.client_facts.spelling import plain_words
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.stretches import Layout
from sennight.domain.safety.facts import ALLERGY_TO_IT, ClientFacts, plain_span
from sennight.domain.safety.finding_rules import FactUnchecked
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import AllergyToWhich, MayBeEither, NotInRecords
from sennight.domain.safety.uses import meeting, remedy_days


def unchecked(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    """A caution for each fact without a record, a note for each name that is not clear."""
    client = facts.client
    for fact in (*client.conditions, *client.medicines, *client.allergies):
        if fact.tag == ALLERGY_TO_IT:
            yield _finding(layout, fact, Severity.CAUTION, AllergyToWhich())
        elif not fact.is_known:
            name = fact.label(facts.rules.words)
            yield _finding(layout, fact, Severity.CAUTION, NotInRecords(name))
        elif either := _either(fact, facts):
            name = fact.label(facts.rules.words)
            yield _finding(layout, fact, Severity.NOTE, MayBeEither(name, either))


def _either(fact: Fact, facts: ClientFacts) -> tuple[str, ...]:
    """What an unclear name may stand for, in words; nothing for a clear one."""
    records = facts.rules.records
    medicine = () if fact.classes else records.medicine_meaning(fact.tag).either
    tags = medicine or records.condition_meaning(fact.tag).either
    return tuple(records.label(tag) or tag for tag in tags)


def _finding(
    layout: Layout,
    fact: Fact,
    severity: Severity,
    statement: AllergyToWhich | NotInRecords | MayBeEither,
) -> Finding:
    remedies, days = meeting(remedy_days(layout), (plain_span(fact),))
    name = fact.name or fact.tag
    return Finding(
        severity=severity,
        rule=FactUnchecked("-".join(plain_words(name)) or "name"),
        fact=name,
        herbs=(),
        remedies=remedies,
        days=days,
        statements=(statement,),
    )
