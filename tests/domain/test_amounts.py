"""Exact numbers in writing."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.amounts import plain_number, rounded


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(2), "2"),
        (Fraction(20), "20"),
        (Fraction(1000), "1000"),
        (Fraction(1, 2), "0.5"),
        (Fraction(5, 2), "2.5"),
        (Fraction(1, 3), "1/3"),
        (Fraction(3, 8), "0.375"),
        (Fraction(0), "0"),
        (Fraction(-1, 4), "-0.25"),
    ],
)
def test_plain_numbers(value: Fraction, text: str) -> None:
    """No trailing zero, and a figure before the point: Joint Commission "Do Not Use" list."""
    assert plain_number(value) == text


@given(st.decimals(-9999, 9999, places=6))
def test_decimals_are_written_exactly(value: Decimal) -> None:
    assert Fraction(plain_number(Fraction(value))) == Fraction(value)


@given(st.fractions(0, 9999, max_denominator=97))
def test_what_is_written_reads_back(value: Fraction) -> None:
    assert Fraction(plain_number(value)) == value


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (Fraction(2, 3), 3, "0.667"),
        (Fraction(1, 8), 2, "0.13"),
        (Fraction(-1, 8), 2, "-0.13"),
        (Fraction(1999, 1000), 2, "2"),
        (Fraction(17, 21), 4, "0.8095"),  # 17 of 21 doses
    ],
)
def test_rounding_is_half_away_from_nought(value: Fraction, places: int, text: str) -> None:
    assert rounded(value, places) == text
