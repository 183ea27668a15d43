"""A dose as it leaves the shelf."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.contents import Unknown
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import UNMEASURED_DROPPER
from sennight.domain.remedies.remedies import Ingredient, Portion, Remedy, TeaMaking
from sennight.domain.supply.quantities import Quantity, dispensed

F = Fraction
TEA = Remedy(
    "t1",
    "Tea",
    Form.TEA,
    (Ingredient("nettle-leaf", parts=F(2)), Ingredient("ginger", parts=F(1))),
    TeaMaking(F(3)),
)
TINCTURE = Remedy(
    "t2",
    "Tincture",
    Form.TINCTURE,
    (
        Ingredient("turmeric", parts=F(30), ratio=F(3), ethanol=F(60)),
        Ingredient("ginger", parts=F(20), ratio=F(5), ethanol=F(90)),
    ),
)
CAPSULE = Remedy(
    "t3", "Capsule", Form.CAPSULE, (Ingredient("boswellia", mg=F(400)), Ingredient("x", mg=F(100)))
)
DROPPER = replace(TINCTURE, dropperful=Portion(F(3, 4), Unit.ML))
IRON = Remedy("t7", "Iron", Form.PRODUCT, (Ingredient("iron", mg=F(20)),))
RUB = Remedy("t4", "Rub", Form.RUB, TINCTURE.ingredients)


@pytest.mark.parametrize(
    ("remedy", "amount", "unit", "expected"),
    [
        (TEA, F(2), Unit.CUP, Quantity(F(6), Unit.G)),
        (TEA, F(125), Unit.ML, Quantity(F(3, 2), Unit.G)),
        (TEA, F(4), Unit.G, Quantity(F(4), Unit.G)),
        (TINCTURE, F(1), Unit.TSP, Quantity(F(5), Unit.ML)),
        (TINCTURE, F(20), Unit.DROP, Quantity(F(1), Unit.ML)),
        (CAPSULE, F(2), Unit.CAPSULE, Quantity(F(2), Unit.CAPSULE)),
        (CAPSULE, F(1), Unit.G, Quantity(F(2), Unit.CAPSULE)),
        (CAPSULE, F(250), Unit.MG, Quantity(F(1, 2), Unit.CAPSULE)),
        (DROPPER, F(2), Unit.DROPPERFUL, Quantity(F(3, 2), Unit.ML)),
        (IRON, F(2), Unit.TABLET, Quantity(F(2), Unit.TABLET)),
        (replace(IRON, mg_in=Portion(F(5), Unit.ML)), F(2), Unit.TSP, Quantity(F(10), Unit.ML)),
        (replace(IRON, mg_in=Portion(F(5), Unit.G)), F(500), Unit.MG, Quantity(F(1, 2), Unit.G)),
        (
            replace(IRON, mg_in=Portion(F(1), Unit.SCOOP)),
            F(2),
            Unit.SCOOP,
            Quantity(F(2), Unit.SCOOP),
        ),
        (RUB, F(3), Unit.ML, Quantity(F(3), Unit.ML)),
        (RUB, F(1), Unit.APPLICATION, Quantity(F(1), Unit.APPLICATION)),
    ],
)
def test_a_dose_as_it_leaves_the_shelf(
    remedy: Remedy, amount: Fraction, unit: Unit, expected: Quantity
) -> None:
    assert dispensed(remedy, amount, unit) == expected


def test_what_cannot_be_told_says_why() -> None:
    untold = Remedy("t5", "C", Form.CAPSULE, (Ingredient("x"),))
    assert dispensed(untold, F(1), Unit.G) == Unknown("the mg in one capsule is not recorded")
    assert dispensed(TINCTURE, F(1), Unit.DROPPERFUL) == Unknown(UNMEASURED_DROPPER)
    assert isinstance(dispensed(Remedy("t6", "T", Form.TEA, ()), F(1), Unit.CUP), Unknown)
