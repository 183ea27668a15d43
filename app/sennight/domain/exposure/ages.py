"""Intakes by the ages of a child, at which what is published changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from itertools import pairwise

from sennight.domain.dates import Span, add_months
from sennight.domain.exposure.runs import Intake
from sennight.domain.herbs.child_doses import LEAST_YEARS, NO_LONGER_A_CHILD
from sennight.domain.herbs.herbs import MateriaMedica

ADULT = NO_LONGER_A_CHILD * 12
"""Months from which ranges for adults are compared with."""


def by_age(
    taken: Iterable[Intake], materia_medica: MateriaMedica, born: date | None
) -> Iterator[tuple[int | None, list[Intake]]]:
    """The intakes of each age, cut at birthdays; the age in months, None where ranges hold.

    All at once where no day of birth is known, and where nothing is taken in childhood.
    """
    intakes = list(taken)
    grown = add_months(born, ADULT) if born else date.min
    if born is None or all(intake.span.first >= grown for intake in intakes):
        yield None, intakes
        return
    ages = {0, LEAST_YEARS * 12, ADULT}
    for doses in materia_medica.child_doses.values():
        for dose in doses:
            ages |= {age for age in (dose.from_months, dose.below_months) if age < ADULT}
    for age, until in pairwise(sorted(ages)):
        first = add_months(born, age) if age else date.min
        yield age, _within(intakes, Span(first, add_months(born, until)))
    yield None, _within(intakes, Span(grown, date.max))


def _within(intakes: Iterable[Intake], days: Span) -> list[Intake]:
    """The intakes on some days, cut to them where they reach beyond."""
    return [
        intake
        if days.first <= intake.span.first and intake.span.end <= days.end
        else replace(intake, span=intake.span.overlap(days))
        for intake in intakes
        if intake.span.touches(days)
    ]
