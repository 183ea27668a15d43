"""Courses exported as calendar files, and what readers ought to find in them."""

from __future__ import annotations

from datetime import UTC, datetime

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.schedule.doses import doses
from sennight.publish.calendar.ics import calendar_bytes

STAMP = datetime(2027, 1, 2, 9, 30, tzinfo=UTC)
ZONES = (
    "Europe/London",
    "America/New_York",
    "Australia/Sydney",
    "Asia/Kolkata",
    "Australia/Lord_Howe",  # half an hour of summer time
    "Asia/Kathmandu",  # 5 h 45 min
    "America/Sao_Paulo",  # no summer time since 2019
    "Pacific/Chatham",  # 12 h 45 min, and clocks change at 02:45
    "Africa/Casablanca",  # back for Ramadan, whose dates move
)


def exported(plan: Course, choices: ReminderChoices) -> bytes:
    return calendar_bytes(reminder_events(lay_out(plan), choices), plan, stamp=STAMP)


def dose_times(layout: Layout) -> list[datetime]:
    """Each date and wall-clock time at which something is due, once, in order."""
    return sorted({datetime.combine(dose.date, dose.time) for dose in doses(layout)})
