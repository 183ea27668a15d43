"""First entries of herbs in a formula, and formulas written as other amounts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.formulas.formulas import moved_ingredient, usual_ingredient, with_whole
from sennight.domain.remedies.remedies import Filling, Form, Ingredient, Remedy
from support.herb_samples import herb, row

F = Fraction
HERB = herb("a", row("infusion", "3-9 g"), row("tincture", "5-10 mL", per="1:3"))
BLEND = Remedy(
    "t",
    "Blend",
    Form.TINCTURE,
    (Ingredient("a", F(3), F(5), F(60)), Ingredient("b", F(2), F(2), F(25))),
)
CAPSULE = Remedy(
    "c",
    "Capsule",
    Form.CAPSULE,
    (Ingredient("a", mg=F(100)), Ingredient("b", mg=F(300), filling=Filling.EXTRACT)),
)


def test_a_first_entry_follows_the_form() -> None:
    assert usual_ingredient(HERB, Form.TEA) == Ingredient("a", F(1))
    filled = usual_ingredient(HERB, Form.CAPSULE)
    assert (filled.mg, filled.filling, filled.parts) == (F(300), Filling.POWDER, None)
    assert usual_ingredient(HERB, Form.TINCTURE).ratio == 3


def test_a_whole_is_shared_out_as_the_parts_are() -> None:
    assert [one.parts for one in with_whole(BLEND, F(100)).ingredients] == [60, 40]
    assert [one.mg for one in with_whole(CAPSULE, F(500)).ingredients] == [125, 375]


@pytest.mark.parametrize(
    ("remedy", "whole"),
    [
        (BLEND, F(0)),
        (Remedy("t", "Blend", Form.TEA, (Ingredient("a"), Ingredient("b", F(1)))), F(100)),
        (Remedy("t", "Blend", Form.TEA, (Ingredient("a", F(0)),)), F(100)),
    ],
)
def test_a_whole_of_nothing_or_of_parts_not_said_is_refused(
    remedy: Remedy, whole: Fraction
) -> None:
    with pytest.raises(CalculationError, match="an amount above 0, and parts for every herb"):
        with_whole(remedy, whole)


def test_an_ingredient_stops_at_the_ends() -> None:
    assert [one.herb for one in moved_ingredient(BLEND, 0, 9).ingredients] == ["b", "a"]
    assert moved_ingredient(BLEND, 0, -1) == BLEND
