"""Formulas of every form, drawn with the fields that each form has."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import DROPPER_UNITS, PACKET_UNITS
from sennight.domain.remedies.remedies import (
    Base,
    Ingredient,
    Method,
    Portion,
    Remedy,
    TeaMaking,
)

AMOUNTS = st.fractions(Fraction(1, 64), 100, max_denominator=64)
STRENGTHS = st.fractions(0, 100, max_denominator=64)
_SMALL = st.fractions(Fraction(1, 8), 40, max_denominator=8)
_DROPPERFULS = st.builds(Portion, _SMALL, st.sampled_from(DROPPER_UNITS))
_IN_PACKETS = st.builds(Portion, _SMALL, st.sampled_from(PACKET_UNITS))
WITH_RATIO = (Filling.EXTRACT, Filling.TINCTURE, Filling.INFUSED_OIL)


@st.composite
def ingredients(draw: st.DrawFn, form: Form, herbs: st.SearchStrategy[str]) -> Ingredient:
    """One herb of a formula; percents are small, so that a few come to no more than the whole."""
    facts, herb = form.facts, draw(herbs)
    if facts.composition is Composition.BY_WEIGHT:
        return Ingredient(herb, draw(AMOUNTS))
    if facts.composition is Composition.BY_VOLUME:
        return Ingredient(
            herb,
            draw(AMOUNTS),
            draw(AMOUNTS) if facts.has_ratio else None,
            draw(STRENGTHS) if facts.has_ethanol else None,
        )
    filling = draw(st.sampled_from(facts.fillings))
    ratio = draw(st.none() | AMOUNTS) if filling in WITH_RATIO else None
    if facts.composition is Composition.BY_PIECE:
        return Ingredient(herb, ratio=ratio, mg=draw(AMOUNTS), filling=filling)
    small = draw(st.fractions(Fraction(1, 8), 5, max_denominator=8))
    if filling is Filling.ESSENTIAL_OIL and draw(st.booleans()):
        return Ingredient(herb, filling=filling, drops=small)
    return Ingredient(herb, ratio=ratio, filling=filling, percent=small)


# A strategy is looked over before it draws for the first time, which takes longer than to draw.

_MAKINGS = st.builds(TeaMaking, AMOUNTS, AMOUNTS, st.sampled_from(Method), st.integers(1, 1440))


@cache
def _formulas(
    form: Form, herbs: st.SearchStrategy[str], least: int
) -> st.SearchStrategy[list[Ingredient]]:
    return st.lists(ingredients(form, herbs), min_size=least, max_size=4)


@cache
def _bases(
    names: st.SearchStrategy[str], *, liquid: bool, has_sugar: bool
) -> st.SearchStrategy[Base | None]:
    return st.none() | st.builds(
        Base,
        names,
        AMOUNTS | st.just(Fraction(0)) if liquid else st.just(Fraction(0)),
        STRENGTHS if has_sugar else st.just(Fraction(0)),
    )


@st.composite
def remedies(
    draw: st.DrawFn,
    remedy_id: str,
    *,
    names: st.SearchStrategy[str],
    herbs: st.SearchStrategy[str],
    least: int = 1,
) -> Remedy:
    """A remedy of any form, as the practice file can hold it and a course file tells it."""
    form = draw(st.sampled_from(Form))
    facts = form.facts
    liquid = facts.composition is Composition.BY_VOLUME
    based = facts.composition is Composition.IN_BASE
    return Remedy(
        remedy_id,
        draw(names | st.just(remedy_id)),
        form,
        tuple(draw(_formulas(form, herbs, least))),
        draw(_MAKINGS) if facts.making else None,
        draw(AMOUNTS) if liquid else Fraction(20),
        draw(_bases(names, liquid=liquid, has_sugar=facts.has_sugar)) if liquid or based else None,
        draw(st.fractions(20, 100, max_denominator=4)) if based else None,
        draw(st.none() | AMOUNTS) if facts.has_spoon else None,
        draw(st.just("") | names) if facts.has_spoon else "",
        draw(st.none() | _DROPPERFULS) if Unit.DROPPERFUL in facts.units else None,
        None if facts.own_formula else draw(st.none() | _IN_PACKETS),
    )
