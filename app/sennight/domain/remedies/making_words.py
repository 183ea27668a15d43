"""How what is made in water is made, in a client's words: one sentence, or a step a line."""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.directions.plain_words import counted
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Method, TeaMaking

LITRE, HALF_A_LITRE = 1000, 500
"""mL."""


def _herbs(tea: TeaMaking) -> str:
    return f"{plain_number(tea.grams_per_cup)} g of the dried herbs"


def water_words(ml: Fraction) -> str:
    """`250 mL`, `1 litre`, `1.5 litres`: as it is measured in a kitchen."""
    if ml < LITRE or ml % HALF_A_LITRE:
        return f"{plain_number(ml)} mL"
    litres = plain_number(ml / LITRE)
    return f"{litres} {'litre' if ml == LITRE else 'litres'}"


def _water(tea: TeaMaking) -> str:
    return f"{water_words(tea.water_ml)} of"


def time_words(minutes: int) -> str:
    """`10 minutes`, `8 hours`."""
    hours, over = divmod(minutes, 60)
    return counted(minutes, "minute") if over or hours < 2 else counted(hours, "hour")


def making_sentence(form: Form, tea: TeaMaking) -> str:
    """How one cup, compress or bath is made, in a line."""
    herbs, water, long = _herbs(tea), _water(tea), time_words(tea.minutes)
    made = f"For one {form.facts.making}:"
    if not form.facts.is_steeped:
        return f"{made} pour {water} boiling water on {herbs}."
    match tea.method:
        case Method.DECOCTION:
            return f"{made} simmer {herbs} in {water} water for {long}, covered. Strain it."
        case Method.INFUSION:
            return (
                f"{made} pour {water} boiling water on {herbs}, cover it and wait {long}. "
                "Strain it."
            )
        case Method.MACERATION:
            return f"{made} leave {herbs} in {water} cold water for {long}, covered. Strain it."
        case _:
            assert_never(tea.method)


def making_steps(form: Form, tea: TeaMaking) -> tuple[str, ...]:
    """The same, a step a line."""
    herbs, water, long = _herbs(tea), _water(tea), time_words(tea.minutes)
    made = f"For one {form.facts.making}, put {herbs} into"
    if not form.facts.is_steeped:
        return (f"{made} it and pour on {water} boiling water.",)
    match tea.method:
        case Method.DECOCTION:
            return (
                f"{made} a pan with {water} cold water.",
                f"Bring it to the boil, cover it, and let it simmer for {long}. Strain it.",
            )
        case Method.INFUSION:
            return (
                f"{made} a pot and pour on {water} boiling water.",
                f"Cover it and leave it to stand for {long}. Strain it.",
            )
        case Method.MACERATION:
            return (
                f"{made} a jug with {water} cold water. Do not heat it.",
                f"Cover it and leave it to stand for {long}, in the fridge. Strain it.",
            )
        case _:
            assert_never(tea.method)


def making_line(form: Form, tea: TeaMaking) -> str:
    """The same as short as it can be, for a label."""
    herbs, water, long = (
        f"{plain_number(tea.grams_per_cup)} g",
        _water(tea),
        time_words(tea.minutes),
    )
    made = f"1 {form.facts.making}: {herbs} in {water}"
    if not form.facts.is_steeped:
        return f"{made} boiling water"
    match tea.method:
        case Method.DECOCTION:
            return f"{made} water, simmer covered for {long}, strain"
        case Method.INFUSION:
            return f"{made} boiling water, cover for {long}, strain"
        case Method.MACERATION:
            return f"{made} cold water, leave covered for {long}, strain"
        case _:
            assert_never(tea.method)
