"""What a safety check looked at, in words: no finding is not clearance."""

from __future__ import annotations

from sennight.domain.courses import Course
from sennight.domain.herbs import MateriaMedica
from sennight.domain.plain_words import counted, listed, plain_date
from sennight.domain.safety_rules import SafetyRules

NOT_CLEARANCE = "No finding is not clearance: what is not recorded cannot be met."


def checked_words(course: Course, held: MateriaMedica, rules: SafetyRules) -> str:
    """What was checked, against which data of which date, and what was not known."""
    client = course.client
    kinds = (
        (len(client.conditions), "condition"),
        (len(client.medicines), "medicine"),
        (len(client.allergies), "allergy"),
        (len(client.reactions), "reaction"),
    )
    facts = listed([_number(number, noun) for number, noun in kinds])
    age = "the date of birth" if client.born else "no date of birth, so ages were not checked"
    herbs = {one.herb for remedy in course.remedies for one in remedy.ingredients}
    known = sum(1 for herb in herbs if held.herb(herb))
    missing = (
        f" ({counted(len(herbs) - known, 'herb')} without a record)" if known < len(herbs) else ""
    )
    rule_count = sum(
        map(len, (rules.meets, rules.liquor, rules.counts, rules.limits, rules.apart))
    )
    return (
        f"Checked: {counted(len(herbs), 'herb')}{missing} against {facts}, and {age}; by the "
        f"records of {counted(len(held.herbs), 'herb')} and {counted(rule_count, 'rule')} as of "
        f"{plain_date(rules.as_of)}. {NOT_CLEARANCE}"
    )


def checked_for_client(rules: SafetyRules) -> str:
    """The same in a sentence for the client."""
    return (
        "We checked this course against what we know of you, by the records of the herbs as of "
        f"{plain_date(rules.as_of)}. No check finds everything: tell us whatever is new."
    )


def _number(number: int, noun: str) -> str:
    if noun == "allergy" and number != 1:
        noun = "allergie"
    return counted(number, noun) if number else f"no {noun}s"
