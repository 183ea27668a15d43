"""Client's facts that meet herbs: cautions, groups of herbs, ages, allergies, reactions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.herbs.herbs import Caution, Herb, Level, Presence
from sennight.domain.herbs.sources import Origin
from sennight.domain.safety.facts import (
    ALLERGY_TO_IT,
    EVER,
    UNDER,
    ClientFacts,
    plain_span,
    stop_before,
)
from sennight.domain.safety.findings import REFER, SEVERITY_OF, Finding, Severity
from sennight.domain.safety.rules import CautionRule
from sennight.domain.safety.uses import RemedyDays, Use, chosen, meeting
from sennight.domain.tag_words import lower_first

INTERNAL = "internal-use"
SURGERY = "planned-surgery"
UNEXPLAINED = {
    Level.CONTRAINDICATED: "Recorded as contraindicated",
    Level.AVOID: "Recorded as one to avoid",
    Level.REFER: "Recorded as one to ask a doctor about",
    Level.CAUTION: "Recorded as one to use with caution",
    Level.MONITOR: "Recorded as one to watch",
    Level.SEPARATE: "Recorded as one to keep apart",
    Level.INFO: "Ask us about it",
}
"""For a caution of an own herb that was entered without words."""
ALWAYS_ON_SKIN = ("pregnancy", "lactation")
_TELLS_THE_FACT = ("Not with ", "Not in ", "Not while ", "Not where ", "Not for ", "Not under ")
"""How texts begin that name the client's fact themselves."""


def words_of(said: Caution | CautionRule) -> str:
    """What is said, or in its place how strongly, where it was entered without words."""
    return said.text or UNEXPLAINED[said.level]


def said_of(name: str, fact: str, said: str) -> str:
    """What is said of a herb with a fact, as a sentence that names the fact once."""
    facts = name if said.startswith(_TELLS_THE_FACT) else f"{name} {fact}"
    return f"{facts}: {lower_first(said)}."


def cautions_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """What a herb's own record says of this client."""
    told = facts.rules.told_tags
    for one in use.herb.all_cautions:
        if one.tag == INTERNAL:
            yield _met(use.herb, one, use.oral, (EVER,), facts)
        elif one.tag in facts.facts and one.tag not in told and _is_plain(one):
            taken = _in_forms(use, one, relevant(use, one.tag, facts))
            days = facts.days(one.tag, use.herb)
            yield _met(use.herb, one, taken, days, facts)


def _in_forms(use: Use, said: Caution, taken: RemedyDays) -> RemedyDays:
    """The remedies that hold the herb in a form that something is said of."""
    if not said.forms:
        return taken
    return chosen(taken, lambda remedy: bool(use.forms.get(remedy, frozenset()) & {*said.forms}))


def _is_plain(said: Caution) -> bool:
    """Whether it is a finding, and not about hours or age, which have shapes of their own."""
    has_shape = said.level is Level.SEPARATE or said.tag.startswith(UNDER)
    return said.level in SEVERITY_OF and not has_shape


def relevant(use: Use, tag: str, facts: ClientFacts) -> RemedyDays:
    """The remedies for which a tag matters: those on the skin only where it is about the skin.

    What is said of a herb for the skin alone is about the skin.
    """
    on_skin = use.is_for_skin or tag in facts.rules.rub_tags or tag in ALWAYS_ON_SKIN
    return use.all if on_skin else use.oral


def _met(
    herb: Herb,
    said: Caution | CautionRule,
    taken: RemedyDays,
    spans: Iterable[Span],
    facts: ClientFacts,
) -> Finding:
    remedies, days = meeting(taken, spans)
    text = said_of(herb.name, facts.rules.words.phrase(said.tag), words_of(said))
    if said.level is Level.REFER:
        text = f"{text} {REFER}"
    return Finding(
        severity=SEVERITY_OF[said.level],
        id=f"meets.{herb.id}.{said.tag}",
        fact="" if said.tag == INTERNAL else said.tag,
        herbs=(herb.id,),
        remedies=remedies,
        days=days,
        text=text,
        source=str(said.origin),
    )


@lru_cache(maxsize=1024)
def own_tags(herb: Herb) -> frozenset[str]:
    """The facts of which a herb's own record speaks."""
    return frozenset(one.tag for one in herb.all_cautions if one.level in SEVERITY_OF)


def groups_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """What speaks against the groups that a herb belongs to, where its own record is silent."""
    for rule in group_rules(use.herb, facts):
        days = facts.days(rule.tag, use.herb)
        yield _met(use.herb, rule, relevant(use, rule.tag, facts), days, facts)


def group_rules(herb: Herb, facts: ClientFacts) -> Iterator[CautionRule]:
    """The rules for a herb's groups that this client meets; of one group the first holds."""
    spoken = own_tags(herb)
    seen: set[tuple[str, str]] = set()
    for rule in facts.rules.meets:
        key = rule.tag, rule.group.constituent or rule.group.action or rule.group.family
        silent = rule.tag in facts.facts and rule.tag not in spoken
        if silent and key not in seen and rule.group.holds(herb):
            seen.add(key)
            yield rule


def surgery_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """Any herb before an operation, with the day on which it is stopped."""
    general = facts.rules.surgery
    if not general or SURGERY not in facts.facts:
        return
    before = stop_before(use.herb, facts.rules)
    spans = facts.days(SURGERY, use.herb)
    remedies, days = meeting(use.all, spans)
    fact = facts.rules.words.phrase(SURGERY)
    said = f"leave it out for the {counted(before, 'day')} before"
    yield Finding(
        severity=Severity.CAUTION,
        id=f"meets.{use.herb.id}.{SURGERY}",
        fact=SURGERY,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=days,
        text=f"{use.herb.name} {fact}: {said}. {general.text}.",
        source=str(general.origin),
        instead=tuple(
            f"Take the last dose before {plain_date(span.first)}."
            for span in spans
            if span.first > EVER.first and days
        ),
    )


def allergies_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A herb that the client is allergic to, or a constituent of it."""
    yield from _allergy_to_it(use, facts)
    for one in use.herb.constituents if facts.client.allergies else ():
        allergies = [fact for fact in facts.client.allergies if fact.tag == one.tag]
        remedies, days = meeting(use.all, [facts.span(f, one.tag, use.herb) for f in allergies])
        yield Finding(
            severity=Severity.CAUTION if one.presence is Presence.TRACE else Severity.AVOID,
            id=f"meets.{use.herb.id}.{one.tag}",
            fact=one.tag,
            herbs=(use.herb.id,),
            remedies=remedies,
            days=days,
            text=(
                f"{use.herb.name} contains {facts.rules.words.label(one.tag)}, to which the "
                "client is allergic."
            ),
            source=str(one.origin),
        )


def _allergy_to_it(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """An allergy to the herb itself, with what its record says of that."""
    allergies = [fact for fact in facts.client.allergies if fact.tag == use.herb.id]
    if not allergies:
        return
    days = tuple(map(plain_span, allergies))
    told = next((one for one in use.herb.all_cautions if one.tag == ALLERGY_TO_IT), None)
    if told is not None:
        yield replace(_met(use.herb, told, use.all, days, facts), severity=Severity.AVOID)
        return
    remedies, met = meeting(use.all, days)
    yield Finding(
        severity=Severity.AVOID,
        id=f"meets.{use.herb.id}.{ALLERGY_TO_IT}",
        fact=ALLERGY_TO_IT,
        herbs=(use.herb.id,),
        remedies=remedies,
        days=met,
        text=f"{use.herb.name}: the client is allergic to it.",
        source="The practice's own record of the client's allergies",
    )


def age_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A client who is younger than a herb is meant for."""
    taken = use.all
    on_skin = use.herb.min_age_skin or use.herb.min_age
    for used, least in ((use.oral, use.herb.min_age), (use.topical, on_skin)):
        age = str(int(least.value)) if least.value >= 1 else "6 months"
        remark = f" ({lower_first(least.text)})" if least.text else ""
        text = f"{use.herb.name}: for people aged {age} and over{remark}."
        yield _age(use, meeting(used, facts.under(least.value)), text, least.origin)
    for one in use.herb.all_cautions:
        if one.tag.startswith(UNDER) and one.level in SEVERITY_OF:
            years = int(one.tag.removeprefix(UNDER))
            remedies, days = meeting(taken, facts.under(Fraction(years)))
            text = said_of(use.herb.name, f"under {years}", words_of(one))
            yield _age(use, (remedies, days), text, one.origin)


def _age(
    use: Use, met: tuple[tuple[str, ...], tuple[Span, ...]], text: str, origin: Origin
) -> Finding:
    remedies, days = met
    return Finding(
        severity=Severity.AVOID,
        id=f"age.{use.herb.id}",
        fact="age",
        herbs=(use.herb.id,),
        remedies=remedies,
        days=days,
        text=text,
        source=str(origin),
    )


def reactions_met(use: Use, facts: ClientFacts) -> Iterator[Finding]:
    """A herb that is suspected of a reaction that this client had."""
    for one in facts.client.reactions:
        if use.herb.id in one.herbs:
            remedies, days = meeting(use.all, (Span(one.day, EVER.end),))
            yield reaction_finding(use.herb.id, use.herb.name, (remedies, days), one.what)


def reaction_finding(
    herb: str, name: str, met: tuple[tuple[str, ...], tuple[Span, ...]], what: str
) -> Finding:
    """The finding that a recorded reaction makes of its herb for good."""
    remedies, days = met
    return Finding(
        severity=Severity.AVOID,
        id=f"reaction.{herb}",
        fact="reaction",
        herbs=(herb,),
        remedies=remedies,
        days=days,
        text=f"{name} is suspected of a reaction that this client had: {what.rstrip('.')}.",
        source="The practice's own record of the client's reactions",
    )
