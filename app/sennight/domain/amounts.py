"""Exact amounts, as fractions, and how they are written."""

from __future__ import annotations

from decimal import Context, Decimal
from fractions import Fraction

_EXACT = Context(prec=60)


def is_decimal(value: Fraction) -> bool:
    """Whether a fraction has a finite decimal form."""
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def plain_number(value: Fraction) -> str:
    """An exact number as the short form and the CSV files write it: 2, 0.5, 1/3.

    No trailing zero and always a figure before the point, since both are read ten times wrong
    (Joint Commission "Do Not Use" list).
    """
    if not is_decimal(value):
        return f"{value.numerator}/{value.denominator}"
    return f"{_EXACT.divide(Decimal(value.numerator), Decimal(value.denominator)):f}"


def rounded(value: Fraction, places: int) -> str:
    """A number to so many decimal places at most, halves away from zero, no trailing zeros."""
    scale: int = 10**places
    whole = int(abs(value) * scale + Fraction(1, 2))
    return plain_number(Fraction(whole if value >= 0 else -whole, scale))
