"""Reminders: a course as the fewest calendar entries that a phone can repeat.

For each wall-clock time, the days on which the same doses fall then are said by as few runs
as possible; each is one event. So every date and time has one event, which tells all that is
due. Markers (`markers`) are events of whole days.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from itertools import pairwise

from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_words import named_remarks
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.day import DAY_MINUTES
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.reminders.advice_events import advice_events
from sennight.domain.reminders.events import DEFAULT_CHOICES, Event, EventKind, ReminderChoices
from sennight.domain.reminders.markers import markers
from sennight.domain.reminders.on_the_clock import (
    clusters,
    cut_at_changes,
    moved_by,
    on_the_clock,
)
from sennight.domain.reminders.overlaps import DoseSeries, DueDose, DueDoses, partition
from sennight.domain.reminders.patch_tests import PatchTest, patch_tests
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
    *,
    given: date | None = None,
) -> tuple[Event, ...]:
    """All events of a course, in order of their first day and time.

    `given` is the day on which the client gets the course, if not on its first. Raises
    UnknownZoneError.
    """
    tests = patch_tests(layout, given)
    timed = (*_dose_events(layout, choices, tests), *advice_events(layout, choices))
    days = markers(layout, choices, tests) if choices.markers else ()
    events = (part for event in (*timed, *days) for part in _by_phase(event, layout, choices))
    return tuple(sorted(events, key=lambda event: event.place))


def _dose_events(
    layout: Layout, choices: ReminderChoices, tests: tuple[PatchTest, ...]
) -> Iterator[Event]:
    for dose_series in clusters(_dose_series(layout, choices, tests), choices.join_within):
        said: tuple[DueDoses, tuple[str, str]] = (), ("", "")
        for doses, run in partition(dose_series):
            if doses is not said[0]:  # all runs of the same doses come one after the other
                said = doses, _words(layout.course, choices, doses)
            minute, words = doses[0].minute, said[1]
            for piece in cut_at_changes(run, minute, choices.zone):
                yield Event(EventKind.DOSE, piece, minute, *words, choices.zone, choices.alarm)


def _words(course: Course, choices: ReminderChoices, doses: DueDoses) -> tuple[str, str]:
    """An event's title and text."""
    discreet = choices.discreet
    return dose_title(doses, discreet=discreet), dose_text(course, doses, discreet=discreet)


def _dose_series(
    layout: Layout, choices: ReminderChoices, tests: tuple[PatchTest, ...]
) -> Iterator[DoseSeries]:
    """Each time of each stretch, on the calendar's dates."""
    places = {remedy.id: place for place, remedy in enumerate(layout.course.remedies)}
    clear_from = {test.formula: test.clear_from for test in tests}
    known: dict[tuple[object, ...], DueDose] = {}
    for stretch in layout.stretches:
        for minute in stretch.times:
            days, on_clock = divmod(minute, DAY_MINUTES)
            # A cycle has many stretches of one line, and to say its dose is what costs.
            line = stretch.phase, stretch.remedy, stretch.formula, id(stretch.directions), on_clock
            if line not in known:
                dose = _due_dose(layout, choices, stretch, places[stretch.remedy])
                known[line] = replace(dose, minute=on_clock)
            series = moved_by(days, stretch.span, stretch.days, known[line])
            for part in _untested(series, clear_from.get(stretch.formula, date.min)):
                yield from on_the_clock(part, choices.zone)


def _due_dose(layout: Layout, choices: ReminderChoices, stretch: Stretch, place: int) -> DueDose:
    """What is due of a stretch, at whatever time."""
    course = layout.course
    remedy, formula = course.remedy(stretch.remedy), course.remedy(stretch.formula)
    name = name_of(remedy, place, discreet=choices.discreet)
    line = layout.line_of(stretch)
    remarks = named_remarks(name, line) if line and not choices.discreet else ""
    return DueDose(
        0,
        place,
        stretch.remedy,
        stretch.amount,
        stretch.unit,
        f"{name}: {dose_words(stretch.directions, formula)}{_more(stretch)}",
        dose_details(name, stretch, course.client.day, remarks),
        stretch.formula,
    )


def _more(stretch: Stretch) -> str:
    """What a title says where more may be taken as needed; how much, its text tells."""
    return " (more if needed)" if stretch.as_needed_max else ""


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
