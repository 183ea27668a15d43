"""Where everything of the timeline stands, in pixels from its left edge. No painting."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span, add_months
from sennight.domain.directions.plain_words import MONTH_NAMES

WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Scale:
    """Days along a line: day `first` begins at `left`, and `width` holds `days`."""

    first: date
    days: int
    left: float
    width: float

    @property
    def day_width(self) -> float:
        """How wide one day is."""
        return self.width / max(1, self.days)

    def x(self, day: date) -> float:
        """Where a day begins."""
        return self.left + (day - self.first).days * self.day_width

    def day(self, x: float) -> date:
        """The day whose beginning is nearest."""
        return self.first + timedelta(days=round((x - self.left) / self.day_width))

    def day_under(self, x: float) -> date:
        """The day that lies under a point."""
        return self.first + timedelta(days=int((x - self.left) // self.day_width))


class LaneKind(Enum):
    """What a bar of a lane stands for."""

    TAKEN = "taken"
    AS_NEEDED = "as needed"
    OFF = "off"


@dataclass(frozen=True, slots=True)
class LaneBar:
    """A run of days in the lane of one remedy; `index` is its place in the course."""

    kind: LaneKind
    index: int
    left: float
    right: float
    in_flare: bool = False


@dataclass(frozen=True, slots=True)
class PhaseBand:
    """A phase, a flare or a pause along the axis."""

    name: str
    left: float
    right: float
    span: Span


@dataclass(frozen=True, slots=True)
class Tick:
    """A line of the axis, with what is written at it."""

    x: float
    text: str
    day: date


@dataclass(frozen=True, slots=True)
class Flag:
    """The decisions of one day: their places in the course's list of revisions."""

    x: float
    day: date
    revisions: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TimelineLayout:
    """The timeline of a course at one width.

    `lanes` are the places in the course of the remedies that have days, one a lane, `kept` of
    those that have none: they wait in the flare-up plan, or are not taken.
    """

    scale: Scale
    months: tuple[Tick, ...]
    weeks: tuple[Tick, ...]
    phases: tuple[PhaseBand, ...]
    flares: tuple[PhaseBand, ...]
    pauses: tuple[PhaseBand, ...]
    bars: tuple[LaneBar, ...]
    flags: tuple[Flag, ...]
    today: float | None
    lanes: tuple[int, ...]
    kept: tuple[int, ...]

    def row(self, index: int) -> int:
        """The lane of the remedy at a place in the course."""
        return self.lanes.index(index)


@dataclass(frozen=True, slots=True)
class Room:
    """The days stand from `left` on, `width` wide; `label` is what a week's number wants."""

    left: float
    width: float
    label: float


def timeline_layout(
    layout: Layout,
    room: Room,
    *,
    today: date,
    days: Span | None = None,
    held: frozenset[str] = frozenset(),
) -> TimelineLayout:
    """The timeline of a course in its room.

    `days` are those along the axis, the course's own where they are left out; remedies that are
    `held` have a lane, also where they have no days.
    """
    days = days or layout.days
    scale = Scale(days.first, days.days, room.left, room.width)
    taken = {s.remedy for s in layout.stretches} | {rest.remedy for rest in layout.rests} | held
    places = [(n, remedy.id in taken) for n, remedy in enumerate(layout.course.remedies)]
    return TimelineLayout(
        scale,
        tuple(_months(scale, days, room.label)),
        tuple(_weeks(scale, days, room.label)),
        _bands(scale, ((run.phase.id, run.span) for run in layout.phases)),
        _bands(scale, ((run.phase.id, run.span) for run in layout.flares)),
        _bands(scale, (("", span.overlap(days)) for span in layout.pauses)),
        tuple(_bars(layout, scale)),
        tuple(_flags(layout, scale)),
        scale.x(today) + scale.day_width / 2 if today in days else None,
        tuple(n for n, has_days in places if has_days),
        tuple(n for n, has_days in places if not has_days),
    )


def _months(scale: Scale, days: Span, label: float) -> Iterator[Tick]:
    """The first of each month, its name where there is room, the year where it is new."""
    first = days.first.replace(day=1)
    year = 0
    while first < days.end:
        after = add_months(first, 1)
        x = max(scale.x(first), scale.left)
        room = scale.x(min(after, days.end)) - x
        name = MONTH_NAMES[first.month - 1]
        if first.year != year and room > label * 6:
            text, year = f"{name} {first.year}", first.year
        else:
            short = name[:3] if room > label * 1.6 else name[:1] if room > label * 0.7 else ""
            text = name if room > label * 4 else short
        yield Tick(x, text, max(first, days.first))
        first = after


def _weeks(scale: Scale, days: Span, label: float) -> Iterator[Tick]:
    """Each course week, its number where there is room: every one, every second, fourth …"""
    step = 1
    while scale.day_width * 7 * step < label and step < 64:
        step *= 2
    for number in range((days.days + 6) // 7):
        day = days.first + WEEK * number
        yield Tick(scale.x(day), str(number + 1) if number % step == 0 else "", day)


def _bands(scale: Scale, spans: Iterator[tuple[str, Span]]) -> tuple[PhaseBand, ...]:
    return tuple(
        PhaseBand(name, scale.x(span.first), scale.x(span.end), span)
        for name, span in spans
        if span
    )


def _bars(layout: Layout, scale: Scale) -> Iterator[LaneBar]:
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    rescues = {run.phase.id for run in layout.flares}
    for rest in layout.rests:
        yield _bar(
            scale, LaneKind.OFF, order[rest.remedy], rest.span, in_flare=rest.phase in rescues
        )
    for s in layout.stretches:
        kind = LaneKind.TAKEN if s.times else LaneKind.AS_NEEDED
        yield _bar(scale, kind, order[s.remedy], s.span, in_flare=s.phase in rescues)


def _bar(scale: Scale, kind: LaneKind, index: int, span: Span, *, in_flare: bool) -> LaneBar:
    return LaneBar(kind, index, scale.x(span.first), scale.x(span.end), in_flare)


def _flags(layout: Layout, scale: Scale) -> Iterator[Flag]:
    """The revisions by the day of the decision; one before the course stands at its start."""
    by_day: dict[date, list[int]] = {}
    for n, revision in enumerate(layout.course.revisions):
        by_day.setdefault(revision.on, []).append(n)
    for day in sorted(by_day):
        inside = min(max(day, layout.days.first), layout.days.end)
        yield Flag(scale.x(inside), day, tuple(by_day[day]))
