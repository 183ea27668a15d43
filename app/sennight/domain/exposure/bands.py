"""Bands: where a daily amount lies in a working range."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction


class Band(StrEnum):
    """Where a daily amount lies in a working range."""

    BELOW = "below"
    LOW = "low"
    MIDDLE = "middle"
    HIGH = "high"
    UP_TO = "up to"
    OVER = "over"
    UNKNOWN = "unknown"


def band_of(
    low: Fraction,
    high: Fraction,
    least: Fraction,
    *,
    over: Fraction | None = None,
    ceiling: bool = False,
) -> Band:
    """The band of an amount, all as fractions of the maximum.

    `low` is the timed amount, by which all bands but `over` are judged; `high` the most, by
    which `over` is; `least` the minimum. Position p = (low − least) ÷ (1 − least): below 0 is
    below, under ⅓ low, under ⅔ middle, else high. Where least is 1 the range is one figure:
    below under it, high from it on. `over` is the most as a fraction of what it is over from,
    where that is not the maximum: of a single figure half as much again. Of a `ceiling` nothing
    is known but whether an amount is up to it.
    """
    if (high if over is None else over) > 1:
        return Band.OVER
    if ceiling:
        return Band.UP_TO
    if low < least:
        return Band.BELOW
    if least >= 1:
        return Band.HIGH
    position = (low - least) / (1 - least)
    if position < Fraction(1, 3):
        return Band.LOW
    return Band.MIDDLE if position < Fraction(2, 3) else Band.HIGH
