"""The least that brings a herb to a chosen place in its range: so many capsules, or mL, a day.

A place is a position from 0 (the minimum) to 1 (the maximum), as in `exposure_bands`. Over
several forms the fractions of the maxima add up, and adding a form with a high minimum can lower
the position before it raises it; the least amount is found exactly all the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from sennight.domain.directions.directions import Unit
from sennight.domain.exposure.bands import Band, band_of
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.ranges import NoRange, Reservation, WorkingRange, range_or_reason
from sennight.domain.remedies.contents import HerbAmount, Unknown, herb_amounts
from sennight.domain.remedies.remedies import Remedy

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Addition:
    """What may be added: a remedy, by whole steps of an amount a day (1 capsule, 0.5 mL)."""

    remedy: Remedy
    step: Fraction
    unit: Unit


@dataclass(frozen=True, slots=True)
class TopUp:
    """The amount to add in a day, and what the herb comes to with it.

    `fraction` is the timed amount as a fraction of the maximum, `place` its position.
    `reservations` are to be said before anything is prescribed by it: the range that was gone by
    is not yet checked, is a single figure, or the amount is more mL than its text gives.
    """

    amount: Fraction
    unit: Unit
    fraction: Fraction
    place: Fraction
    band: Band
    reservations: tuple[Reservation, ...] = ()


@dataclass(frozen=True, slots=True)
class _Sum:
    """Sums over the forms: timed, at most, and timed weighted by minimum ÷ maximum."""

    low: Fraction = ZERO
    high: Fraction = ZERO
    weighted: Fraction = ZERO

    def plus(self, steps: int, other: _Sum) -> _Sum:
        return _Sum(
            self.low + steps * other.low,
            self.high + steps * other.high,
            self.weighted + steps * other.weighted,
        )

    @property
    def least(self) -> Fraction:
        """The weighted minimum m."""
        return self.weighted / self.low if self.low else ZERO

    def reaches(self, place: Fraction) -> bool:
        """Whether p = (f − m) ÷ (1 − m) ≥ place, multiplied out so that m = 1 needs no rule."""
        f, weighted = self.low, self.weighted
        return f > 0 and f * f - weighted >= place * (f - weighted)

    @property
    def place(self) -> Fraction:
        if self.least == 1:
            return self.low
        return (self.low - self.least) / (1 - self.least)


def top_up(
    herb: Herb,
    now: Iterable[Exposure],
    adding: Addition,
    *,
    place: Fraction,
    aims: frozenset[str] = frozenset(),
) -> TopUp:
    """The smallest whole number of steps that brings a herb to a place in its range or above.

    `now` are the exposures of a day. Raises CalculationError where an amount or range is not
    known, or where the place cannot be reached without going over, counting as-needed doses.
    """
    if not 0 <= place <= 1:
        raise CalculationError("a place in the range lies from 0 (minimum) to 1 (maximum)")
    rows = [row for row in now if row.herb == herb.id and row.form]
    before, step = _sums(herb, rows, adding, aims)
    room = (1 - before.high) / step.high
    most = room.numerator // room.denominator
    if most < 0:
        raise CalculationError(f"{herb.name} is over its range already; nothing can be added")
    if not before.reaches(place) and not before.plus(most, step).reaches(place):
        raise CalculationError(
            f"no number of steps of {adding.remedy.name} brings {herb.name} there without going "
            "over its range; expected a lower place, a smaller step or another remedy"
        )
    steps = _fewest(before, step, most, place)
    after = before.plus(steps, step)
    band = band_of(after.low, after.high, after.least, ceiling=after.weighted == 0)
    reservations = _reservations(herb, rows, adding, steps, aims) if steps else ()
    return TopUp(steps * adding.step, adding.unit, after.low, after.place, band, reservations)


def _fewest(before: _Sum, step: _Sum, most: int, place: Fraction) -> int:
    """By halving. What is asked is a square in the number of steps that opens upwards.

    So once it does not hold with none, it holds from some number on and ever after.
    """
    if before.reaches(place):
        return 0
    too_few, enough = 0, most
    while enough - too_few > 1:
        middle = (too_few + enough) // 2
        if before.plus(middle, step).reaches(place):
            enough = middle
        else:
            too_few = middle
    return enough


def _sums(
    herb: Herb, rows: list[Exposure], adding: Addition, aims: frozenset[str]
) -> tuple[_Sum, _Sum]:
    """What is taken now and what one step adds, against the same ranges."""
    amounts: dict[TakenAs, tuple[Fraction, Fraction]] = {}
    limits: dict[TakenAs, tuple[Fraction, Fraction]] = {}
    for row in rows:
        if row.form is None or None in (row.daily_low, row.daily_high, row.low, row.high):
            raise CalculationError(f"what is taken of {herb.name} now is not known: {row.why}")
        amounts[row.form] = row.daily_low or ZERO, row.daily_high or ZERO
        limits[row.form] = row.low or ZERO, row.high or ZERO
    added: dict[TakenAs, Fraction] = {}
    for amount in herb_amounts(adding.remedy, adding.step, adding.unit):
        if amount.herb == herb.id:
            grams, herb_range = _known(herb, amount, aims)
            span = herb_range.low, herb_range.high
            added[amount.form] = added.get(amount.form, ZERO) + grams
            limits[amount.form] = min(
                limits.get(amount.form, span), span, key=lambda s: (s[1], s[0])
            )
    if not sum(added.values()):
        raise CalculationError(
            f"{adding.remedy.name} contains no {herb.name}; expected one that does"
        )
    before, step = _Sum(), _Sum()
    for form, (low, high) in amounts.items():
        before = before.plus(1, _part(low, high, limits[form]))
    for form, grams in added.items():
        step = step.plus(1, _part(grams, grams, limits[form]))
    return before, step


def _known(herb: Herb, amount: HerbAmount, aims: frozenset[str]) -> tuple[Fraction, WorkingRange]:
    if isinstance(amount.grams, Unknown):
        why = amount.grams.reason
        raise CalculationError(f"how much {herb.name} a step contains is not known: {why}")
    herb_range = range_or_reason(herb, amount.form, amount.ratio, aims)
    if isinstance(herb_range, NoRange):
        raise CalculationError(f"{herb.name}: {herb_range.reason}")
    return amount.grams, herb_range


def _reservations(
    herb: Herb, rows: list[Exposure], adding: Addition, steps: int, aims: frozenset[str]
) -> tuple[Reservation, ...]:
    """What is to be said of the ranges that so many steps go by, each thing once."""
    reservations: dict[Reservation, None] = {}
    for amount in herb_amounts(adding.remedy, adding.step, adding.unit):
        if amount.herb == herb.id:
            grams, herb_range = _known(herb, amount, aims)
            before = sum((row.daily_high or ZERO for row in rows if row.form is amount.form), ZERO)
            is_liquid = amount.form is TakenAs.LIQUID and amount.ratio
            ml = (before + steps * grams) * amount.ratio if is_liquid and amount.ratio else None
            reservations |= dict.fromkeys(herb_range.reservations(ml))
    return tuple(reservations)


def _part(low: Fraction, high: Fraction, limits: tuple[Fraction, Fraction]) -> _Sum:
    least, most = limits
    return _Sum(low / most, high / most, low / most * least / most)
