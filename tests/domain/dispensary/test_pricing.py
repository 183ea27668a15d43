"""What remedies cost, and the price that follows from it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.material_words import held_words, material_words
from sennight.domain.dispensary.preparing import unit_of
from sennight.domain.dispensary.pricing import (
    PriceRule,
    Prices,
    material_costs,
    price_of,
    remedy_cost,
)
from sennight.domain.dispensary.stock import Delivery, Held, Material, Movement, MovementKind
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy

F = Fraction
DRIED = Material("nettle-leaf", Held.DRIED, Unit.G)
TEA = Remedy("t", "T", Form.TEA, (Ingredient("nettle-leaf", F(1)),))
RULE = PriceRule(markup=F(1, 2), fee=F(1), tax=F(1, 5), step=F(1, 20))


def received(delivery: str, amount: int) -> Movement:
    return Movement(delivery, date(2027, 1, 4), MovementKind.RECEIVED, F(amount))


def test_a_material_costs_what_it_cost_last() -> None:
    deliveries = [
        Delivery("a", DRIED, "Old Lane", "1", cost=F(10)),
        Delivery("b", DRIED, "Old Lane", "2", cost=F(12)),
        Delivery("c", DRIED, "Old Lane", "3"),
    ]
    costs = material_costs(deliveries, [received(d.id, 500) for d in deliveries])
    assert costs == {DRIED: F(12, 500)}
    assert remedy_cost(TEA, F(100), costs) == F(12, 5)
    assert remedy_cost(TEA, F(100), {}) is None


def test_a_form_has_its_own_rule_or_that_of_all() -> None:
    prices = Prices(RULE, {"tea": PriceRule()}, "€")
    assert prices.rule_of(TEA) == PriceRule()
    other = Remedy("x", "X", Form.TINCTURE, (Ingredient("x", F(1), F(5), F(45)),))
    assert prices.rule_of(other) == RULE
    assert prices.words(F(1234567, 100)) == "€12345.67"


@given(st.fractions(0, 500, max_denominator=100), st.integers(0, 5))
def test_a_price_covers_cost_markup_fee_and_tax_by_less_than_a_step(
    cost: Fraction, containers: int
) -> None:
    price = price_of(cost, containers, RULE)
    least = (cost * F(3, 2) + containers) * F(6, 5)
    assert least <= price.total < least + F(1, 20)
    assert (price.total / F(1, 20)).denominator == 1
    assert abs(price.tax - price.total / 6) <= F(1, 200)


@pytest.mark.parametrize(
    ("material", "words"),
    [
        (DRIED, "Nettle leaf, dried herb"),
        (Material("ginger", Held.LIQUID, Unit.ML, F(5), F(45)), "ginger, 1:5, 45 %"),
        (Material("ginger", Held.EXTRACT, Unit.G, F(1, 4)), "ginger, dry extract, 4:1"),
        (Material("ginger", Held.POWDER, Unit.G), "ginger, powder"),
        (Material("beeswax", Held.OTHER, Unit.G), "beeswax"),
    ],
)
def test_a_material_is_told_from_others(material: Material, words: str) -> None:
    assert material_words(material, {"nettle-leaf": "Nettle leaf"}) == words


def test_every_way_of_being_held_and_every_form_has_its_words() -> None:
    assert len({held_words(held) for held in Held}) == len(Held)
    assert {unit_of(form) for form in Form} >= {Unit.G, Unit.ML, Unit.CAPSULE}
