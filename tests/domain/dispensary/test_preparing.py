"""What is weighed and measured for a batch, how long it keeps, and what it costs."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import (
    Batch,
    HandedOver,
    UsedPart,
    batch_number,
    has_same_contents,
    keeping_of,
    left_of,
    usual_use_by,
)
from sennight.domain.dispensary.preparing import (
    NAMELESS,
    Rounding,
    base_material,
    in_order_of_the_shelf,
    prepare,
    whole_containers,
)
from sennight.domain.dispensary.pricing import (
    PriceRule,
    batch_cost,
    price_of,
    remedy_cost,
    unit_costs,
)
from sennight.domain.dispensary.stock import (
    Delivery,
    Draw,
    Held,
    Material,
    Movement,
    MovementKind,
    held,
    material_made,
    shelved,
)
from sennight.domain.dispensary.wanted import orders
from sennight.domain.remedies.form_facts import KEEPS, Filling, Keeping
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Remedy, TeaMaking
from sennight.domain.supply.quantities import Quantity
from support.files import REFERENCES, from_yaml

F = Fraction
TODAY = date(2026, 11, 28)
ROWS: dict[str, Any] = {
    row["id"]: row
    for row in from_yaml((REFERENCES / "preparations.yaml").read_text(encoding="utf-8"))
}
TEA = Remedy(
    "t1",
    "Tea",
    Form.TEA,
    (Ingredient("nettle-leaf", parts=F(2)), Ingredient("ginger", parts=F(1))),
    TeaMaking(F(3)),
)
DRIED = {name: Material(name, Held.DRIED, Unit.G) for name in ("nettle-leaf", "ginger")}


def liquid(percent: int | None, form: Form = Form.TINCTURE) -> Remedy:
    ethanol = None if percent is None else F(percent)
    return Remedy("t2", "T", form, (Ingredient("x", F(1), F(5), ethanol),))


def delivery(name: str, herb: str, best_before: date | None = None) -> Delivery:
    return Delivery(name, DRIED[herb], "Hedgerow Supplies", name, best_before, F(12))


def test_each_ingredient_is_weighed_and_comes_off_its_delivery() -> None:
    shelf = [delivery("n1", "nettle-leaf"), delivery("g1", "ginger")]
    made = prepare(TEA, Quantity(F(150), Unit.G), shelf, {"n1": F(80), "g1": F(200)}, TODAY)
    assert [part.amount for part in made.to_measure] == [F(100), F(50)]
    assert [part.material.name for part in made.missing] == ["nettle-leaf"]
    assert made.parts == (
        UsedPart("nettle-leaf", Quantity(F(80), Unit.G), "n1"),
        UsedPart("nettle-leaf", Quantity(F(20), Unit.G)),
        UsedPart("ginger", Quantity(F(50), Unit.G), "g1"),
    )
    assert {m.delivery: m.amount for m in made.movements("b1", TODAY)} == {"n1": -80, "g1": -50}


CREAM = Remedy(
    "t4",
    "Cream",
    Form.CREAM,
    (Ingredient("comfrey", filling=Filling.INFUSED_OIL, percent=F(25, 2)),),
    base=Base("plain cream"),
    batch_g=F(30),
)
"""An eighth of infused oil: 5 g in 40 g."""


@pytest.mark.parametrize("name", ["plain cream", ""])
def test_the_base_is_weighed_last_and_taken_as_there_unless_it_is_stocked(name: str) -> None:
    cream = replace(CREAM, base=Base(name))
    of_base = base_material(cream)
    assert of_base == Material(name or NAMELESS, Held.OTHER, Unit.G)
    oil, rest = prepare(cream, Quantity(F(40), Unit.G), (), {}, TODAY).to_measure
    assert (oil.amount, oil.draw.missing, oil.is_at_hand) == (F(5), F(5), False)
    assert (rest.material, rest.amount, rest.is_at_hand) == (of_base, F(35), True)
    tub = Delivery("c1", of_base, "Hedgerow Supplies", "C-1", None, F(20))
    made = prepare(cream, Quantity(F(40), Unit.G), (tub,), {"c1": F(30)}, TODAY)
    assert made.to_measure[1].draw == Draw(((tub, F(30)),), F(5))
    assert made.parts[1:] == (
        UsedPart(of_base.name, Quantity(F(30), Unit.G), "c1"),
        UsedPart(of_base.name, Quantity(F(5), Unit.G)),
    )
    assert orders([made], (tub,), {"c1": F(30)}, {}, TODAY)[-1].amount == 5
    ordered = orders([prepare(cream, Quantity(F(40), Unit.G), (), {}, TODAY)], (), {}, {}, TODAY)
    assert [order.material.name for order in ordered] == ["comfrey"]
    whole = replace(batch(*made.parts), remedy=cream)
    assert batch_cost(whole, {"c1": F(1, 10)}) is None, "the oil came from nowhere"
    assert batch_cost(replace(whole, parts=made.parts[1:]), {"c1": F(1, 10)}) == 3
    costs = {oil.material: F(1), of_base: F(1, 10)}
    assert remedy_cost(cream, F(40), costs) == F(17, 2)
    assert remedy_cost(cream, F(40), {oil.material: F(1)}) == 5


def test_two_ingredients_of_one_material_do_not_take_the_same_grams() -> None:
    twice = Remedy("t", "T", Form.TEA, (Ingredient("ginger", F(1)), Ingredient("ginger", F(1))))
    made = prepare(
        twice, Quantity(F(100), Unit.G), [delivery("g1", "ginger")], {"g1": F(60)}, TODAY
    )
    assert [part.draw.missing for part in made.to_measure] == [0, 40]


def test_amounts_are_rounded_to_what_the_scale_tells_and_never_to_nothing() -> None:
    made = prepare(TEA, Quantity(F(100), Unit.G), [], {}, TODAY)
    assert [part.amount for part in made.to_measure] == [F("66.7"), F("33.3")]
    coarse = Rounding({Unit.G: F(5)})
    assert [coarse.of(F(text), Unit.G) for text in ("1", "7.5", "12.4", "0")] == [5, 10, 10, 0]
    assert coarse.of(F(1, 3), Unit.ML) == F(1, 3)


def test_whole_containers() -> None:
    assert whole_containers(F(210), F(100)) == (3, F(300))
    assert whole_containers(F(300), F(100)) == (3, F(300))


def test_one_walk_to_the_shelf_for_several_preparations() -> None:
    first = prepare(TEA, Quantity(F(150), Unit.G), [], {}, TODAY)
    second = prepare(liquid(45), Quantity(F(100), Unit.ML), [], {}, TODAY)
    walk = in_order_of_the_shelf([second, first, first])
    assert [(m.name, len(uses)) for m, uses in walk] == [
        ("ginger", 2),
        ("nettle-leaf", 2),
        ("x", 1),
    ]


@pytest.mark.parametrize(
    ("keeping", "row", "length"),
    [
        (Keeping.WATERY, "bud_water_oral", "14 d"),
        (Keeping.WATERY_ON_THE_SKIN, "bud_water_topical", "30 d"),
        (Keeping.WITHOUT_WATER, "bud_nonaqueous", "6 mo"),
    ],
)
def test_keeping_times_that_are_published(keeping: Keeping, row: str, length: str) -> None:
    """Alberta College of Pharmacy, compounding page: beyond-use dates without stability data."""
    assert str(KEEPS[keeping]) == length
    assert length.startswith(str(ROWS[row]["expected"]))


def test_keeping_times_of_common_practice() -> None:
    months = KEEPS[Keeping.PRESERVED].count
    assert months == ROWS["dispensed_mix"]["expected"][0]
    assert KEEPS[Keeping.DRY].count == 12 * ROWS["dried_herb"]["expected"][0]


@pytest.mark.parametrize(
    ("remedy", "expected"),
    [
        (TEA, Keeping.DRY),
        (liquid(ROWS["preserve_ethanol"]["expected"]), Keeping.PRESERVED),
        (liquid(19), Keeping.WATERY),
        (liquid(None), Keeping.WATERY),
        (liquid(0, Form.RUB), Keeping.WATERY_ON_THE_SKIN),
        (liquid(60, Form.RUB), Keeping.PRESERVED),
        (liquid(0, Form.MOUTHWASH), Keeping.WATERY_ON_THE_SKIN),
        (liquid(None, Form.GLYCERITE), Keeping.PRESERVED),
        (liquid(0, Form.JUICE), Keeping.FRESH),
        (liquid(20, Form.JUICE), Keeping.PRESERVED),
        (Remedy("c", "C", Form.CAPSULE, (Ingredient("x", mg=F(1)),)), Keeping.WITHOUT_WATER),
    ],
)
def test_how_a_remedy_keeps(remedy: Remedy, expected: Keeping) -> None:
    assert keeping_of(remedy) is expected


def test_no_batch_outlasts_the_first_of_its_parts_to_expire() -> None:
    """Alberta College of Pharmacy: never later than the earliest expiry of any ingredient."""
    assert usual_use_by(TEA, TODAY, [None]) == date(2027, 11, 27)
    early = date(2027, 2, 1)
    assert usual_use_by(TEA, TODAY, [None, date(2027, 3, 1), early]) == early


def test_a_batch_is_known_by_what_is_in_it_and_not_by_its_name() -> None:
    renamed = replace(TEA, id="x", name="Another name", tea=TeaMaking(F(5)))
    assert has_same_contents(renamed, TEA)
    fewer = replace(TEA, ingredients=TEA.ingredients[:1])
    assert not has_same_contents(fewer, TEA)
    assert not has_same_contents(liquid(45), liquid(60))


def test_batches_of_a_day_are_counted() -> None:
    assert [batch_number(TODAY, n) for n in (0, 9)] == ["261128-1", "261128-10"]


RECEIVED = Movement("n1", TODAY, MovementKind.RECEIVED, F(500))


def batch(*parts: UsedPart) -> Batch:
    return Batch("b1", "261128-1", TEA, Quantity(F(150), Unit.G), TODAY, "M. Reed", TODAY, parts)


def test_a_batch_costs_what_its_parts_cost() -> None:
    """500 g for 12.00: 100 g cost 2.40."""
    costs = unit_costs(
        [delivery("n1", "nettle-leaf"), delivery("g1", "ginger")],
        [RECEIVED, RECEIVED, Movement("n1", TODAY, MovementKind.DISCARDED, F(-1), "spilt")],
    )
    assert costs == {"n1": F(12, 1000)}
    known = UsedPart("nettle-leaf", Quantity(F(100), Unit.G), "n1")
    assert batch_cost(batch(known), costs) == F("1.2")
    assert batch_cost(batch(known, UsedPart("ginger", Quantity(F(1), Unit.G))), costs) is None
    assert batch_cost(batch(UsedPart("ginger", Quantity(F(1), Unit.G), "g1")), costs) is None


def test_a_price_with_markup_fee_and_tax() -> None:
    """4.00 half as much again, two bottles at 1.00, a fifth of tax: 8.00 + 1.60 = 9.60."""
    price = price_of(F(4), 2, PriceRule(F(1, 2), F(1), F(1, 5)))
    assert (price.net, price.tax, price.total) == (F(8), F("1.6"), F("9.6"))
    assert price_of(F("4.01"), 0, PriceRule(step=F(1, 20))).total == F("4.05")


SHELF = st.lists(
    st.tuples(st.sampled_from(("nettle-leaf", "ginger")), st.integers(0, 300)), max_size=5
)


NETTLE_HERE = Remedy("n", "Nettle", Form.TEA, (Ingredient("nettle-leaf", F(1)),))
MADE = st.lists(st.tuples(st.booleans(), st.integers(1, 400), st.integers(0, 400)), max_size=4)


@given(SHELF, MADE)
def test_what_came_in_is_what_is_held_and_what_went_into_batches(
    received: list[tuple[str, int]], asked: list[tuple[bool, int, int]]
) -> None:
    """in = out + stock, for each delivery and each batch, whatever was prepared or shelved."""
    shelf = [
        delivery(str(n), herb, TODAY + timedelta(days=n)) for n, (herb, _) in enumerate(received)
    ]
    came_in = {str(n): F(amount) for n, (_, amount) in enumerate(received)}
    movements = [
        Movement(name, TODAY, MovementKind.RECEIVED, amount) for name, amount in came_in.items()
    ]
    in_batches: list[UsedPart] = []
    batches: dict[str, tuple[Fraction, Fraction]] = {}
    for n, (is_plain, amount, share) in enumerate(asked):
        name, put = f"b{n}", F(min(amount, share) if is_plain else 0)
        remedy = NETTLE_HERE if is_plain else TEA
        made = prepare(remedy, Quantity(F(amount), Unit.G), shelf, held(movements), TODAY)
        movements += made.movements(name, TODAY)
        in_batches += made.parts
        batches[name] = F(amount), put
        if put:
            own = replace(delivery(f"of {name}", "nettle-leaf", TODAY), made_as=name)
            shelf.append(own)
            came_in[own.id] = put
            movements.append(Movement(own.id, TODAY, MovementKind.RECEIVED, put))
    stock, on_shelf = held(movements), shelved(shelf, movements)
    for name, amount_in in came_in.items():
        out = sum((p.amount.amount for p in in_batches if p.delivery == name), F(0))
        assert stock[name] + out == amount_in
        assert stock[name] >= 0
    for name, (whole, put) in batches.items():
        its = replace(batch(), id=name, amount=Quantity(whole, Unit.G))
        assert left_of(its, (), on_shelf) + put == whole


def test_what_was_handed_over_and_shelved_is_gone_from_a_batch() -> None:
    handed = HandedOver("b1", "c", "k", "t", TODAY, Quantity(F(30), Unit.G), 1, "MR")
    other = replace(handed, batch="b2")
    assert left_of(batch(), (handed, other), {"b1": F(20), "b2": F(1)}) == 100


def test_a_remedy_of_one_herb_is_that_herb_on_the_shelf() -> None:
    assert material_made(NETTLE_HERE) == DRIED["nettle-leaf"]
    assert material_made(liquid(45)) == Material("x", Held.LIQUID, Unit.ML, F(5), F(45))
    assert material_made(TEA) is None
    assert material_made(Remedy("c", "C", Form.CAPSULE, (Ingredient("x", mg=F(1)),))) is None
