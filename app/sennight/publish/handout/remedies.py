"""How a remedy is made and used, and what it holds, for the client."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import assert_never

from reportlab.platypus import Flowable

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import listed
from sennight.domain.exposure.ethanol import strength
from sennight.domain.remedies.form_facts import Composition, filling_words
from sennight.domain.remedies.forms import Form, composition_of
from sennight.domain.remedies.making_words import making_steps
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.domain.remedies.remedy_words import remedy_words
from sennight.publish.pdf.paragraphs import items, text


def making(layout: Layout, remedy: Remedy) -> list[Flowable]:
    """How it is made, taken or used."""
    use = (*remedy_words(remedy), *remedy.form.facts.use)
    if remedy.tea is None:
        return items(use)
    lines = [text(words) for words in making_steps(remedy.form, remedy.tea)]
    cups = _cups_a_day(layout, remedy)
    day = [text(_for_a_day(remedy.tea, cups))] if cups > 1 else []
    return [*lines, *day, *items(use)]


def _cups_a_day(layout: Layout, remedy: Remedy) -> Fraction:
    """The most timed cups in a day, flare-ups aside; 0 where it is measured otherwise."""
    flares = {run.phase.id for run in layout.flares}
    cups = (
        s.directions.largest * len(s.times)
        for s in layout.stretches
        if s.formula == remedy.id and s.unit is Unit.CUP and s.phase not in flares
    )
    return max(cups, default=Fraction(0))


def _for_a_day(tea: TeaMaking, cups: Fraction) -> str:
    grams = rounded(tea.grams_per_cup * cups, 1)
    water = rounded(tea.water_ml * cups, 0)
    return f"To make all {plain_number(cups)} cups for the day: {grams} g in {water} mL."


def holding(remedy: Remedy, herb_names: Mapping[str, str]) -> list[Flowable]:
    """What it holds."""
    named = [_ingredient(ingredient, herb_names) for ingredient in remedy.ingredients]
    if not named:
        return []
    base = remedy.base.name if remedy.base else ""
    named += [_base(remedy, base)] if base else []
    return [text(f"{_holds(remedy.form)} {listed(named)}.{_alcohol(remedy)}", "quiet")]


def _base(remedy: Remedy, base: str) -> str:
    parts = remedy.base.parts if remedy.base else Fraction(0)
    return f"{base} {_parts(parts)}" if parts else base


def _holds(form: Form) -> str:
    composition = composition_of(form)
    match composition:
        case Composition.BY_WEIGHT:
            return "Made from, by weight:"
        case Composition.BY_VOLUME:
            return "Made from, by volume:"
        case Composition.BY_PIECE:
            return f"Each {form.facts.noun if form.facts.own_formula else 'piece'} contains:"
        case Composition.IN_BASE:
            return "Contains, by weight:"
        case _:
            assert_never(composition)


def _alcohol(remedy: Remedy) -> str:
    """What it holds of alcohol, where that is known."""
    percent = strength(remedy)
    if not percent:
        return ""
    return f" Contains alcohol, about {rounded(percent, 0)} % by volume."


def _ingredient(ingredient: Ingredient, herb_names: Mapping[str, str]) -> str:
    name = herb_names.get(ingredient.herb, ingredient.herb.replace("-", " "))
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
