"""What a safety check looked at, in words: no finding is not clearance."""

from __future__ import annotations

from collections.abc import Sequence

from sennight.domain.courses.courses import Course
from sennight.domain.directions.plain_words import counted, listed, plain_date
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.safety.rules import SafetyRules

NOT_CLEARANCE = "No finding is not clearance: what is not recorded cannot be found."


def scope_text(course: Course, materia_medica: MateriaMedica, rules: SafetyRules) -> str:
    """What was checked, against which data of which date, and what was not known."""
    client = course.client
    kinds = (
        (len(client.conditions), "condition"),
        (len(client.medicines), "medicine"),
        (len(client.allergies), "allergy"),
        (len(client.reactions), "reaction"),
    )
    age = "" if client.born else " No date of birth is recorded, so ages were not checked."
    herbs = {one.herb for remedy in course.remedies for one in remedy.ingredients}
    known = sum(1 for herb in herbs if materia_medica.herb(herb))
    missing = (
        f" ({counted(len(herbs) - known, 'herb')} without a record)" if known < len(herbs) else ""
    )
    rule_count = sum(
        map(len, (rules.meets, rules.liquor, rules.counts, rules.limits, rules.apart))
    )
    return (
        f"Checked: {counted(len(herbs), 'herb')}{missing}{_facts(kinds)}{age} The check goes by "
        f"the records of {counted(len(materia_medica.herbs), 'herb')} and "
        f"{counted(rule_count, 'rule')}, "
        f"as of {plain_date(rules.as_of)}. {NOT_CLEARANCE}"
    )


def checked_for_client(rules: SafetyRules) -> str:
    """The same in a sentence for the client."""
    return (
        "We checked this course against what we know of you, by records of the herbs as of "
        f"{plain_date(rules.as_of)}. No check finds everything: tell us of anything new."
    )


def _facts(kinds: Sequence[tuple[int, str]]) -> str:
    """What is recorded of the client, then what is not."""
    there = [
        f"{number} {noun if number == 1 else _several(noun)}" for number, noun in kinds if number
    ]
    not_there = [_several(noun) for number, noun in kinds if not number]
    against = f" against {listed(there)}." if there else "."
    if not not_there:
        return against
    missing = " or ".join(
        [", ".join(not_there[:-1]), not_there[-1]] if not_there[1:] else not_there
    )
    return f"{against} No {missing} are recorded."


def _several(noun: str) -> str:
    return "allergies" if noun == "allergy" else f"{noun}s"
