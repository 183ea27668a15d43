"""Markers: events of whole days that tell how a course goes on.

Those of a day on which what is taken changes have an alarm at the time when the client gets up.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import chain

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span, course_week
from sennight.domain.day import Moment
from sennight.domain.directions.plain_words import plain_date, plain_directions
from sennight.domain.reminders.advice_events import untimed_advice
from sennight.domain.reminders.breaks import Change, changes_of_taking
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.patch_tests import PatchTest
from sennight.domain.reminders.runs import Run
from sennight.domain.reminders.wording import name_of

REVIEW_EVERY = timedelta(weeks=12)
"""How often a review comes within a long phase: common practice, from memory."""


@dataclass(frozen=True, slots=True)
class _Words:
    """A kind's title, openly and discreetly, and whether what is taken changes with it."""

    title: str
    discreet_title: str
    changes_doses: bool = True


_WORDS = {
    EventKind.START: _Words("Your course starts", "Plan: start"),
    EventKind.PHASE: _Words("Next stage of your course", "Plan: next stage"),
    EventKind.FLARE: _Words("Your flare-up plan starts", "Plan: change from today"),
    EventKind.FLARE_END: _Words("Your flare-up plan is over", "Plan: back to usual"),
    EventKind.PAUSE: _Words("Break: take nothing from today", "Plan: break starts"),
    EventKind.RESUME: _Words("Start again today", "Plan: break is over"),
    EventKind.REST: _Words("Days off from today", "Plan: days off start"),
    EventKind.RETURN: _Words("Start again from today", "Plan: days off are over"),
    EventKind.STOP: _Words("Stopped from today", "Plan: something stops"),
    EventKind.END: _Words("Last day of your course", "Plan: last day"),
    EventKind.ADVICE: _Words("From today", "Plan: something to do", changes_doses=False),
    EventKind.PATCH_TEST: _Words("Patch test", "Plan: skin test"),
    EventKind.REVIEW: _Words("Review with your practitioner", "Plan: review", changes_doses=False),
    EventKind.REORDER: _Words("Order supplies", "Plan: order more", changes_doses=False),
}


def markers(
    layout: Layout,
    choices: ReminderChoices,
    tests: tuple[PatchTest, ...],
) -> tuple[Event, ...]:
    """One event for each kind of marker and each date that has one."""
    by_kind_and_day: dict[tuple[EventKind, date], list[Change]] = defaultdict(list)
    marks = chain(
        _phases(layout, choices),
        changes_of_taking(layout, discreet=choices.discreet),
        (_patch_test(test, choices) for test in tests),
        (
            Change(EventKind.REVIEW, day, "", "Talk through how it is going.")
            for day in review_days(layout)
        ),
        untimed_advice(layout, discreet=choices.discreet),
        (
            Change(EventKind.REORDER, day, "", "" if choices.discreet else why)
            for day, why in choices.reorders
        ),
    )
    for mark in marks:
        by_kind_and_day[mark.kind, mark.day].append(mark)
    rising = layout.course.client.day.minute(Moment.RISING)
    return tuple(_event(marks, choices, rising) for marks in by_kind_and_day.values())


def _event(marks: list[Change], choices: ReminderChoices, rising: int) -> Event:
    kind, day = marks[0].kind, marks[0].day
    words = _WORDS[kind]
    subjects = ", ".join(dict.fromkeys(mark.subject for mark in marks if mark.subject))
    rings = words.changes_doses and choices.alarm is not None
    return Event(
        kind,
        Run(day, day),
        None,
        words.discreet_title
        if choices.discreet
        else ": ".join(filter(None, (words.title, subjects))),
        "\n".join(dict.fromkeys(mark.text for mark in marks if mark.text)),
        alarm=-rising if rings else None,
    )


def _phases(layout: Layout, choices: ReminderChoices) -> Iterator[Change]:
    flares = set(layout.flares)
    for run in (*layout.phases, *layout.flares):
        day = run.span.first
        week = f"Week {course_week(layout.course.start, day)} of your course."
        text = f"{week} See your sheet for what to take from today."
        needed = _as_needed(layout, run.phase.id, run.span, discreet=choices.discreet)
        if run in flares:
            kind, text = EventKind.FLARE, f"To {plain_date(run.span.last)}. {text}"
        else:
            kind = EventKind.START if run == layout.phases[0] else EventKind.PHASE
        yield Change(kind, day, "", "\n".join((text, *needed)))


def _as_needed(layout: Layout, phase: str, span: Span, *, discreet: bool) -> Iterator[str]:
    """What the phase has to be taken as needed alone, which no other entry tells of."""
    listed = set()
    for place, remedy in enumerate(layout.course.remedies):
        for stretch in layout.stretches:
            if stretch.remedy != remedy.id or stretch.phase != phase or stretch.times:
                continue
            if stretch.span.touches(span) and remedy.id not in listed:
                listed.add(remedy.id)
                name = name_of(remedy, place, discreet=discreet)
                how = plain_directions(stretch.directions, layout.course.client.day)
                yield f"{name}: {how}."


def _patch_test(test: PatchTest, choices: ReminderChoices) -> Change:
    rub = "of the rub" if choices.discreet else test.remedy.name
    first = max(test.first_use, test.clear_from)
    text = (
        f"Rub a little {rub} on the inside of your forearm and leave it for 24 to 48 hours. "
        "If the skin turns red, itches, swells or blisters, do not use it, and tell your "
        f"practitioner. If it stays clear, use it from {plain_date(first)}."
    )
    return Change(EventKind.PATCH_TEST, test.day, test.remedy.name, text)


def review_days(layout: Layout) -> tuple[date, ...]:
    """When reviews are due: on each phase's last day, and every 12 weeks within a phase."""
    return tuple(sorted({day for run in layout.phases for day in reviews_in(run.span)}))


def visits(layout: Layout, agreed: date | None, today: date) -> tuple[date, ...]:
    """The days on which the client comes: as agreed, and from then on as the course plans."""
    planned = review_days(layout)
    if agreed is None or agreed <= today:
        return planned
    return agreed, *(day for day in planned if day > agreed)


def reviews_in(phase: Span) -> Iterator[date]:
    """When reviews are due in a phase of these days."""
    day = phase.first + REVIEW_EVERY
    while day < phase.last:
        yield day
        day += REVIEW_EVERY
    yield phase.last
