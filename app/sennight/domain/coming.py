"""What a course brings to the practitioner's attention, and on which days.

Nothing here depends on today: the same course has the same coming days whenever it is read, so
they can be kept beside it and asked for by day.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import chain

from sennight.domain.courses.stretches import Layout
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.matters import Matter
from sennight.domain.reminders.breaks import breaks, flare_ends, weeks_off
from sennight.domain.reminders.markers import reviews_in


@dataclass(frozen=True, slots=True, order=True)
class ComingDay:
    """Something that a course brings on a day.

    `what` is the phase or the remedy that it is about, in the course's own words; empty where it
    is about the whole course. `until` is the last day of it where it lasts, for an order the last
    day that is covered.
    """

    matter: Matter
    day: date
    what: str = ""
    until: date | None = None


def coming_days(layout: Layout, lasts: Iterable[Lasting] = ()) -> tuple[ComingDay, ...]:
    """All that a course brings, in order; each matter once for a day and what it is about.

    `lasts` says how long what was handed over lasts. A course that was struck out brings nothing.
    """
    if layout.course.is_void:
        return ()
    every = chain(_phases(layout), _flares(layout), _off(layout), _paused(layout))
    found = sorted({*every, *_orders(layout, lasts)}, key=_without_end, reverse=True)
    # Of two that end on different days the one that ends first is kept: it stands last here.
    once = {(row.matter, row.day, row.what): row for row in found}
    return tuple(sorted(once.values(), key=_without_end))


def _without_end(row: ComingDay) -> tuple[Matter, date, str, date]:
    return row.matter, row.day, row.what, row.until or date.min


def _phases(layout: Layout) -> Iterator[ComingDay]:
    for place, run in enumerate(layout.phases):
        matter = Matter.PHASE if place else Matter.BEGIN
        yield ComingDay(matter, run.span.first, run.phase.id, run.span.last)
        for day in reviews_in(run.span):
            yield ComingDay(Matter.REVIEW, day, run.phase.id)
    if layout.days:
        yield ComingDay(Matter.END, layout.days.last)


def _flares(layout: Layout) -> Iterator[ComingDay]:
    for flare in layout.flares:
        yield ComingDay(Matter.FLARE, flare.span.first, flare.phase.id, flare.span.last)
    for flare, day in flare_ends(layout):
        yield ComingDay(Matter.FLARE_END, day, flare.phase.id)


def _off(layout: Layout) -> Iterator[ComingDay]:
    for week in weeks_off(layout):
        yield ComingDay(Matter.OFF, week.span.first, week.remedy.name, week.span.last)
        if week.back is not None:
            yield ComingDay(Matter.BACK, week.back, week.remedy.name)


def _paused(layout: Layout) -> Iterator[ComingDay]:
    for span, again in breaks(layout):
        yield ComingDay(Matter.PAUSE, span.first, "", span.last)
        if again:
            yield ComingDay(Matter.RESUME, span.end)


def _orders(layout: Layout, lasts: Iterable[Lasting]) -> Iterator[ComingDay]:
    for row in lasts:
        if row.order_by is not None:
            name = layout.course.remedy(row.bottle.formula).name
            yield ComingDay(Matter.ORDER, row.order_by, name, row.last_day)
