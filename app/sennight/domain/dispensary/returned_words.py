"""What a count of what is left says, in words: with its bounds, and beside the diary."""

from __future__ import annotations

from fractions import Fraction

from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.plain_words import plain_dates
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.returned import Usage
from sennight.domain.supply.quantities import Quantity

NOT_TAKEN = "What has left the container was not necessarily taken."
"""Stands beneath the sentences."""


def usage_words(usage: Usage, name: str, diary: Fraction | None) -> str:
    """How much of what was due has left the container; `diary` is what the diary says of it."""
    days = plain_dates(Span(usage.since, usage.returned.day + ONE_DAY))
    if usage.gone < 0:
        more = _amount(usage, -usage.gone)
        return f"{name}, {days}: {more} more left than there was on record."
    told = f"{name}, {days}: {_amount(usage, usage.gone)} gone, {_due(usage)}"
    if usage.bounds is None:
        return f"{told}."
    return f"{told}: {_share(usage, usage.bounds)}.{_beside(usage.bounds, diary)}"


def _amount(usage: Usage, amount: Fraction) -> str:
    return quantity_words(Quantity(amount, usage.returned.left.unit))


def _due(usage: Usage) -> str:
    """What was due by the clock, and what could be taken beside it."""
    least, most = usage.due
    told = f"{_amount(usage, least)} due" if most else "nothing due at set times"
    if most != least:
        told = f"{_amount(usage, least)} to {_amount(usage, most)} due"
    if usage.as_needed:
        told += f" and up to {_amount(usage, usage.as_needed)} as needed"
    return told


def _share(usage: Usage, bounds: tuple[Fraction, Fraction]) -> str:
    low, high = (_percent(bound) for bound in bounds)
    between = f"between {low} and {high} %"
    share = usage.proportion
    return between if share is None else f"{_percent(share)} %, {between} allowing for error"


def _beside(bounds: tuple[Fraction, Fraction], diary: Fraction | None) -> str:
    """What the diary says, and whether that can be."""
    if diary is None:
        return ""
    low, high = bounds
    fits = "" if low <= diary <= high else ", which does not agree"
    return f" The diary says {_percent(diary)} %{fits}."


def _percent(share: Fraction) -> int:
    return round(share * 100)
