"""Balancing a formula: by hand, against a search over a grid, and conflicts that are least."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.exposure.bands import Band
from sennight.domain.formulas.balance import (
    Balance,
    Bound,
    Daily,
    balance_of,
    band_bounds,
    cost_bound,
    rebalanced,
    strength_bound,
)
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.practice.balancing import Balanced, Conflict, balanced
from support.draws import draws
from support.herb_samples import BLEND, range_in_grams

F = Fraction

TWICE = Daily(F(5), Unit.ML, 2, 2)


def solved(*bounds: Bound, blend: Remedy = BLEND) -> Balanced:
    found = balanced(balance_of(blend, bounds))
    assert isinstance(found, Balanced)
    return found


def test_what_fits_already_is_left_alone() -> None:
    assert solved(strength_bound(BLEND, F(46))) == Balanced((F(3, 5), F(2, 5)), F(0))


def test_a_greatest_strength() -> None:
    """60 s + 25 (1 − s) ≤ 40 where s is at most 3⁄7: 6⁄35 less than 3⁄5, and as much more of b."""
    found = solved(strength_bound(BLEND, F(40)))
    assert found.shares == (F(3, 7), F(4, 7))
    assert found.change == F(12, 35)


def test_the_solver_prints_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    """It is written in another language, and would go past Python straight to the terminal."""
    solved(strength_bound(BLEND, F(40)))
    assert capfd.readouterr() == ("", "")


def test_a_band_for_a_herb() -> None:
    """10 mL a day hold 2 s g of `a`; the middle of 0.3 to 0.9 g ends at 0.7 g, which is high.

    A hundredth of the range's width is kept from there: 0.694 g, s = 0.347.
    """
    found = solved(*band_bounds(BLEND, TWICE, "a", Band.MIDDLE, range_in_grams("0.3-0.9")))
    assert found.shares == (F(347, 1000), F(653, 1000))


def test_what_is_taken_as_needed_must_not_go_over() -> None:
    """Twice timed and four times at most: 4 s g at most 0.9 g, so s ≤ 0.225."""
    daily = Daily(F(5), Unit.ML, 2, 4)
    found = solved(*band_bounds(BLEND, daily, "a", Band.LOW, range_in_grams("0.3-0.9")))
    assert found.shares == (F(225, 1000), F(775, 1000))


def test_a_greatest_cost() -> None:
    """a at 3, b at 1: at most 2 for each mL is half and half."""
    found = solved(cost_bound(BLEND, {"a": F(3), "b": F(1)}, F(2)))
    assert found.shares == (F(1, 2), F(1, 2))


def test_a_tea_is_balanced_by_weight() -> None:
    tea = Remedy(
        "t", "Tea", Form.TEA, (Ingredient("a", F(1)), Ingredient("b", F(3))), TeaMaking(F(4))
    )
    bounds = band_bounds(tea, Daily(F(2), Unit.CUP, 1, 1), "a", Band.HIGH, range_in_grams("1-4"))
    found = solved(*bounds, blend=tea)
    assert found.shares == (F(3, 8), F(5, 8))  # 8 g a day, 3 g of it
    assert [one.parts for one in rebalanced(tea, found.shares).ingredients] == [F(3, 2), F(5, 2)]


def test_conflicting_bounds_are_named_and_no_others() -> None:
    """`a` must be half at least for its band, the strength allows a seventh; the cost is free."""
    band = band_bounds(BLEND, TWICE, "a", Band.HIGH, range_in_grams("0.4-1.3"))
    strength = strength_bound(BLEND, F(30))
    cost = cost_bound(BLEND, {"a": F(3), "b": F(1)}, F(3))
    found = balanced(balance_of(BLEND, (cost, *band, strength)))
    assert isinstance(found, Conflict)
    assert found.bounds == (band[0], strength)


# Against a search over a grid

STEPS = 12
GRID = [
    (F(i, STEPS), F(j, STEPS), F(STEPS - i - j, STEPS))
    for i, j in product(range(STEPS + 1), repeat=2)
    if i + j <= STEPS
]
VALUES = st.fractions(0, 5, max_denominator=4)
BOUNDS = st.builds(
    lambda factors, low, width: Bound(f"{factors}", "", factors, low, low + width),
    st.tuples(VALUES, VALUES, VALUES),
    VALUES,
    VALUES,
)


def change(own: tuple[Fraction, ...], new: tuple[Fraction, ...]) -> Fraction:
    return sum((abs(a - b) for a, b in zip(own, new, strict=True)), F(0))


@settings(max_examples=draws(25))
@given(st.sampled_from(GRID), st.lists(BOUNDS, max_size=4))
def test_no_point_of_a_grid_fits_with_less_change(
    own: tuple[Fraction, ...], bounds: list[Bound]
) -> None:
    found = balanced(Balance(own, tuple(bounds)))
    fitting = [new for new in GRID if all(bound.holds(new) for bound in bounds)]
    if isinstance(found, Conflict):
        assert not fitting
        return
    assert sum(found.shares) == 1
    assert min(found.shares) >= 0
    assert all(bound.holds(found.shares) for bound in bounds)
    assert found.change == change(own, found.shares)
    assert all(change(own, new) >= found.change for new in fitting)


@settings(max_examples=draws(15))
@given(st.sampled_from(GRID), st.lists(BOUNDS, min_size=1, max_size=4))
def test_a_conflict_is_gone_without_any_one_of_its_bounds(
    own: tuple[Fraction, ...], bounds: list[Bound]
) -> None:
    found = balanced(Balance(own, tuple(bounds)))
    assume(isinstance(found, Conflict))
    assert isinstance(found, Conflict)
    assert found.bounds
    for one in found.bounds:
        others = tuple(bound for bound in found.bounds if bound is not one)
        assert isinstance(balanced(Balance(own, others)), Balanced)
