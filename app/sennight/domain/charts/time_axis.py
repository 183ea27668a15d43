"""The axis that charts beneath each other share: days of a course from left to right."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from sennight.domain.charts.drawing import Align, Box, Ink, Lines, Shape, Stroke, Words
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span, course_week

LEAST_AHEAD, MOST_AHEAD = timedelta(weeks=2), timedelta(weeks=12)
"""How far beyond today the axis goes: to the end of the phase that runs, within these."""
LETTERS_WIDE = 0.62
"""How wide a figure is, of the size of its text, at most."""


@dataclass(frozen=True, slots=True)
class TimeAxis:
    """Days laid out from `left` to `right`; `text` is the size of words."""

    days: Span
    left: float
    right: float
    text: float

    def across(self, day: date) -> float:
        """Where a day begins; days outside are brought to the ends."""
        day = min(max(day, self.days.first), self.days.end)
        share = (day - self.days.first).days / self.days.days
        return self.left + share * (self.right - self.left)

    def middle(self, day: date) -> float:
        """The middle of a day."""
        return (self.across(day) + self.across(day + timedelta(days=1))) / 2

    def room_of(self, span: Span) -> tuple[float, float]:
        """From where to where a span goes."""
        return self.across(span.first), self.across(span.end)


def axis_days(layout: Layout, first_rating: date | None, last: date, today: date) -> Span:
    """The days to be shown: from the course's first day, or rating, to beyond today.

    `last` is the last day that anything was reported on.
    """
    first = min(layout.course.start, first_rating or layout.course.start)
    run = layout.phase_on(today)
    ahead = run.span.end - today if run else timedelta()
    reach = max(today, last, first) + min(max(ahead, LEAST_AHEAD), MOST_AHEAD)
    weeks = -(-(reach - first).days // 7)
    return Span(first, first + timedelta(weeks=weeks))


def grounds(axis: TimeAxis, layout: Layout, top: float, bottom: float) -> Iterator[Shape]:
    """The phases as grounds, flares framed by a dashed line, pauses as paper."""
    for n, run in enumerate(layout.phases):
        if run.span.touches(axis.days):
            left, right = axis.room_of(run.span)
            fill = Ink.GROUND_TOO if n % 2 else Ink.GROUND
            yield Box(left, top, right - left, bottom - top, fill)
            if n:
                yield Lines(((left, top), (left, bottom)), Ink.QUIET, 1, Stroke.DOTTED)
    for span in layout.pauses:
        if span.touches(axis.days):
            left, right = axis.room_of(span)
            yield Box(left, top, right - left, bottom - top, Ink.PAPER, Ink.HAIRLINE)
    for run in layout.flares:
        if run.span.touches(axis.days):
            left, right = axis.room_of(run.span)
            wide, high = right - left, bottom - top
            yield Box(left, top, wide, high, Ink.FLARE_GROUND, Ink.FLARE, Stroke.DASHED)


def phase_names(axis: TimeAxis, layout: Layout, y: float) -> Iterator[Shape]:
    """The names of the phases at the left of their grounds."""
    for run in layout.phases:
        if run.span.touches(axis.days):
            left, right = axis.room_of(run.span)
            gap = axis.text * 0.4
            yield Words(
                left + gap,
                y,
                phase_title(run.phase.id),
                axis.text,
                Ink.QUIET,
                room=right - left - gap,
            )


def week_numbers(axis: TimeAxis, start: date, y: float) -> Iterator[Shape]:
    """The numbers of the course's weeks, as many as fit, in the middle of their weeks."""
    starts = [day for day in axis.days if day >= start and (day - start).days % 7 == 0]
    if not starts:
        return
    wide = axis.across(starts[0] + timedelta(days=7)) - axis.across(starts[0])
    figures = len(str(course_week(start, starts[-1])))
    step = max(1, -(-round(axis.text * LETTERS_WIDE * (figures + 1)) // max(1, round(wide))))
    for day in starts:
        week = course_week(start, day)
        if week == 1 or week % step == 0 or step == 1:
            middle = axis.across(day) + wide / 2
            yield Words(middle, y, str(week), axis.text, Ink.QUIET, Align.MIDDLE)


def today_line(axis: TimeAxis, today: date, top: float, bottom: float) -> Iterator[Shape]:
    """An upright line at the end of the days that are known."""
    if today in axis.days:
        x = axis.middle(today)
        yield Lines(((x, top), (x, bottom)), Ink.TODAY, 1.5)


def revision_flags(axis: TimeAxis, layout: Layout, top: float) -> Iterator[Shape]:
    """A small flag for each day on which a decision was made that stands."""
    days = {revision.on for revision in layout.course.revisions if not revision.is_void}
    side = axis.text * 0.5
    for day in sorted(day for day in days if day in axis.days):
        x = axis.across(day)
        yield Lines(((x, top), (x, top + side * 2)), Ink.INK)
        flag = ((x, top), (x + side * 1.2, top + side * 0.5), (x, top + side))
        yield Lines(flag, Ink.INK, fill=Ink.INK)
