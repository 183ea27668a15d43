"""The remedies of a course file: a formula in one form."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.herbs.naming import HerbNames
from sennight.domain.remedies.forms import Composition, Form, composition_of
from sennight.domain.remedies.remedies import (
    DROPS_PER_ML,
    Filling,
    Ingredient,
    Method,
    Remedy,
    TeaMaking,
)
from sennight.publish.course_file.herbs import herb_called
from sennight.toml_tables import NAME, RATIO, Table, number, one_of, whole

DEFAULT_WATER_ML = 250
DEFAULT_MINUTES = {Method.INFUSION: 10, Method.DECOCTION: 15}
"""How long a tea draws or simmers where the file does not say: common practice."""

_COMMON = ("id", "name", "form", "parts")
_TEA = ("grams_per_cup", "water_ml", "method", "minutes")
_LARGEST = 100_000


def read_remedies(top: Table, herbs: HerbNames) -> tuple[Remedy, ...]:
    """The remedies in the file's order; `herbs` are the names that are known."""
    return tuple(_remedy(table, herbs) for table in top.tables("remedy"))


def _remedy(table: Table, herbs: HerbNames) -> Remedy:
    remedy_id = table.need("id", NAME)
    form = table.need("form", one_of(Form, Form.TEA))
    if table.report.has(*table.place, "form"):
        # Without its form a remedy's other keys cannot be judged.
        return Remedy(remedy_id, remedy_id, form, ())
    table.only(*_keys(composition_of(form)), of=f"a {form}")
    return Remedy(
        id=remedy_id,
        name=table.may("name", NAME, remedy_id),
        form=form,
        ingredients=tuple(
            _ingredient(part, form, herbs) for part in table.tables("parts", needed=True)
        ),
        tea=_tea(table) if composition_of(form) is Composition.BY_WEIGHT else None,
        drops_per_ml=table.may("drops_per_ml", number(0, 200), number(0, DROPS_PER_ML).blank),
    )


def _tea(table: Table) -> TeaMaking:
    method = table.may("method", one_of(Method, Method.INFUSION), Method.INFUSION)
    return TeaMaking(
        grams_per_cup=table.need("grams_per_cup", number(0, 1000)),
        water_ml=table.may("water_ml", number(0, 5000), number(0, DEFAULT_WATER_ML).blank),
        method=method,
        minutes=table.may("minutes", whole(1, 1440), DEFAULT_MINUTES[method]),
    )


def _ingredient(table: Table, form: Form, herbs: HerbNames) -> Ingredient:
    composition = composition_of(form)
    table.only(*_part_keys(composition), of=f"an ingredient of a {form}")
    herb = herb_called(table.need("herb", NAME), herbs, (*table.place, "herb"), table.report)
    match composition:
        case Composition.BY_WEIGHT:
            return Ingredient(herb, table.need("parts", number(0, _LARGEST)))
        case Composition.BY_VOLUME:
            parts = table.need("parts", number(0, _LARGEST))
            ethanol = table.need("ethanol", number(0, 100, from_there=True))
            return Ingredient(herb, parts, table.need("ratio", RATIO), ethanol)
        case Composition.BY_PIECE:
            filling = table.may("as", one_of(Filling, Filling.POWDER), Filling.POWDER)
            ratio = table.perhaps("ratio", RATIO)
            if ratio and filling is not Filling.EXTRACT:
                table.report.add((*table.place, "ratio"), "a ratio is for extracts alone")
            mg = table.need("mg", number(0, _LARGEST))
            return Ingredient(herb, ratio=ratio, mg=mg, filling=filling)
        case _:
            assert_never(composition)


def _keys(composition: Composition) -> tuple[str, ...]:
    """The keys of a remedy whose formula is written so."""
    match composition:
        case Composition.BY_WEIGHT:
            return (*_COMMON, *_TEA)
        case Composition.BY_VOLUME:
            return (*_COMMON, "drops_per_ml")
        case Composition.BY_PIECE:
            return _COMMON
        case _:
            assert_never(composition)


def _part_keys(composition: Composition) -> tuple[str, ...]:
    match composition:
        case Composition.BY_WEIGHT:
            return ("herb", "parts")
        case Composition.BY_VOLUME:
            return ("herb", "parts", "ratio", "ethanol")
        case Composition.BY_PIECE:
            return ("herb", "mg", "as", "ratio")
        case _:
            assert_never(composition)
