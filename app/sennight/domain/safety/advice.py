"""What the client is told of single remedies, because of the herbs that they hold.

Advice that concerns everyone (driving, washing hands) follows from the herbs alone; what a text
only mentions follows from the herb and the client's fact.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import listed
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb, Level, MateriaMedica
from sennight.domain.remedies.contents import taken_as
from sennight.domain.remedies.form_facts import Taking
from sennight.domain.remedies.forms import Form, is_taken_by_mouth
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.facts import ClientFacts, client_facts
from sennight.domain.safety.for_client import ClientSentence, Place
from sennight.domain.safety.rules import AdviceRule, SafetyRules
from sennight.domain.safety.uses import remedies_given
from sennight.domain.safety.wording_statements import (
    words_of,
)
from sennight.domain.tag_words import lower_first, short_name, upper_first


def advice_sentences(
    layout: Layout, materia_medica: MateriaMedica, rules: SafetyRules
) -> tuple[ClientSentence, ...]:
    """Each sentence once, with the remedies that it is about, in the course's order."""
    facts = client_facts(layout.course.client, rules)
    taken = remedies_given(layout)
    remedies_of: dict[tuple[Place, str], list[Remedy]] = {}
    for remedy in layout.course.remedies:
        if remedy.id in taken:
            for placed in dict.fromkeys(_advice_on(remedy, materia_medica, facts)):
                remedies_of.setdefault(placed, []).append(remedy)
    return tuple(
        _sentence(place, says, remedies) for (place, says), remedies in remedies_of.items()
    )


INR_TAG, INR_THEME = "vitamin-k-antagonist", "clotting"
INR = (
    "tell the clinic that checks your INR about this, and have it checked within a week of "
    "starting, changing or stopping"
)
"""For whoever takes warfarin, with any herb: BNF on warfarin and herbal remedies, from memory."""


def inr_sentences(
    layout: Layout, rules: SafetyRules, notes: Collection[ClientSentence]
) -> Iterator[ClientSentence]:
    """That the INR is checked, for what is swallowed and of which no note says so already."""
    if INR_TAG not in client_facts(layout.course.client, rules).facts:
        return
    theme = rules.theme(INR_THEME)
    said = {
        remedy for note in notes if theme and note.says == theme.client for remedy in note.remedies
    }
    taken = remedies_given(layout)
    left = [
        remedy
        for remedy in layout.course.remedies
        if remedy.id in taken and remedy.id not in said and is_taken_by_mouth(remedy.form)
    ]
    if left:
        yield _sentence(Place.TESTS, f"{INR}.", left)


def _sentence(place: Place, says: str, remedies: list[Remedy]) -> ClientSentence:
    names = listed([remedy.name for remedy in remedies])
    ids = tuple(remedy.id for remedy in remedies)
    said = lower_first(says)
    return ClientSentence(place, said.removesuffix("."), f"{names}: {said}", ids)


def _advice_on(
    remedy: Remedy, materia_medica: MateriaMedica, facts: ClientFacts
) -> Iterator[tuple[Place, str]]:
    herbs = [
        herb for ingredient in remedy.ingredients if (herb := materia_medica.herb(ingredient.herb))
    ]
    for rule in facts.rules.advice:
        if _is_about(rule, remedy.form) and any(_is_told(rule, herb, facts) for herb in herbs):
            yield rule.place, rule.says
    forms: dict[str, frozenset[TakenAs]] = {}
    for ingredient in remedy.ingredients:
        held = taken_as(remedy.form, ingredient)
        forms[ingredient.herb] = forms.get(ingredient.herb, frozenset()) | held
    for herb in herbs:
        yield from ((Place.USE, says) for says in _mentioned(herb, facts, forms[herb.id]))


_TOLD_OF = {Taking.SWALLOWED: "oral", Taking.ON_SKIN: "rub", Taking.RINSED: "", Taking.INHALED: ""}


def _is_about(rule: AdviceRule, form: Form) -> bool:
    return rule.form in ("", _TOLD_OF[form.facts.taking])


def _is_told(rule: AdviceRule, herb: Herb, facts: ClientFacts) -> bool:
    """Whether a herb's record asks for it, and this client is one whom it concerns."""
    known = {*facts.facts, *facts.properties}
    is_mild = herb.id in rule.mild and rule.mild_with.isdisjoint(known)
    has_tag = any(caution.tag == rule.tag for caution in herb.all_cautions)
    return has_tag and not is_mild and rule.not_with.isdisjoint(known)


def _mentioned(herb: Herb, facts: ClientFacts, forms: frozenset[TakenAs]) -> Iterator[str]:
    """What a text says for this client without warning of it, of the forms that are taken."""
    for caution in herb.all_cautions:
        is_told = caution.tag in facts.rules.advice_tags
        is_of_form = not caution.forms or bool(forms.intersection(caution.forms))
        if (
            caution.level is Level.INFO
            and caution.tag in facts.facts
            and is_of_form
            and not is_told
        ):
            fact = upper_first(facts.rules.words.phrase(caution.tag))
            says = lower_first(words_of(caution.text, caution.level))
            yield f"It contains {lower_first(short_name(herb.name))}. {fact}: {says}."
