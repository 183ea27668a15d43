"""Facts in words that no record knows, and names that could be several things: not checked.

A fact that nobody can check is told, so that somebody looks it up: what is not found counts as
nothing everywhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from sennight.domain.client_facts.spelling import plain_words
from sennight.domain.courses.clients import Fact
from sennight.domain.courses.stretches import Layout
from sennight.domain.safety.facts import ALLERGY_TO_IT, ClientFacts, plain_span
from sennight.domain.safety.finding_rules import FactUnchecked
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.statements import AllergyToWhich, MayBeEither, NotInRecords
from sennight.domain.safety.uses import meeting, remedy_days

_WEIGHED = re.compile(r"\d+(?:\.\d+)?\s*(?:mgs?|milligrams?)(?:\s.*)?", re.IGNORECASE)


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
    if _is_swallowed(fact, medicine, facts):
        return ()
    tags = medicine or records.condition_meaning(fact.tag).either
    return tuple(records.label(tag) or tag for tag in tags)


def _is_swallowed(fact: Fact, either: tuple[str, ...], facts: ClientFacts) -> bool:
    """Whether the dose says which is meant: only what is swallowed is dosed in mg alone."""
    medicines = facts.rules.records.medicines
    swallowed = [tag for tag in either if tag in medicines and medicines[tag].by_mouth]
    others = [tag for tag in either if tag in medicines and not medicines[tag].by_mouth]
    is_weighed = _WEIGHED.fullmatch(fact.dose.strip()) is not None
    return is_weighed and len(swallowed) == 1 and len(swallowed) + len(others) == len(either)


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
