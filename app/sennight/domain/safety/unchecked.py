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
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.uses import meeting, remedy_days

_SOURCE = "The practice's own record of the client"


def unchecked(layout: Layout, facts: ClientFacts) -> Iterator[Finding]:
    """A caution for each fact without a record, a note for each name that is not clear."""
    client = facts.client
    for fact in (*client.conditions, *client.medicines, *client.allergies):
        name = fact.label(facts.rules.words)
        if fact.tag == ALLERGY_TO_IT:
            text = "An allergy to a herb is recorded, but not to which: ask, and record the herb."
            yield _finding(layout, fact, Severity.CAUTION, text)
        elif not fact.is_known:
            text = f"{name} is not checked: look it up. No record goes by this name."
            yield _finding(layout, fact, Severity.CAUTION, text)
        elif either := _either(fact, facts):
            text = (
                f"{name} may be {' or '.join(either)}: ask which. Until it is known it counts "
                "as what asks for more care."
            )
            yield _finding(layout, fact, Severity.NOTE, text)


def _either(fact: Fact, facts: ClientFacts) -> tuple[str, ...]:
    """What an unclear name may stand for, in words; nothing for a clear one."""
    records = facts.rules.records
    medicine = () if fact.classes else records.medicine_meaning(fact.tag).either
    found = medicine or records.condition_meaning(fact.tag).either
    return tuple(records.label(tag) or tag for tag in found)


def _finding(layout: Layout, fact: Fact, severity: Severity, text: str) -> Finding:
    remedies, days = meeting(remedy_days(layout), (plain_span(fact),))
    return Finding(
        severity=severity,
        id=f"unchecked.{'-'.join(plain_words(fact.name or fact.tag)) or 'name'}",
        fact=fact.name or fact.tag,
        herbs=(),
        remedies=remedies,
        days=days,
        text=text,
        source=_SOURCE,
    )
