"""When a client is told to ask for more, and for how long what they have lasts."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.lasting import Lasting, lasting
from sennight.domain.reminders.markers import visits
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.needs import Bottle
from sennight.practice.opening import OpenPractice
from sennight.store.unit import UnitOfWork

Reorders = tuple[tuple[date, str], ...]
"""The days on which to order more, and what to say then."""


def lasting_in(unit: UnitOfWork, layout: Layout) -> tuple[Lasting, ...]:
    """How long each remedy lasts that was handed over for the course, or was counted."""
    number, kept = layout.course.id, unit.dispensary
    settings = unit.pricing.settings().supply
    return lasting(layout, kept.handed_for(number), kept.returned_of(number), settings)


def lasting_for(practice: OpenPractice, layout: Layout) -> tuple[Lasting, ...]:
    """The same, read from the practice file."""
    with practice.file.reading() as unit:
        return lasting_in(unit, layout)


def next_visit(practice: OpenPractice, client_id: str, layout: Layout, today: date) -> date | None:
    """When the client comes next: as agreed, else as the course plans; None after its end."""
    with practice.file.reading() as unit:
        agreed = unit.consultations.next_appointment(client_id, today)
    days = visits(layout, agreed.day if agreed else None, today)
    return min((day for day in days if day > today), default=None)


def reorders_of(course: Course, lasts: Iterable[Lasting]) -> Reorders:
    """When to ask for more of what was handed over."""
    return tuple(
        _told(course, row.bottle, row.order_by, None if row.plan else row.last_day)
        for row in lasts
        if row.order_by is not None and row.last_day is not None
    )


def reorders_planned(course: Course, supplies: Iterable[PhaseSupply]) -> Reorders:
    """When to ask for more where each phase's containers are handed over as it begins."""
    return tuple(
        _told(course, row.bottle, row.order_by, row.lasts_until)
        for row in supplies
        if row.order_by is not None
    )


def _told(course: Course, bottle: Bottle, order_by: date, last: date | None) -> tuple[date, str]:
    """What is said on the day to order: until when it lasts, or that a flare-up has used it."""
    name = course.remedy(bottle.formula).name
    if last is None:
        return order_by, f"Ask for more {name}: a flare-up has used what you keep for one."
    return order_by, f"Ask for more {name}: yours lasts until about {plain_date(last)}."
