"""The remedies of a course file: a formula in one form, with the keys that its form has."""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.herbs.naming import HerbNames
from sennight.domain.remedies.contents import (
    has_drops_in_nothing,
    has_sugar_in_nothing,
    is_over_the_whole,
)
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import Form, called, composition_of, is_made_in_water
from sennight.domain.remedies.portions import (
    CONTAINER_BOUNDS,
    PACKET_UNITS,
    container_units,
    read_portion,
)
from sennight.domain.remedies.remedies import (
    DROPS_PER_ML,
    USUAL_SUGAR,
    Base,
    Ingredient,
    Method,
    Portion,
    Remedy,
    TeaMaking,
)
from sennight.publish.course_file.herbs import herb_called
from sennight.toml_tables import NAME, RATIO, Table, ValueKind, number, one_of, whole

DEFAULT_MINUTES = {Method.INFUSION: 10, Method.DECOCTION: 15, Method.MACERATION: 480}
"""How long herbs draw, simmer or stand where the file does not say: common practice."""

_COMMON = ("id", "name", "form", "parts", "container")
_LARGEST = 100_000
_WITH_RATIO = (Filling.EXTRACT, Filling.TINCTURE, Filling.INFUSED_OIL)


def read_remedies(top: Table, herbs: HerbNames) -> tuple[Remedy, ...]:
    """The remedies in the file's order; `herbs` are the names that are known."""
    return tuple(_remedy(table, herbs) for table in top.tables("remedy"))


def grams_key(form: Form) -> str:
    """The key of the grams for one making in water: `grams_per_cup`, `grams_per_bath`."""
    return f"grams_per_{form.facts.making}"


def usual_sugar(form: Form) -> Fraction:
    """Grams of sugar in 100 mL of the base where the file does not say."""
    return Fraction(USUAL_SUGAR if form.facts.has_sugar else 0)


def _remedy(table: Table, herbs: HerbNames) -> Remedy:
    remedy_id = table.need("id", NAME)
    form = table.need("form", one_of(Form, Form.TEA))
    if table.report.has(*table.place, "form"):
        # Without its form a remedy's other keys cannot be judged.
        return Remedy(remedy_id, remedy_id, form, ())
    table.only(*_keys(form), of=called(form))
    remedy = Remedy(
        id=remedy_id,
        name=table.may("name", NAME, remedy_id),
        form=form,
        ingredients=tuple(
            _ingredient(part, form, herbs) for part in table.tables("parts", needed=True)
        ),
        tea=_tea(table, form) if is_made_in_water(form) else None,
        drops_per_ml=table.may("drops_per_ml", number(0, 200), Fraction(DROPS_PER_ML)),
        base=_base(table, form),
        batch_g=table.perhaps("batch_g", number(0, _LARGEST)),
        spoon_g=table.perhaps("grams_per_tsp", number(0, 100)),
        stirred_into=table.may("stir_into", NAME, ""),
        dropperful=_dropperful(table),
        mg_in=table.perhaps("mg_in", _measured(PACKET_UNITS, "5 mL")),
        container=table.perhaps("container", _container(form)),
    )
    _check_percents(table, remedy)
    _check_base(table, remedy)
    return remedy


def _tea(table: Table, form: Form) -> TeaMaking:
    method = table.may("method", one_of(Method, Method.INFUSION), Method.INFUSION)
    return TeaMaking(
        grams_per_cup=table.need(grams_key(form), number(0, 1000)),
        water_ml=table.may("water_ml", number(0, 5000), Fraction(form.facts.water_ml)),
        method=method,
        minutes=table.may("minutes", whole(1, 1440), DEFAULT_MINUTES[method]),
    )


def _base(table: Table, form: Form) -> Base | None:
    """What the herbs are in; None where nothing of it is said."""
    base = Base(
        table.may("base", NAME, ""),
        table.may("base_parts", number(0, _LARGEST, from_there=True), Fraction(0)),
        table.may("sugar", number(0, 100, from_there=True), usual_sugar(form)),
    )
    return None if base == Base(sugar=usual_sugar(form)) else base


def _dropperful(table: Table) -> Portion | None:
    """What the remedy's own dropper holds, as it was measured or counted."""
    ml = table.perhaps("ml_per_dropperful", number(0, 50))
    drops = table.perhaps("drops_per_dropperful", number(0, 1000))
    if ml is not None and drops is not None:
        message = "the dropper is measured twice; expected mL or drops, one of the two"
        table.report.add((*table.place, "drops_per_dropperful"), message)
    if ml is not None:
        return Portion(ml, Unit.ML)
    return None if drops is None else Portion(drops, Unit.DROP)


def _measured(
    units: tuple[Unit, ...], example: str, bounds: tuple[int, int] | None = None
) -> ValueKind[Portion]:
    """An amount with its unit, in quotes; from so much to so much where there are bounds."""

    def read(value: object) -> Portion | None:
        try:
            portion = read_portion(value, units) if isinstance(value, str) else None
        except DirectionsError:
            return None
        if portion and bounds and not bounds[0] <= portion.amount <= bounds[1]:
            return None
        return portion

    span = f", from {bounds[0]} to {bounds[1]}" if bounds else ""
    expected = f'an amount in quotes such as "{example}", in {", ".join(units)}{span}'
    return ValueKind(expected, read, Portion(Fraction(1), units[0]), most=60)


def _container(form: Form) -> ValueKind[Portion]:
    units = container_units(form)
    return _measured(units, f"100 {units[0]}", CONTAINER_BOUNDS)


def _check_base(table: Table, remedy: Remedy) -> None:
    """Report a base with sugar of which nobody said how much is in the bottle."""
    if has_sugar_in_nothing(remedy) and "base_parts" not in table.data:
        message = (
            "how much of the base is in it, beside the parts of the herbs; expected a number, "
            "0 where it is not known, or sugar = 0 for a base without sugar"
        )
        table.report.add((*table.place, "base_parts"), message)


def _check_percents(table: Table, remedy: Remedy) -> None:
    """Report what percents and drops do not come to."""
    if composition_of(remedy.form) is not Composition.IN_BASE:
        return
    for n, part in enumerate(remedy.ingredients, 1):
        place = (*table.place, f"parts[{n}]")
        if (part.percent is None) == (part.drops is None):
            table.report.add(place, "expected percent by weight, or drops of an essential oil")
        elif part.drops is not None and part.filling is not Filling.ESSENTIAL_OIL:
            table.report.add((*place, "drops"), "drops are for essential oils; expected percent")
    if has_drops_in_nothing(remedy):
        message = "the grams that the drops go into; expected a number above 0"
        table.report.add((*table.place, "batch_g"), message)
    if is_over_the_whole(remedy):
        table.report.add((*table.place, "parts"), "come to over 100 percent; expected at most 100")


def _ingredient(table: Table, form: Form, herbs: HerbNames) -> Ingredient:
    table.only(*_part_keys(form), of=f"an ingredient of {called(form)}")
    herb = herb_called(table.need("herb", NAME), herbs, (*table.place, "herb"), table.report)
    composition = composition_of(form)
    match composition:
        case Composition.BY_WEIGHT:
            return Ingredient(herb, table.need("parts", number(0, _LARGEST)))
        case Composition.BY_VOLUME:
            return _liquid(table, form, herb)
        case Composition.BY_PIECE:
            filling, ratio = _filling(table, form)
            mg = table.need("mg", number(0, _LARGEST))
            return Ingredient(herb, ratio=ratio, mg=mg, filling=filling)
        case Composition.IN_BASE:
            filling, ratio = _filling(table, form)
            return Ingredient(
                herb,
                ratio=ratio,
                filling=filling,
                percent=table.perhaps("percent", number(0, 100)),
                drops=table.perhaps("drops", number(0, 1000)),
            )
        case _:
            assert_never(composition)


def _liquid(table: Table, form: Form, herb: str) -> Ingredient:
    return Ingredient(
        herb,
        table.need("parts", number(0, _LARGEST)),
        table.need("ratio", RATIO) if form.facts.has_ratio else None,
        _ethanol(table, form),
    )


def _ethanol(table: Table, form: Form) -> Fraction | None:
    """The strength of a liquid; juice is without unless it is said to be kept with some."""
    strength = number(0, 100, from_there=True)
    if not form.facts.has_ethanol:
        return None
    if not form.facts.has_ratio:
        return table.may("ethanol", strength, Fraction(0))
    return table.need("ethanol", strength)


def _filling(table: Table, form: Form) -> tuple[Filling, Fraction | None]:
    usual, *_ = allowed = form.facts.fillings
    filling = table.may("as", one_of(Filling, usual), usual)
    if filling not in allowed:
        expected = ", ".join(allowed)
        message = f"{called(form)} contains no {filling}; expected one of {expected}"
        table.report.add((*table.place, "as"), message)
    ratio = table.perhaps("ratio", RATIO)
    if ratio and filling not in _WITH_RATIO:
        alone = (
            "extracts only"
            if composition_of(form) is Composition.BY_PIECE
            else ("extracts, tinctures and infused oils only")
        )
        table.report.add((*table.place, "ratio"), f"a ratio is for {alone}")
    return filling, ratio


def _keys(form: Form) -> tuple[str, ...]:
    """The keys of a remedy of a form."""
    facts = form.facts
    keys = list(_COMMON)
    if facts.making:
        keys += [grams_key(form), "water_ml", "method", "minutes"]
    if facts.has_spoon:
        keys += ["grams_per_tsp", "stir_into"]
    if facts.composition is Composition.BY_VOLUME:
        keys += ["drops_per_ml", "base", "base_parts"]
    if Unit.DROPPERFUL in facts.units:
        keys += ["drops_per_ml", "ml_per_dropperful", "drops_per_dropperful"]
    if not facts.own_formula:
        keys += ["mg_in"]
    if facts.composition is Composition.IN_BASE:
        keys += ["base", "batch_g"]
    return (*keys, "sugar") if facts.has_sugar else tuple(keys)


def _part_keys(form: Form) -> tuple[str, ...]:
    facts = form.facts
    match facts.composition:
        case Composition.BY_WEIGHT:
            return ("herb", "parts")
        case Composition.BY_VOLUME:
            ratio = ("ratio",) if facts.has_ratio else ()
            return ("herb", "parts", *ratio, *(("ethanol",) if facts.has_ethanol else ()))
        case Composition.BY_PIECE:
            return ("herb", "mg", "as", "ratio")
        case Composition.IN_BASE:
            return ("herb", "percent", "drops", "as", "ratio")
        case _:
            assert_never(facts.composition)
