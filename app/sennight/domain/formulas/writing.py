"""Reads a formula as people write it: `birch 3, yarrow 2` or `yarrow 1:5 45% 30`.

An entry is a herb by any of its names with its amounts in any order; entries are parted by
commas, semicolons or line ends. What an entry does not say is the herb's usual. Parts may be
written as g or mL, which are parts of what they come to; in a base percent is by weight.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from sennight.domain.formulas.formulas import usual_ingredient
from sennight.domain.herbs.herbs import Herb, MateriaMedica
from sennight.domain.herbs.naming import HerbNames
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import Form, called
from sennight.domain.remedies.remedies import Ingredient

LARGEST = 100_000

_BETWEEN = re.compile(r"\s*(?:[;\n]|,(?!\d)|(?<!\d),)\s*")
_NUMBER = r"\d{1,6}(?:[.,]\d{1,6})?(?:/\d{1,6})?"
_AMOUNT = re.compile(
    rf"(?<![\w.,:/])(?:(?P<herb>{_NUMBER}):(?P<made>{_NUMBER})"
    rf"|(?P<number>{_NUMBER}) ?(?P<unit>%|mL|mg|g|drops?|gtt|parts?)?)(?![\w:/])",
    re.IGNORECASE,
)


class FormulaError(ValueError):
    """An entry that cannot be read; the message names it and says what was expected."""


@dataclass(frozen=True, slots=True)
class _Said:
    """What an entry says: amounts by the field of an ingredient that they belong to."""

    words: str
    amounts: dict[str, Fraction]


def read_formula(
    text: str, form: Form, names: HerbNames, materia_medica: MateriaMedica
) -> tuple[Ingredient, ...]:
    """The ingredients that a text names, in its order; raises FormulaError."""
    entries = [entry for entry in _BETWEEN.split(text.strip()) if entry]
    return tuple(_ingredient(entry, form, names, materia_medica) for entry in entries)


def _ingredient(
    entry: str, form: Form, names: HerbNames, materia_medica: MateriaMedica
) -> Ingredient:
    said = _said(entry, form)
    herb, filling = _herb(said.words, entry, form, names, materia_medica)
    changes: dict[str, Fraction | Filling | None] = dict(said.amounts)
    if "drops" in changes:
        filling, changes["percent"] = Filling.ESSENTIAL_OIL, None
    if filling:
        changes["filling"] = filling
    return replace(usual_ingredient(herb, form), **changes)  # type: ignore[arg-type]


# Amounts


def _said(entry: str, form: Form) -> _Said:
    amounts: dict[str, Fraction] = {}
    for field, value in _amounts(entry, form):
        if field in amounts:
            raise FormulaError(f"“{entry}” says its {_CALLED[field]} twice; expected one of them")
        if not (0 < value <= LARGEST or (field == "ethanol" and value == 0)):
            raise FormulaError(f"“{entry}”: expected {_CALLED[field]} above 0")
        if field in ("ethanol", "percent") and value > 100:
            raise FormulaError(f"“{entry}”: expected {_CALLED[field]} of at most 100 %")
        amounts[field] = value
    return _Said(" ".join(_AMOUNT.sub(" ", entry).split()), amounts)


_CALLED = {
    "parts": "parts",
    "ratio": "ratio",
    "ethanol": "strength",
    "mg": "mg",
    "percent": "percent",
    "drops": "drops",
}


def _amounts(entry: str, form: Form) -> Iterator[tuple[str, Fraction]]:
    """Each amount of an entry with the field that it is of in this form."""
    facts = form.facts
    for match in _AMOUNT.finditer(entry):
        if match["made"]:
            made, herb = _number(match["made"]), _number(match["herb"])
            fits = facts.has_ratio or facts.fillings
            field, value = "ratio" if fits else "", made / herb if herb else Fraction(0)
        else:
            value = _number(match["number"])
            field = _field((match["unit"] or "").lower().rstrip("s"), form)
        if not field:
            what = match[0].strip()
            raise FormulaError(f"“{entry}”: {called(form)} is not written with “{what}”")
        yield field, value


def _field(unit: str, form: Form) -> str:
    """Which amount a unit is in a form; nothing where it is none."""
    facts = form.facts
    fields = {
        Composition.BY_WEIGHT: {"": "parts", "part": "parts", "g": "parts", "%": "parts"},
        Composition.BY_VOLUME: {"": "parts", "part": "parts", "ml": "parts"},
        Composition.BY_PIECE: {"": "mg", "mg": "mg"},
        Composition.IN_BASE: {"": "percent", "%": "percent", "drop": "drops", "gtt": "drops"},
    }[facts.composition]
    if facts.composition is Composition.BY_VOLUME:
        fields |= {"%": "ethanol" if facts.has_ethanol else "parts"}
    return fields.get(unit, "")


def _number(text: str) -> Fraction:
    whole, _, part = text.replace(",", ".").partition("/")
    below = Fraction(part or 1)
    return Fraction(whole) / below if below else Fraction(0)


# Herbs


def _herb(
    words: str, entry: str, form: Form, names: HerbNames, materia_medica: MateriaMedica
) -> tuple[Herb, Filling | None]:
    """The herb of an entry, and as what it is in the formula, where that is said behind it."""
    found, filling = names.ids(words), None
    if not found and form.facts.fillings:
        for said in form.facts.fillings:
            name = words.lower().removesuffix(f" {str(said).replace('-', ' ')}")
            if len(name) < len(words):
                found, filling = names.ids(name), said
                break
    herbs = [herb for herb_id in found if (herb := materia_medica.herb(herb_id))]
    if len(herbs) > 1:
        several = " or ".join(herb.name for herb in herbs)
        raise FormulaError(f"“{words}” may be {several}; write which")
    if not herbs:
        raise FormulaError(f"no herb is called “{words or entry}”")
    return herbs[0], filling
