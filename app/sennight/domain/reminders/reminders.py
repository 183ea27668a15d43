"""Reminders: a course as the fewest calendar entries that a phone can repeat.

For each wall-clock time, the days on which the same doses fall then are said by as few runs
as possible; each is one event. So every date and time has one event, which tells all that is
due. Markers (`reminders_markers`) are events of whole days.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import DAY_MINUTES, clock
from sennight.domain.directions.directions import DayRule
from sennight.domain.directions.plain_words import plain_amount
from sennight.domain.reminders.clock_changes import skipped_days
from sennight.domain.reminders.events import DEFAULT_CHOICES, Event, EventKind, ReminderChoices
from sennight.domain.reminders.markers import markers
from sennight.domain.reminders.overlaps import DoseSeries, DueDose, Portions, partition
from sennight.domain.reminders.runs import WEEK, Run

DISCREET_TITLE = "Reminder"
"""What a lock screen shows where no remedy's name may be on it."""


def reminder_events(
    layout: Layout,
    choices: ReminderChoices = DEFAULT_CHOICES,
    reorders: tuple[tuple[date, str], ...] = (),
) -> tuple[Event, ...]:
    """All events of a course, in order of their first day and time.

    `reorders` are the days for ordering supplies and what to tell then. Raises
    UnknownZoneError.
    """
    timed = _dose_events(layout, choices)
    days = markers(layout, choices, reorders) if choices.markers else ()
    events = (part for event in (*timed, *days) for part in _by_phase(event, layout, choices))
    return tuple(sorted(events, key=lambda event: event.place))


def _dose_events(layout: Layout, choices: ReminderChoices) -> Iterator[Event]:
    for strands in _clusters(_strands(layout, choices), choices.join_within):
        for portions, run in partition(strands):
            minute = portions[0].minute
            for piece in _around_gaps(run, minute, choices.zone):
                yield _dose_event(layout.course, choices, portions, piece)


def _dose_event(course: Course, choices: ReminderChoices, portions: Portions, run: Run) -> Event:
    return Event(
        EventKind.DOSE,
        run,
        portions[0].minute,
        _title(course, portions, choices),
        "\n".join(f"{clock(portion.minute)} {portion.told}" for portion in portions),
        choices.zone,
        choices.alarm,
    )


def _title(course: Course, portions: Portions, choices: ReminderChoices) -> str:
    if choices.discreet:
        return DISCREET_TITLE
    if len(portions) == 1:
        return portions[0].told
    return ", ".join(dict.fromkeys(course.remedy(portion.remedy).name for portion in portions))


def _strands(layout: Layout, choices: ReminderChoices) -> Iterator[DoseSeries]:
    """Each time of each stretch, on the calendar's dates."""
    places = {remedy.id: place for place, remedy in enumerate(layout.course.remedies)}
    for stretch in layout.stretches:
        remedy = layout.course.remedy(stretch.remedy)
        name = str(remedy.form).capitalize() if choices.discreet else remedy.name
        told = f"{name}: {plain_amount(stretch.amount, stretch.unit)}"
        for minute in stretch.times:
            days, on_clock = divmod(minute, DAY_MINUTES)
            what = (stretch.remedy, stretch.amount, stretch.unit)
            portion = DueDose(on_clock, places[stretch.remedy], *what, told)
            yield _moved(stretch, days, portion)


def _moved(stretch: Stretch, days: int, portion: DueDose) -> DoseSeries:
    by = timedelta(days=days)
    weekdays = tuple(sorted((day + days) % WEEK for day in stretch.days.weekdays))
    span = Span(stretch.span.first + by, stretch.span.end + by)
    return DoseSeries(span, DayRule(weekdays, stretch.days.every), portion)


def _clusters(strands: Iterable[DoseSeries], within: int) -> Iterator[list[DoseSeries]]:
    """Strands whose doses share reminders: those so many minutes from the cluster's first."""
    cluster: list[DoseSeries] = []
    for strand in sorted(strands, key=lambda s: s.portion):
        if cluster and strand.portion.minute - cluster[0].portion.minute > within:
            yield cluster
            cluster = []
        cluster.append(strand)
    if cluster:
        yield cluster


def _around_gaps(run: Run, minute: int, zone: str | None) -> Iterator[Run]:
    """The run, with each day on which clocks skip this time as a run of its own.

    A rule leaves out a time that does not exist (RFC 5545 section 3.3.10), while a single
    event there is read by the offset before the gap (section 3.3.5), and so still reminds.
    """
    span = Span.of_days(run.first, run.last)
    skipped = skipped_days(zone, minute, span) if zone else ()
    for day in (day for day in skipped if day in run):
        before = run.within(Span(span.first, day))
        if before:
            yield before
        yield Run(day, day)
        span = Span(day + ONE_DAY, span.end)
    rest = run.within(span) if span else None
    if rest:
        yield rest


def _by_phase(event: Event, layout: Layout, choices: ReminderChoices) -> Iterator[Event]:
    """The event cut where a phase begins, each part named after its phase."""
    if not choices.by_phase or not layout.phases:
        yield event
        return
    edges = [date.min, *(run.span.first for run in layout.phases[1:]), date.max]
    for run, (first, end) in zip(layout.phases, pairwise(edges), strict=True):
        part = event.within(Span(first, end))
        if part:
            yield replace(part, part=run.phase.id)
