"""What changes from one day of a course to the next: what a month page says of its days."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum

from sennight.domain.courses.stretches import Layout, Stretch

DAY = timedelta(days=1)


class Change(Enum):
    """How a remedy, a phase or the whole course is other than on the day before."""

    PHASE = "phase"
    FLARE = "flare-up"
    PAUSE = "pause"
    STARTS = "starts"
    STEP = "step"
    AGAIN = "again"
    OFF = "off"
    STOPS = "stops"


@dataclass(frozen=True, slots=True)
class DayChange:
    """One change on a day.

    `remedy` is its place in the course, None for phases and pauses; `name` the phase that begins;
    `stretch` what a remedy is taken by from then on, None where it is not taken.
    """

    kind: Change
    remedy: int | None = None
    name: str = ""
    stretch: Stretch | None = None


def day_changes(layout: Layout) -> Mapping[date, tuple[DayChange, ...]]:
    """The days on which something changes, each with its changes: phases first, then remedies."""
    found: dict[date, list[DayChange]] = {}
    for day, change in (*_of_the_course(layout), *_of_remedies(layout)):
        if day in layout.days:
            found.setdefault(day, []).append(change)
    return {day: tuple(changes) for day, changes in found.items()}


def _of_the_course(layout: Layout) -> Iterator[tuple[date, DayChange]]:
    for run in layout.phases:
        yield run.span.first, DayChange(Change.PHASE, name=run.phase.id)
    for run in layout.flares:
        yield run.span.first, DayChange(Change.FLARE, name=run.phase.id)
    for span in layout.pauses:
        yield span.first, DayChange(Change.PAUSE)


def _of_remedies(layout: Layout) -> Iterator[tuple[date, DayChange]]:
    for place, remedy in enumerate(layout.course.remedies):
        taken = [stretch for stretch in layout.stretches if stretch.remedy == remedy.id]
        off = [rest.span for rest in layout.rests if rest.remedy == remedy.id]
        before = {stretch.span.last: stretch for stretch in taken}
        resumed = {span.end for span in (*off, *layout.pauses)}
        for stretch in taken:
            kind = _begins(stretch, before.get(stretch.span.first - DAY), resumed)
            if kind is not None:
                yield stretch.span.first, DayChange(kind, place, stretch=stretch)
        for span in off:
            if not any(span.first - DAY in other for other in off):
                yield span.first, DayChange(Change.OFF, place)
        going_on = {stretch.span.first for stretch in taken} | {span.first for span in off}
        for end in {stretch.span.end for stretch in taken} | {span.end for span in off}:
            if end not in going_on and not any(end in pause for pause in layout.pauses):
                yield end, DayChange(Change.STOPS, place)


def _begins(stretch: Stretch, before: Stretch | None, resumed: set[date]) -> Change | None:
    """What the first day of a stretch is; None where it goes on as it was."""
    if before is not None:
        same = (before.amount, before.unit, before.times, before.days, before.as_needed_max)
        now = (stretch.amount, stretch.unit, stretch.times, stretch.days, stretch.as_needed_max)
        return None if same == now and before.formula == stretch.formula else Change.STEP
    return Change.AGAIN if stretch.span.first in resumed else Change.STARTS
