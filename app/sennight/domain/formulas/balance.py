"""Balancing a formula: what is asked of its parts, stated as bounds on sums.

The parts of a tea, tincture or rub keep their sum, so every daily amount, the strength and the
cost are sums of the parts, each times a factor. Among the parts that fit, those are wanted that
change least from the practitioner's own: the smallest sum of absolute changes. This module
states the problem and checks an answer exactly; the practice layer has the solver.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.exposure.bands import Band
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.ranges import WorkingRange
from sennight.domain.remedies.contents import Unknown, herb_amounts, shares
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import composition_of
from sennight.domain.remedies.remedies import Remedy

ZERO = Fraction(0)

_EDGE = Fraction(1, 100)
"""Kept away from an end that belongs to the next band, as a part of the range's width."""

_PLACES = {
    Band.LOW: (Fraction(0), Fraction(1, 3) - _EDGE),
    Band.MIDDLE: (Fraction(1, 3), Fraction(2, 3) - _EDGE),
    Band.HIGH: (Fraction(2, 3), Fraction(1)),
}


@dataclass(frozen=True, slots=True)
class Bound:
    """A sum over the parts' shares that must lie between two values, both ends included.

    `of` is a herb's id, or what else of the formula is bounded; `asks` says what is asked of it.
    None leaves a side open.
    """

    of: str
    asks: str
    factors: tuple[Fraction, ...]
    low: Fraction | None = None
    high: Fraction | None = None

    def holds(self, new: Sequence[Fraction]) -> bool:
        """Whether it holds for these shares."""
        value = sum((f * s for f, s in zip(self.factors, new, strict=True)), ZERO)
        return (self.low is None or value >= self.low) and (
            self.high is None or value <= self.high
        )


@dataclass(frozen=True, slots=True)
class Balance:
    """A formula's own shares, which sum to 1, and the bounds asked of new ones."""

    own: tuple[Fraction, ...]
    bounds: tuple[Bound, ...]


@dataclass(frozen=True, slots=True)
class Daily:
    """What is taken in a day: an amount in one go, how often it is timed and at most."""

    amount: Fraction
    unit: Unit
    timed: int
    most: int


def balance_of(remedy: Remedy, bounds: Iterable[Bound]) -> Balance:
    """The problem for a formula; raises CalculationError for capsules or parts not said."""
    own = shares(remedy)
    known = [share for share in own if share is not None]
    written = composition_of(remedy.form) in (Composition.BY_WEIGHT, Composition.BY_VOLUME)
    if not written or len(known) < len(own) or (remedy.base and remedy.base.parts):
        raise CalculationError("expected parts for every herb, and no base")
    return Balance(tuple(known), tuple(bounds))


def band_bounds(
    remedy: Remedy, daily: Daily, herb: str, band: Band, limit: WorkingRange
) -> tuple[Bound, ...]:
    """A herb's timed amount within a band of its range, and its most not over the maximum.

    Raises CalculationError for a band that nobody aims at, or where an amount cannot be told.
    """
    if band not in _PLACES:
        raise CalculationError(f"a herb is not brought to “{band}”; expected low, middle or high")
    grams = _grams(remedy, daily, herb)
    first, last = _PLACES[band]
    width = limit.high - limit.low
    return (
        Bound(
            herb,
            f"{band}, {_span(limit, first, last)} g a day",
            tuple(amount * daily.timed for amount in grams),
            limit.low + width * first,
            limit.low + width * last,
        ),
        Bound(
            herb,
            f"at most {rounded(limit.high, 4)} g a day, with what is taken as needed",
            tuple(amount * daily.most for amount in grams),
            None,
            limit.high,
        ),
    )


def _span(limit: WorkingRange, first: Fraction, last: Fraction) -> str:
    width = limit.high - limit.low
    ends = (rounded(limit.low + width * place, 4) for place in (first, last))
    return " to ".join(dict.fromkeys(ends))


def _grams(remedy: Remedy, daily: Daily, herb: str) -> tuple[Fraction, ...]:
    """Grams of a herb in one go, were the whole formula each ingredient in turn."""
    even = replace(
        remedy,
        ingredients=tuple(
            replace(ingredient, parts=Fraction(1)) for ingredient in remedy.ingredients
        ),
    )
    grams = []
    for amount in herb_amounts(even, daily.amount, daily.unit):
        if isinstance(amount.grams, Unknown):
            raise CalculationError(
                f"the amount of {amount.herb} is not known: {amount.grams.reason}"
            )
        grams.append(amount.grams * len(remedy.ingredients) if amount.herb == herb else ZERO)
    if not any(grams):
        raise CalculationError(f"{remedy.name} contains no {herb}; expected one of its herbs")
    return tuple(grams)


def strength_bound(remedy: Remedy, most: Fraction) -> Bound:
    """At most so many % v/v of ethanol in the blend; raises CalculationError where not said."""
    ethanol = [
        ingredient.ethanol for ingredient in remedy.ingredients if ingredient.ethanol is not None
    ]
    if len(ethanol) < len(remedy.ingredients):
        raise CalculationError("some herbs have no ethanol entered; expected it in % v/v for each")
    return Bound("strength", f"at most {rounded(most, 4)} % v/v", tuple(ethanol), None, most)


def cost_bound(remedy: Remedy, prices: Mapping[str, Fraction], most: Fraction) -> Bound:
    """At most so much money for one mL (or gram) of the blend, from the herbs' prices for one."""
    missing = [
        ingredient.herb for ingredient in remedy.ingredients if ingredient.herb not in prices
    ]
    if missing:
        raise CalculationError(f"no price is known for {', '.join(missing)}")
    factors = tuple(prices[ingredient.herb] for ingredient in remedy.ingredients)
    return Bound("cost", f"at most {rounded(most, 4)} for each mL or g", factors, None, most)


def rebalanced(remedy: Remedy, new_shares: Sequence[Fraction]) -> Remedy:
    """The formula with these shares, its parts summing to what they did before."""
    whole = sum((ingredient.parts or ZERO for ingredient in remedy.ingredients), ZERO)
    pairs = zip(remedy.ingredients, new_shares, strict=True)
    ingredients = tuple(replace(ingredient, parts=share * whole) for ingredient, share in pairs)
    return replace(remedy, ingredients=ingredients)


# Exact answers


def exact_shares(balance: Balance, near: Sequence[Fraction], give: Fraction) -> Shares | None:
    """The corner of what fits that lies nearest to a solver's answer, exactly; None if none does.

    A least change is reached where as many of these hold as equations as there are parts: the
    sum is 1, a share is 0 or the practitioner's own, a bound is at one of its ends. Those that
    hold nearly are solved exactly, and the result must fit every bound.
    """
    whole = [Fraction(1)] * (len(near) + 1)
    close = [row for row in _equations(balance) if abs(_miss(row, near)) <= give * _size(row)]
    for rows in (close, close[::-1]):
        solution = _solution([whole, *rows], len(near))
        if (
            solution
            and min(solution) >= 0
            and all(bound.holds(solution) for bound in balance.bounds)
        ):
            return solution
    return None


Shares = tuple[Fraction, ...]
_Row = list[Fraction]


def _equations(balance: Balance) -> Iterable[_Row]:
    """Factors of the shares, and what their sum equals."""
    for n, own in enumerate(balance.own):
        factors = [Fraction(n == m) for m in range(len(balance.own))]
        yield [*factors, own]
        yield [*factors, ZERO]
    for bound in balance.bounds:
        for end in (bound.low, bound.high):
            if end is not None:
                yield [*bound.factors, end]


def _miss(row: _Row, near: Sequence[Fraction]) -> Fraction:
    return sum((factor * share for factor, share in zip(row, near, strict=False)), ZERO) - row[-1]


def _size(row: _Row) -> Fraction:
    return max(abs(factor) for factor in row[:-1])


def _solution(rows: list[_Row], unknowns: int) -> Shares | None:
    """The one solution of linear equations, by elimination; None where they allow several.

    Rows that follow from earlier ones, or contradict them, are left out.
    """
    solved: list[_Row] = []
    pivots: list[int] = []
    for row in rows:
        left = row
        for done, pivot in zip(solved, pivots, strict=True):
            left = [a - left[pivot] * b for a, b in zip(left, done, strict=True)]
        first = next((n for n, factor in enumerate(left[:-1]) if factor), None)
        if first is not None:
            left = [factor / left[first] for factor in left]
            solved = [
                [a - done[first] * b for a, b in zip(done, left, strict=True)] for done in solved
            ]
            solved.append(left)
            pivots.append(first)
    if len(pivots) < unknowns:
        return None
    return tuple(solved[pivots.index(n)][-1] for n in range(unknowns))
