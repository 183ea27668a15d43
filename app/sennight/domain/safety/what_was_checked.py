"""What a safety check looked at, in words: no finding is not clearance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sennight.domain.courses.clients import Topic
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.safety.uses import remedies_given

NOT_CLEARANCE = "Finding nothing does not mean it is safe: what is not recorded cannot be found."


def scope_text(layout: Layout, materia_medica: MateriaMedica, rules: SafetyRules) -> str:
    """What was checked, against which data of which date, and what was not known.

    Remedies that no phase has, and those that were stopped, are not checked and not counted.
    """
    course, remedy_ids = layout.course, remedies_given(layout)
    client = course.client
    kinds = (
        (len(client.conditions), Topic.CONDITIONS),
        (len(client.medicines), Topic.MEDICINES),
        (len(client.allergies), Topic.ALLERGIES),
        (len(client.standing_reactions), Topic.REACTIONS),
    )
    age = "" if client.born else " No date of birth is recorded, so ages were not checked."
    herbs = {
        ingredient.herb
        for remedy_id in remedy_ids
        for ingredient in course.remedy(remedy_id).ingredients
    }
    known = sum(1 for herb in herbs if materia_medica.herb(herb))
    missing = (
        f" ({counted(len(herbs) - known, 'herb')} without a record)" if known < len(herbs) else ""
    )
    rule_count = sum(map(len, (rules.herb_rules.every, rules.counts, rules.limits)))
    return (
        f"Checked: {counted(len(herbs), 'herb')}{missing}"
        f"{_facts(kinds, client.asked)}{age} Records used: {len(materia_medica.herbs)} herbs and "
        f"substances and {counted(rule_count, 'rule')}, as of {plain_date(rules.as_of)}. "
        f"{NOT_CLEARANCE}"
    )


def checked_for_client() -> str:
    """The same in a sentence for the client."""
    return (
        "We checked this course against what you have told us. No check finds everything: "
        "tell us about anything new."
    )


_ONE_OF: Mapping[Topic, str] = {
    Topic.CONDITIONS: "condition",
    Topic.MEDICINES: "medicine",
    Topic.ALLERGIES: "allergy",
    Topic.REACTIONS: "reaction",
}


def _facts(kinds: Sequence[tuple[int, Topic]], asked: Sequence[Topic]) -> str:
    """What is recorded of the client, what was asked for and is not there, what was not asked."""
    there = [
        f"{number} {_ONE_OF[topic] if number == 1 else topic}" for number, topic in kinds if number
    ]
    none = [str(topic) for number, topic in kinds if not number and topic in asked]
    unasked = [str(topic) for number, topic in kinds if not number and topic not in asked]
    return "".join(
        (
            f" against {listed(there)}." if there else ".",
            f" Asked, and none: {listed(none)}." if none else "",
            f" Not asked yet: {listed(unasked)}." if unasked else "",
        )
    )
