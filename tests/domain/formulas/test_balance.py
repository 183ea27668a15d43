"""Bounds on the parts of a formula, and exact shares from a solver's nearly exact ones."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest

from sennight.domain.directions.directions import Unit
from sennight.domain.exposure.bands import Band
from sennight.domain.formulas.balance import (
    Balance,
    Bound,
    Daily,
    balance_of,
    band_bounds,
    cost_bound,
    exact_shares,
    rebalanced,
    strength_bound,
)
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from support.herb_samples import BLEND, range_in_grams

F = Fraction
GIVE = F(1, 1_000_000)
OWN = (F(3, 5), F(2, 5))
TWICE = Daily(F(5), Unit.ML, 2, 4)
TEA = Remedy("t", "Tea", Form.TEA, (Ingredient("a", F(1)), Ingredient("b", F(3))), TeaMaking(F(4)))
CAPSULE = Remedy("c", "Capsule", Form.CAPSULE, (Ingredient("a", mg=F(1)),))


# Bounds


def test_both_ends_of_a_bound_belong_to_it_and_an_open_side_has_none() -> None:
    bound = Bound("a", "", (F(1), F(2)), F(3), F(4))
    assert [bound.holds((F(1), F(n, 4))) for n in (3, 4, 5, 6, 7)] == [
        False,
        True,
        True,
        True,
        False,
    ]
    assert Bound("a", "", (F(1),), None, F(4)).holds((F(-100),))
    assert Bound("a", "", (F(1),), F(3)).holds((F(100),))


@pytest.mark.parametrize(
    ("band", "low", "high", "asks"),
    [
        (Band.LOW, "0.3", "0.494", "low, 0.3 to 0.494 g a day"),
        (Band.MIDDLE, "0.5", "0.694", "middle, 0.5 to 0.694 g a day"),
        (Band.HIGH, "0.7", "0.9", "high, 0.7 to 0.9 g a day"),
    ],
)
def test_a_band_is_a_third_of_the_range_and_the_maximum_is_never_passed(
    band: Band, low: str, high: str, asks: str
) -> None:
    """5 mL of `a` alone, 1:5, are 1 g: 2 g a day timed, 4 g with what is taken as needed.

    The thirds of 0.3 to 0.9 g end at 0.5 and 0.7 g; a hundredth of the width, 0.006 g, is kept
    from an end that belongs to the next band.
    """
    timed, most = band_bounds(BLEND, TWICE, "a", band, range_in_grams("0.3-0.9"))
    assert timed == Bound("a", asks, (F(2), F(0)), F(low), F(high))
    assert most == Bound(
        "a", "at most 0.9 g a day, with what is taken as needed", (F(4), F(0)), None, F("0.9")
    )


def test_a_tea_is_bounded_by_weight() -> None:
    """A cup is made with 4 g: 8 g of each herb a day, were the tea made of it alone."""
    daily = Daily(F(2), Unit.CUP, 1, 1)
    timed, _ = band_bounds(TEA, daily, "b", Band.HIGH, range_in_grams("1-4"))
    assert (timed.factors, timed.low, timed.high) == ((F(0), F(8)), F(3), F(4))


def test_a_range_of_one_amount_is_said_once() -> None:
    timed, _ = band_bounds(BLEND, TWICE, "b", Band.HIGH, range_in_grams("2-2"))
    assert (timed.of, timed.asks) == ("b", "high, 2 g a day")


def test_strength_and_cost_are_weighed_by_the_parts() -> None:
    assert strength_bound(BLEND, F(40)) == Bound(
        "strength", "at most 40 % v/v", (F(60), F(25)), None, F(40)
    )
    assert cost_bound(BLEND, {"b": F(1), "a": F(3)}, F(2)) == Bound(
        "cost", "at most 2 for each mL or g", (F(3), F(1)), None, F(2)
    )


def test_the_problem_holds_the_formulas_own_shares() -> None:
    bound = strength_bound(BLEND, F(40))
    assert balance_of(BLEND, [bound]) == Balance(OWN, (bound,))


UNSAID = Remedy("t", "T", Form.TEA, (Ingredient("a", F(1)), Ingredient("b")))


@pytest.mark.parametrize(
    ("ask", "said"),
    [
        (
            lambda: strength_bound(UNSAID, F(30)),
            "no ethanol entered; expected it in % v/v for each",
        ),
        (lambda: cost_bound(BLEND, {"a": F(3)}, F(3)), "no price is known for b"),
        (
            lambda: band_bounds(BLEND, TWICE, "c", Band.LOW, range_in_grams("1-2")),
            "Blend contains no c; expected one of its herbs",
        ),
        (
            lambda: band_bounds(BLEND, TWICE, "a", Band.OVER, range_in_grams("1-2")),
            "not brought to “over”; expected low, middle or high",
        ),
        (
            lambda: band_bounds(
                BLEND, Daily(F(1), Unit.G, 1, 1), "a", Band.LOW, range_in_grams("1-2")
            ),
            "amount of a is not known: a tincture is not measured in g",
        ),
        (lambda: balance_of(CAPSULE, ()), "expected parts for every herb, and no base"),
        (lambda: balance_of(UNSAID, ()), "expected parts for every herb, and no base"),
    ],
)
def test_refusals(ask: Callable[[], object], said: str) -> None:
    with pytest.raises(CalculationError, match=said):
        ask()


def test_a_rebalanced_formula_keeps_the_sum_of_its_parts() -> None:
    changed = rebalanced(BLEND, (F(3, 7), F(4, 7)))
    assert sum(one.parts or 0 for one in changed.ingredients) == 100
    assert shares(changed) == (F(3, 7), F(4, 7))
    assert [one.ratio for one in changed.ingredients] == [5, 2]


# Exact shares


def at_most(most: Fraction) -> Balance:
    """The first of two herbs at most so much of the whole."""
    return Balance(OWN, (Bound("a", "", (F(1), F(0)), None, most),))


def test_a_share_close_to_a_bounds_end_lies_on_it() -> None:
    near = (F(1, 2) + F(1, 10_000_000), F(1, 2))
    assert exact_shares(at_most(F(1, 2)), near, GIVE) == (F(1, 2), F(1, 2))


def test_where_two_ends_are_close_the_one_that_fits_is_taken() -> None:
    """The practitioner's own share is close as well, and is over the bound by a hair."""
    most = F(3, 5) - F(1, 10_000_000)
    assert exact_shares(at_most(most), OWN, GIVE) == (most, 1 - most)


def test_shares_that_are_close_to_no_corner_have_no_exact_answer() -> None:
    assert exact_shares(Balance(OWN, ()), (F(1, 2), F(1, 2)), GIVE) is None


def test_a_corner_that_does_not_fit_is_no_answer() -> None:
    assert exact_shares(at_most(F(1, 2)), OWN, GIVE) is None
