"""When a client is told to ask for more, and for how long what they have lasts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.lasting import Lasting, lasting
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.needs import Bottle
from sennight.practice.opening import OpenPractice
from sennight.store.unit import UnitOfWork

Reorders = tuple[tuple[date, str], ...]
"""The days on which to order more, and what to say then."""


def lasting_in(unit: UnitOfWork, layout: Layout) -> tuple[Lasting, ...]:
    """How long each remedy lasts that was handed over for the course."""
    return lasting(layout, unit.dispensary.handed_for(layout.course.id))


def lasting_for(practice: OpenPractice, layout: Layout) -> tuple[Lasting, ...]:
    """The same, read from the practice file."""
    with practice.file.reading() as unit:
        return lasting_in(unit, layout)


def reorders_of(course: Course, lasts: Iterable[Lasting]) -> Reorders:
    """When to ask for more of what was handed over."""
    return tuple(_told(course, ((row.bottle, row.last_day, row.order_by) for row in lasts)))


def reorders_planned(course: Course, supplies: Iterable[PhaseSupply]) -> Reorders:
    """When to ask for more where each phase's containers are handed over as it begins."""
    return tuple(_told(course, ((row.bottle, row.lasts_until, row.order_by) for row in supplies)))


def _told(
    course: Course, rows: Iterable[tuple[Bottle, date | None, date | None]]
) -> Iterator[tuple[date, str]]:
    for bottle, last, order_by in rows:
        if last is not None and order_by is not None:
            name = course.remedy(bottle.formula).name
            yield order_by, f"Ask for more {name}: yours lasts until about {plain_date(last)}."
