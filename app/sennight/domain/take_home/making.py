"""How a remedy is made and used, and what it is made from, for the client."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import listed, plain_amount, plain_quantity
from sennight.domain.exposure.ethanol import strength
from sennight.domain.remedies.form_facts import Composition, filling_words
from sennight.domain.remedies.forms import Form, composition_of
from sennight.domain.remedies.making_words import making_steps, water_words
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.domain.schedule.ways import Way
from sennight.domain.tag_words import short_name

GRAMS_A_TEASPOON = Fraction(13, 10)
"""Dried herb in a level teaspoon: 1.3 g of one coarse powder (Physicians' desk reference for
herbal medicines, an excerpt; read). Others differ, so people are told that it is a rough guide."""
MOST_SPOONS = 12
"""More spoons than these are no help beside the grams."""


def spoons(grams: Fraction) -> str:
    """About how many level teaspoons of dried herbs; empty where that would be no help."""
    halves = round(grams / GRAMS_A_TEASPOON * 2)
    if not 1 <= halves <= 2 * MOST_SPOONS:
        return ""
    count = Fraction(halves, 2)
    return f"about {plain_quantity(count)} level {'teaspoon' if count <= 1 else 'teaspoons'}"


def how_made(form: Form, tea: TeaMaking) -> str:
    """How one cup, compress or bath is made, with spoons beside the grams."""
    steps = " ".join(making_steps(form, tea))
    about = spoons(tea.grams_per_cup)
    return f"{steps} ({rounded(tea.grams_per_cup, 1)} g is {about}.)" if about else steps


def day_of_tea(tea: TeaMaking, cups: Fraction) -> str:
    """What all cups of a day are made from."""
    grams, water = tea.grams_per_cup * cups, water_words(Fraction(rounded(tea.water_ml * cups, 0)))
    about = spoons(grams)
    herbs = f"{rounded(grams, 1)} g ({about})" if about else f"{rounded(grams, 1)} g"
    return f"For the day’s {plain_quantity(cups)} cups: {herbs} in {water}"


def cups_a_day(way: Way) -> Fraction:
    """The timed cups of a day; 0 where it is measured otherwise."""
    stretch = way.stretch
    return (
        stretch.directions.largest * len(stretch.times)
        if stretch.unit is Unit.CUP
        else Fraction(0)
    )


def made_from(remedy: Remedy, herb_names: Mapping[str, str]) -> Iterator[str]:
    """What it is made from, and that it has alcohol in it."""
    named = [_ingredient(ingredient, herb_names) for ingredient in remedy.ingredients]
    if len(named) == 1 and remedy.ingredients[0].parts is not None and not _base(remedy):
        named = [herb_name(remedy.ingredients[0].herb, herb_names)]
    if named:
        yield f"{_made(remedy)} {listed([*named, *_base(remedy)])}."
    percent = strength(remedy)
    if percent:
        yield f"Contains alcohol, about {rounded(percent, 0)} % by volume."


def _made(remedy: Remedy) -> str:
    form, composition = remedy.form, composition_of(remedy.form)
    match composition:
        case Composition.BY_WEIGHT | Composition.BY_VOLUME:
            return "Made from:"
        case Composition.BY_PIECE:
            if remedy.mg_in:
                return f"In {plain_amount(remedy.mg_in.amount, remedy.mg_in.unit)}:"
            return f"Each {form.facts.noun if form.facts.own_formula else 'piece'} contains:"
        case Composition.IN_BASE:
            return "Contains, by weight:"
        case _:
            assert_never(composition)


def _base(remedy: Remedy) -> tuple[str, ...]:
    base = remedy.base
    if base is None or not base.name:
        return ()
    return (f"{base.name} {_parts(base.parts)}" if base.parts else base.name,)


def herb_name(herb: str, herb_names: Mapping[str, str]) -> str:
    """A herb as a client reads it; its id in words where no record is held."""
    return short_name(herb_names.get(herb, herb.replace("-", " ")))


def _ingredient(ingredient: Ingredient, herb_names: Mapping[str, str]) -> str:
    name = herb_name(ingredient.herb, herb_names)
    name += filling_words(ingredient.filling)
    if ingredient.mg is not None:
        return f"{name} {plain_number(ingredient.mg)} mg"
    if ingredient.percent is not None:
        return f"{name} {rounded(ingredient.percent, 2)} %"
    if ingredient.drops is not None:
        return f"{name} {plain_number(ingredient.drops)} drops"
    return name if ingredient.parts is None else f"{name} {_parts(ingredient.parts)}"


def _parts(parts: Fraction) -> str:
    return f"{plain_number(parts)} {'part' if parts == 1 else 'parts'}"
