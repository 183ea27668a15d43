"""Reminders of advice that a phase holds: at its times, or once where it has none.

Advice never shares an entry with doses, so that a dose's reminder stays what it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.advice_days import AdviceRun, advice_runs
from sennight.domain.courses.phase_words import advice_words
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import Layout
from sennight.domain.day import DAY_MINUTES
from sennight.domain.reminders.breaks import Change
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.on_the_clock import (
    clusters,
    cut_at_changes,
    moved_by,
    on_the_clock,
)
from sennight.domain.reminders.overlaps import DoseSeries, DueDose, partition
from sennight.domain.reminders.wording import DISCREET_TITLE

DISCREET_TEXT = "See your sheet."


def advice_events(layout: Layout, choices: ReminderChoices) -> Iterator[Event]:
    """The reminders of advice with times, those at one minute of a day as one."""
    for series in clusters(_series(layout, choices.zone), 0):
        for due, run in partition(series):
            titles = dict.fromkeys(entry.label for entry in due)
            for piece in cut_at_changes(run, due[0].minute, choices.zone):
                yield Event(
                    EventKind.ADVICE,
                    piece,
                    due[0].minute,
                    DISCREET_TITLE if choices.discreet else ", ".join(titles),
                    DISCREET_TEXT if choices.discreet else "",
                    choices.zone,
                    choices.alarm,
                )


def untimed_advice(layout: Layout, *, discreet: bool) -> Iterator[Change]:
    """What is told on a phase's first day: advice to be reminded of that has no times."""
    for run in _reminded(layout):
        if not run.times:
            words = advice_words(run.advice, layout.course.client.day)
            text = DISCREET_TEXT if discreet else words
            yield Change(EventKind.ADVICE, run.span.first, _title(run.advice), text)


def _reminded(layout: Layout) -> Iterator[AdviceRun]:
    return (run for run in advice_runs(layout) if run.advice.remind)


def _series(layout: Layout, zone: str | None) -> Iterator[DoseSeries]:
    for place, run in enumerate(_reminded(layout)):
        due = DueDose(0, place, run.phase, Fraction(0), None, _title(run.advice))
        for minute in run.times:
            days, on_clock = divmod(minute, DAY_MINUTES)
            series = moved_by(days, run.span, run.days, replace(due, minute=on_clock))
            yield from on_the_clock(series, zone)


def _title(advice: AdviceLine) -> str:
    """The advice as it stands, fit for a title: `Walk for 20 minutes`."""
    said = advice.text.rstrip(" .")
    return f"{said[:1].upper()}{said[1:]}"
