"""What a client takes of each herb: every ingredient of every stretch, in grams a day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions
from sennight.domain.exposure.days import DayFilter
from sennight.domain.exposure.runs import Amount, FormDays, Intake
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.contents import Unknown, herb_amounts
from sennight.domain.remedies.remedies import Remedy

_Amounts = tuple[tuple[str, TakenAs, Amount], ...]


def intakes(layout: Layout) -> Iterator[Intake]:
    """The intakes of a course; each line's amounts are worked out once for all its stretches."""
    known: dict[tuple[str, int], _Amounts] = {}
    for one in layout.stretches:
        line = one.formula, id(one.directions)
        if line not in known:
            remedy = layout.course.remedy(one.formula)
            doses = len(one.times), one.as_needed_max or 0
            known[line] = _amounts(remedy, one.directions, *doses)
        days = DayFilter.of(one)
        for herb, form, amount in known[line]:
            yield Intake(one.span, herb, FormDays(form, days), amount)


def intakes_of_a_day(remedy: Remedy, take: Directions, day: ClientDay) -> Iterator[Intake]:
    """The intakes of one remedy by itself, on a day on which it is taken."""
    some_day = Span.of_days(date.min, date.min)
    as_needed = take.as_needed.ceiling(day) if take.as_needed else 0
    for herb, form, amount in _amounts(remedy, take, len(take.minutes(day)), as_needed):
        yield Intake(some_day, herb, FormDays(form, DayFilter()), amount)


def _amounts(remedy: Remedy, take: Directions, timed: int, as_needed: int) -> _Amounts:
    materia_medica = herb_amounts(remedy, take.amount, take.unit)
    return tuple(
        (one.herb, one.form, _amount(one.grams, one.ratio, timed, timed + as_needed))
        for one in materia_medica
    )


def _amount(grams: Fraction | Unknown, ratio: Fraction | None, timed: int, most: int) -> Amount:
    ratios = frozenset((ratio,))
    if isinstance(grams, Unknown):
        return Amount(Fraction(0), Fraction(0), ratios, frozenset((grams.reason,)))
    return Amount(grams * timed, grams * most, ratios)
