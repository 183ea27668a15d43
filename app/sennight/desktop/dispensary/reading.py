"""Reads amounts, money and the rest that is typed into the dispensary's dialogs."""

from __future__ import annotations

from fractions import Fraction

from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.amounts_reading import Bounds, read_number

MOST = 1_000_000


def read_amount(text: str) -> Fraction:
    """An amount above 0; raises ReadingError."""
    return read_number(text, Bounds(translate("Dispensary", "an amount, for example 250"), MOST))


def read_found(text: str) -> Fraction:
    """An amount from 0; raises ReadingError."""
    what = translate("Dispensary", "an amount, for example 0 or 250")
    return read_number(text, Bounds(what, MOST, from_low=True))


def read_money(text: str) -> Fraction:
    """A sum of money from 0; raises ReadingError."""
    what = translate("Dispensary", "a sum, for example 12.50")
    return read_number(text, Bounds(what, MOST, from_low=True))


def read_count(text: str) -> Fraction:
    """A whole number from 1; raises ReadingError."""
    bounds = Bounds(translate("Dispensary", "a whole number, for example 2"), 1000)
    number = read_number(text, bounds)
    return number if number.denominator == 1 else read_number("", bounds)


def read_extract_ratio(text: str) -> Fraction:
    """Grams of extract to 1 g of dried herb, typed as herb to extract: 4:1 is ¼."""
    bounds = Bounds(translate("Dispensary", "a ratio of herb to extract, for example 4:1"), 1000)
    return 1 / read_number(text.removesuffix(":1").strip(), bounds)


def read_share(text: str) -> Fraction:
    """Percent from 0 to 100."""
    what = translate("Dispensary", "percent, for example 50")
    return read_number(text.replace("%", ""), Bounds(what, 100, from_low=True))


def read_spillage(text: str) -> Fraction:
    """Percent from 0 to 50."""
    what = translate("Dispensary", "percent, for example 5")
    return read_number(text.replace("%", ""), Bounds(what, 50, from_low=True))


def read_days(text: str) -> Fraction:
    """A whole number of days from 0."""
    bounds = Bounds(translate("Dispensary", "whole days, for example 7"), 60, from_low=True)
    number = read_number(text, bounds)
    return number if number.denominator == 1 else read_number("", bounds)
