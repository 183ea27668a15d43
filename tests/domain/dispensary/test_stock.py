"""Stock as the sum of its movements, and what expires first used first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.stock import (
    Delivery,
    Held,
    Material,
    Movement,
    MovementKind,
    StockError,
    check_movement,
    counted,
    draw,
    expiring,
    held,
    material_of,
    shelved,
)
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy

F = Fraction
TODAY = date(2026, 11, 28)
NETTLE = Material("nettle-leaf", Held.DRIED, Unit.G)


def delivery(name: str, best_before: date | None = None, of: Material = NETTLE) -> Delivery:
    return Delivery(name, of, "Hedgerow Supplies", f"N-{name}", best_before)


@pytest.mark.parametrize(
    ("kind", "amount", "reason", "batch", "told"),
    [
        (MovementKind.RECEIVED, 0, "", None, "above 0"),
        (MovementKind.USED, 5, "", "b", "its number"),
        (MovementKind.USED, -5, "", None, "its number"),
        (MovementKind.DISCARDED, 1, "mould", None, "above 0"),
        (MovementKind.DISCARDED, -1, " ", None, "no reason is given"),
        (MovementKind.CORRECTED, 2, "", None, "no reason is given"),
    ],
)
def test_movements_that_cannot_be(
    kind: MovementKind, amount: int, reason: str, batch: str | None, told: str
) -> None:
    with pytest.raises(StockError, match=told):
        check_movement(Movement("d", TODAY, kind, F(amount), reason, batch))


@pytest.mark.parametrize(
    ("kind", "amount", "reason", "batch"),
    [
        (MovementKind.RECEIVED, 500, "", None),
        (MovementKind.USED, -5, "", "b"),
        (MovementKind.DISCARDED, -1, "mould", None),
        (MovementKind.CORRECTED, 2, "was entered as 498", None),
        (MovementKind.COUNTED, 0, "", None),
    ],
)
def test_movements_that_can(
    kind: MovementKind, amount: int, reason: str, batch: str | None
) -> None:
    check_movement(Movement("d", TODAY, kind, F(amount), reason, batch))


def test_a_stocktake_brings_the_record_to_what_was_found() -> None:
    found = counted(delivery("a"), TODAY, F(480), F(500))
    assert held([Movement("a", TODAY, MovementKind.RECEIVED, F(500)), found])["a"] == 480
    with pytest.raises(StockError, match="0 or more"):
        counted(delivery("a"), TODAY, F(-1), F(0))


def test_what_expires_first_is_used_first_and_nothing_out_of_date() -> None:
    old = delivery("old", TODAY - timedelta(days=1))
    soon, late, undated = delivery("s", TODAY), delivery("l", date(2028, 1, 1)), delivery("u")
    other = delivery("o", of=Material("ginger", Held.DRIED, Unit.G))
    stock = {"old": F(9), "s": F(30), "l": F(50), "u": F(20), "o": F(99)}
    drawn = draw(NETTLE, F(120), [undated, late, old, other, soon], stock, TODAY)
    assert drawn.amounts == ((soon, F(30)), (late, F(50)), (undated, F(20)))
    assert drawn.missing == 20
    assert draw(NETTLE, F(0), [soon], stock, TODAY).amounts == ()


def test_what_is_about_to_expire_is_told_first_first() -> None:
    soon, past = delivery("s", date(2026, 12, 24)), delivery("p", date(2026, 11, 1))
    later, gone, undated = delivery("l", date(2027, 6, 1)), delivery("g", TODAY), delivery("u")
    stock = {"s": F(1), "p": F(1), "l": F(1), "g": F(0), "u": F(1)}
    assert expiring([soon, past, later, gone, undated], stock, TODAY) == (past, soon)


@pytest.mark.parametrize(
    ("form", "ingredient", "expected"),
    [
        (Form.TEA, Ingredient("x", parts=F(1)), Material("x", Held.DRIED, Unit.G)),
        (
            Form.TINCTURE,
            Ingredient("x", F(1), F(5), F(45)),
            Material("x", Held.LIQUID, Unit.ML, F(5), F(45)),
        ),
        (Form.CAPSULE, Ingredient("x", mg=F(1)), Material("x", Held.POWDER, Unit.G)),
        (
            Form.CAPSULE,
            Ingredient("x", ratio=F(1, 5), mg=F(1), filling=Filling.EXTRACT),
            Material("x", Held.EXTRACT, Unit.G, F(1, 5)),
        ),
    ],
)
def test_the_material_of_an_ingredient(
    form: Form, ingredient: Ingredient, expected: Material
) -> None:
    assert material_of(Remedy("r", "R", form, (ingredient,)), ingredient) == expected


AMOUNTS = st.lists(st.tuples(st.integers(0, 500), st.integers(-40, 400)), max_size=6)


@given(AMOUNTS, st.integers(0, 2000))
def test_what_is_drawn_and_what_is_missing_are_what_was_asked_for(
    shelf: list[tuple[int, int]], asked: int
) -> None:
    deliveries = [
        delivery(str(n), TODAY + timedelta(days=wait)) for n, (_, wait) in enumerate(shelf)
    ]
    stock = {str(n): F(amount) for n, (amount, _) in enumerate(shelf)}
    drawn = draw(NETTLE, F(asked), deliveries, stock, TODAY)
    assert sum((part for _, part in drawn.amounts), F(0)) + drawn.missing == asked
    assert all(0 < part <= stock[d.id] for d, part in drawn.amounts)
    left = [d for d in deliveries if d not in dict(drawn.amounts) and stock[d.id]]
    dates = [d.best_before for d, _ in drawn.amounts]
    assert dates == sorted(dates, key=str)
    if drawn.missing:
        assert all(d.is_out_of_date(TODAY) for d in left)


def test_only_what_came_from_a_batch_counts_as_shelved() -> None:
    """What is used or thrown away of it later does not go back to the batch."""
    bought = delivery("d1")
    own = replace(bought, id="d2", made_as="b1")
    moved = [
        Movement("d1", TODAY, MovementKind.RECEIVED, F(500)),
        Movement("d2", TODAY, MovementKind.RECEIVED, F(80)),
        Movement("d2", TODAY, MovementKind.DISCARDED, F(-30), "mould"),
    ]
    assert shelved((bought, own), moved) == {"b1": F(80)}
