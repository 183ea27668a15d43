"""Markers: events of whole days that tell how a course goes on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import chain

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import ONE_DAY, Span, course_week
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.domain.remedies.remedies import Form
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.runs import Run

SHORTEST_REST = 7
"""Fewer days off than these are no week off and get no marker."""
REVIEW_EVERY = timedelta(weeks=12)
"""How often a review comes within a long phase: common practice, from memory."""

_TITLES = {
    EventKind.PHASE: ("New phase", "Plan: a new phase begins"),
    EventKind.REST: ("Off from today", "Plan: time off begins"),
    EventKind.RETURN: ("Again from today", "Plan: time off ends"),
    EventKind.PATCH_TEST: ("Patch test", "Plan: skin test"),
    EventKind.REVIEW: ("Review with your practitioner", "Plan: review"),
    EventKind.REORDER: ("Order supplies", "Plan: order more"),
}
"""The title of each kind of marker, openly and discreetly."""

_PATCH_TEST = (
    "Before the first use, put a little on the inside of your forearm and leave it for a day. "
    "Do not use it if the skin turns red, itches or burns; tell your practitioner."
)


@dataclass(frozen=True, slots=True)
class _Mark:
    """Something to tell on a day; `subject` is what a discreet title leaves out."""

    kind: EventKind
    day: date
    subject: str
    text: str


def markers(
    layout: Layout, choices: ReminderChoices, reorders: tuple[tuple[date, str], ...]
) -> tuple[Event, ...]:
    """One event for each kind of marker and each date that has one."""
    found: dict[tuple[EventKind, date], list[_Mark]] = defaultdict(list)
    marks = chain(
        _phases(layout),
        _rests(layout, choices),
        _patch_tests(layout),
        (
            _Mark(EventKind.REVIEW, day, "", "Talk over how it is going.")
            for day in review_days(layout)
        ),
        (
            _Mark(EventKind.REORDER, day, "", "" if choices.discreet else why)
            for day, why in reorders
        ),
    )
    for mark in marks:
        found[mark.kind, mark.day].append(mark)
    return tuple(_event(marks, choices) for marks in found.values())


def _event(marks: list[_Mark], choices: ReminderChoices) -> Event:
    kind, day = marks[0].kind, marks[0].day
    title, discreet_title = _TITLES[kind]
    subjects = ", ".join(dict.fromkeys(mark.subject for mark in marks if mark.subject))
    return Event(
        kind,
        Run(day, day),
        None,
        discreet_title if choices.discreet else ": ".join(filter(None, (title, subjects))),
        "\n".join(dict.fromkeys(mark.text for mark in marks if mark.text)),
    )


def _phases(layout: Layout) -> Iterator[_Mark]:
    for run in (*layout.phases, *layout.flares):
        day = run.span.first
        week = course_week(layout.course.start, day)
        text = f"Week {week} of your course. See your sheet for what to take from today."
        yield _Mark(EventKind.PHASE, day, run.phase.purpose, text)


def _rests(layout: Layout, choices: ReminderChoices) -> Iterator[_Mark]:
    """Where time off begins and ends; remedies off on the same days are told together."""
    off: dict[Span, list[str]] = defaultdict(list)
    back: dict[date, list[str]] = defaultdict(list)
    for remedy in layout.course.remedies:
        taken = [s for s in layout.stretches if s.remedy == remedy.id]
        rests = [rest.span for rest in layout.rests if rest.remedy == remedy.id]
        for span in _whole_rests(rests, taken):
            off[span].append(remedy.name)
            after = [s.span.first for s in taken if s.span.first >= span.end]
            if after:
                back[min(after)].append(remedy.name)
    for span, names in off.items():
        text = f"From today to {plain_date(span.last)} leave out {_which(names, choices)}."
        yield _Mark(EventKind.REST, span.first, ", ".join(names), text)
    for day, names in back.items():
        text = f"From today start again with {_which(names, choices)}."
        yield _Mark(EventKind.RETURN, day, ", ".join(names), text)


def _which(names: list[str], choices: ReminderChoices) -> str:
    """For the end of a sentence, since to begin one a name would have to be altered."""
    return "what your sheet says" if choices.discreet else listed(names)


def _whole_rests(rests: list[Span], taken: list[Stretch]) -> Iterator[Span]:
    """Times off of a week or more, those made one that have no day taken between them."""
    whole: list[Span] = []
    for rest in sorted(rests):
        if whole and not any(s.span.touches(Span(whole[-1].end, rest.first)) for s in taken):
            whole[-1] = Span(whole[-1].first, rest.end)
        else:
            whole.append(rest)
    return (span for span in whole if span.days >= SHORTEST_REST)


def _patch_tests(layout: Layout) -> Iterator[_Mark]:
    """For each rub the day before its first use, or the course's first day."""
    for remedy in layout.course.remedies:
        uses = [s for s in layout.stretches if s.remedy == remedy.id]
        if remedy.form is Form.RUB and uses:
            first = min(next(s.days_taken()) for s in uses)
            day = max(first - ONE_DAY, layout.course.start)
            yield _Mark(EventKind.PATCH_TEST, day, remedy.name, _PATCH_TEST)


def review_days(layout: Layout) -> tuple[date, ...]:
    """When reviews are due: on each phase's last day, and every 12 weeks within a phase."""
    return tuple(sorted({day for run in layout.phases for day in _reviews(run.span)}))


def _reviews(phase: Span) -> Iterator[date]:
    day = phase.first + REVIEW_EVERY
    while day < phase.last:
        yield day
        day += REVIEW_EVERY
    yield phase.last
