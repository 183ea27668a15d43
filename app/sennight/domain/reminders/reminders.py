"""Reminders: a course as the fewest calendar entries that a phone can repeat.

For each wall-clock time, the days on which the same doses fall then are said by as few runs
as possible; each is one event. So every date and time has one event, which tells all that is
due. Markers (`markers`) are events of whole days.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import DAY_MINUTES, as_minutes
from sennight.domain.directions.directions import DAILY, DayRule
from sennight.domain.directions.plain_words import plain_dose
from sennight.domain.reminders.clock_changes import days_of_changes, shown_at, skipped_days
from sennight.domain.reminders.events import DEFAULT_CHOICES, Event, EventKind, ReminderChoices
from sennight.domain.reminders.markers import markers
from sennight.domain.reminders.overlaps import DoseSeries, DueDose, DueDoses, partition
from sennight.domain.reminders.patch_tests import PatchTest, patch_tests
from sennight.domain.reminders.runs import WEEK, Run
from sennight.domain.reminders.wording import (
    UNTESTED,
    dose_details,
    dose_text,
    dose_title,
    name_of,
)


def reminder_events(
    layout: Layout,
    choices: ReminderChoices = DEFAULT_CHOICES,
    reorders: tuple[tuple[date, str], ...] = (),
    *,
    given: date | None = None,
) -> tuple[Event, ...]:
    """All events of a course, in order of their first day and time.

    `reorders` are the days for ordering supplies and what to tell then; `given` is the day on
    which the client gets the course, if not on its first. Raises UnknownZoneError.
    """
    tests = patch_tests(layout, given)
    timed = _dose_events(layout, choices, tests)
    days = markers(layout, choices, reorders, tests) if choices.markers else ()
    events = (part for event in (*timed, *days) for part in _by_phase(event, layout, choices))
    return tuple(sorted(events, key=lambda event: event.place))


def _dose_events(
    layout: Layout, choices: ReminderChoices, tests: tuple[PatchTest, ...]
) -> Iterator[Event]:
    for dose_series in _clusters(_dose_series(layout, choices, tests), choices.join_within):
        for doses, run in partition(dose_series):
            for piece in _cut_at_changes(run, doses[0].minute, choices.zone):
                yield _dose_event(layout.course, choices, doses, piece)


def _dose_event(course: Course, choices: ReminderChoices, doses: DueDoses, run: Run) -> Event:
    return Event(
        EventKind.DOSE,
        run,
        doses[0].minute,
        dose_title(doses, discreet=choices.discreet),
        dose_text(course, doses, discreet=choices.discreet),
        choices.zone,
        choices.alarm,
    )


def _dose_series(
    layout: Layout, choices: ReminderChoices, tests: tuple[PatchTest, ...]
) -> Iterator[DoseSeries]:
    """Each time of each stretch, on the calendar's dates."""
    places = {remedy.id: place for place, remedy in enumerate(layout.course.remedies)}
    clear_from = {test.formula: test.clear_from for test in tests}
    for stretch in layout.stretches:
        for minute in stretch.times:
            days, on_clock = divmod(minute, DAY_MINUTES)
            dose = _due_dose(layout.course, choices, stretch, places[stretch.remedy])
            series = _moved(stretch, days, replace(dose, minute=on_clock))
            for part in _untested(series, clear_from.get(stretch.formula, date.min)):
                yield from _on_the_clock(part, choices.zone)


def _due_dose(course: Course, choices: ReminderChoices, stretch: Stretch, place: int) -> DueDose:
    """What is due of a stretch, at whatever time."""
    remedy = course.remedy(stretch.remedy)
    name = name_of(remedy, place, discreet=choices.discreet)
    return DueDose(
        0,
        place,
        stretch.remedy,
        stretch.amount,
        stretch.unit,
        f"{name}: {plain_dose(stretch.directions)}",
        dose_details(name, stretch, course.client.day),
        stretch.formula,
    )


def _untested(series: DoseSeries, clear_from: date) -> Iterator[DoseSeries]:
    """The series, with its uses that come too soon after the patch test saying so."""
    too_soon = series.before(clear_from)
    if too_soon is None:
        yield series
        return
    label = f"{series.dose.label}, {UNTESTED}"
    yield replace(too_soon, dose=replace(series.dose, label=label))
    later = series.from_on(clear_from)
    if later:
        yield later


def _moved(stretch: Stretch, days: int, dose: DueDose) -> DoseSeries:
    by = timedelta(days=days)
    weekdays = tuple(sorted((day + days) % WEEK for day in stretch.days.weekdays))
    span = Span(stretch.span.first + by, stretch.span.end + by)
    return DoseSeries(span, DayRule(weekdays, stretch.days.every), dose)


def _clusters(dose_series: Iterable[DoseSeries], within: int) -> Iterator[list[DoseSeries]]:
    """Strands whose doses share reminders: those so many minutes from the cluster's first."""
    cluster: list[DoseSeries] = []
    for series in sorted(dose_series, key=lambda series: series.dose):
        if cluster and series.dose.minute - cluster[0].dose.minute > within:
            yield cluster
            cluster = []
        cluster.append(series)
    if cluster:
        yield cluster


def _on_the_clock(series: DoseSeries, zone: str | None) -> Iterator[DoseSeries]:
    """The series, with each day on which clocks skip its time at the time that they show.

    Some readers drop a time that does not exist, others show it an hour early; RFC 5545 section
    3.3.5 reads it by the offset before the gap, which is what is written here.
    """
    dose = series.dose
    rest: DoseSeries | None = series
    for day in skipped_days(zone, dose.minute, series.span) if zone else ():
        if zone is None or rest is None or day not in rest:
            continue
        earlier = rest.before(day)
        if earlier:
            yield earlier
        shown = shown_at(zone, day, dose.minute)
        moved = replace(dose, minute=as_minutes(shown.time()))
        yield DoseSeries(Span.of_days(shown.date(), shown.date()), DAILY, moved)
        rest = rest.from_on(day + ONE_DAY)
    if rest:
        yield rest


def _cut_at_changes(run: Run, minute: int, zone: str | None) -> Iterator[Run]:
    """The run as pieces that every reader repeats right.

    Some repeat every n days in steps of n times 24 hours, and so are an hour late from the next
    change of the clocks on; some move what is weekly by an hour where they walk over a day that
    has no such time.
    """
    cuts = _cuts(run, minute, zone) if zone else ()
    for first, end in pairwise((run.first, *cuts, run.last + ONE_DAY)):
        piece = run.within(Span(first, end))
        if piece:
            yield piece


def _cuts(run: Run, minute: int, zone: str) -> tuple[date, ...]:
    span = Span.of_days(run.first, run.last)
    if run.is_weekly:
        return skipped_days(zone, minute, span)
    return days_of_changes(zone, minute, span) if run.every > 1 else ()


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
