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
from sennight.domain.remedies.advice import use_of
from sennight.domain.remedies.forms import Composition, Form, composition_of
from sennight.domain.remedies.remedies import Filling, Ingredient, Method, Remedy, TeaMaking
from sennight.publish.pdf.paragraphs import items, text


def making(layout: Layout, remedy: Remedy) -> list[Flowable]:
    """How it is made, taken or used."""
    if remedy.tea is not None:
        lines = [text(words) for words in tea_words(remedy.tea)]
        cups = _cups_a_day(layout, remedy)
        return [*lines, *([text(_for_a_day(remedy.tea, cups))] if cups > 1 else [])]
    return items(use_of(remedy.form))


def tea_words(tea: TeaMaking) -> tuple[str, ...]:
    """How one cup is made."""
    herbs = f"{plain_number(tea.grams_per_cup)} g of the dried herbs"
    water = f"{plain_number(tea.water_ml)} mL"
    minutes = f"{tea.minutes} minute{'' if tea.minutes == 1 else 's'}"
    if tea.method is Method.DECOCTION:
        return (
            f"For one cup, put {herbs} into a pan with {water} of cold water.",
            f"Bring it to the boil, cover it, and let it simmer for {minutes}. Strain it.",
        )
    return (
        f"For one cup, put {herbs} into a pot and pour on {water} of boiling water.",
        f"Cover it and leave it to stand for {minutes}. Strain it.",
    )


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
    return [text(f"{_holds(remedy.form)} {listed(named)}.{_alcohol(remedy)}", "quiet")]


def _holds(form: Form) -> str:
    composition = composition_of(form)
    match composition:
        case Composition.BY_WEIGHT:
            return "Made from, by weight:"
        case Composition.BY_VOLUME:
            return "Made from, by volume:"
        case Composition.BY_PIECE:
            return f"Each {form} contains:"
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
    if ingredient.mg is not None:
        form = f" {ingredient.filling}" if ingredient.filling is Filling.EXTRACT else ""
        return f"{name}{form} {plain_number(ingredient.mg)} mg"
    if ingredient.parts is None:
        return name
    unit = "part" if ingredient.parts == 1 else "parts"
    return f"{name} {plain_number(ingredient.parts)} {unit}"
