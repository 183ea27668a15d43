"""Exact shares from a solver's nearly exact ones."""

from __future__ import annotations

from fractions import Fraction

from sennight.domain.formulas.balance import Balance, Bound, exact_shares

F = Fraction
GIVE = F(1, 1_000_000)
OWN = (F(3, 5), F(2, 5))


def at_most(most: Fraction) -> Balance:
    """The first of two herbs at most so much of the whole."""
    return Balance(OWN, (Bound("a", (F(1), F(0)), None, most),))


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
