"""Findings' ids as headings for people: the herb and the fact, or what adds up."""

from __future__ import annotations

from sennight.domain.herbs.herbs import DurationKind, MateriaMedica
from sennight.domain.safety.rules import SafetyRules
from sennight.domain.tag_words import upper_first

ETHANOL = "ethanol"
_LENGTHS = {
    DurationKind.MAX_COURSE: "length of use",
    DurationKind.SEEK_ADVICE_AFTER: "when to seek advice",
    DurationKind.REVIEW_AFTER: "when to review",
}

_WITHOUT_HERB = {"flag": "Red flag", "unchecked": "Not checked"}


def heading(finding: str, materia_medica: MateriaMedica, rules: SafetyRules) -> str:
    """A heading for a finding's id: `Willow bark with anticoagulants`.

    An id of no known shape is given back as words.
    """
    kind, _, rest = finding.partition(".")
    one, _, two = rest.partition(".")
    words = rules.words
    if kind == "meets":
        return f"{_name(one, materia_medica)} {words.phrase(two)}"
    if kind == "hours":
        medicine = words.phrase(one).removeprefix("with ")
        return f"{_name(two, materia_medica)} and {medicine}: hours apart"
    if kind == "length":
        return f"{_name(one, materia_medica)}: {_length(two)}"
    if kind == "burden":
        return _burden(one, two, rules)
    if kind in _WITHOUT_HERB:
        return f"{_WITHOUT_HERB[kind]}: {words.label(rest).removeprefix('red flags: ')}"
    said = {"age": "age", "reaction": "an earlier reaction", "unknown": "no record"}.get(kind)
    return (
        f"{_name(rest, materia_medica)}: {said}"
        if said
        else upper_first(finding.replace(".", " "))
    )


def _name(herb: str, materia_medica: MateriaMedica) -> str:
    if herb == ETHANOL:
        return "Alcohol"
    known = materia_medica.herb(herb)
    return known.name if known else upper_first(herb.replace("-", " "))


def _length(kind: str) -> str:
    return _LENGTHS[DurationKind(kind)] if kind in _LENGTHS else "when to review"


def _burden(what: str, value: str, rules: SafetyRules) -> str:
    if what == ETHANOL:
        return "Alcohol in one dose"
    name = upper_first(rules.words.label(what))
    if any((one.id, str(one.count)) == (what, value) for one in rules.counts):
        return f"{name}: what adds up" if value != "1" else name
    return f"{name} in a day"
