"""Courses exported as calendar files, and what readers ought to find in them."""

from __future__ import annotations

from datetime import UTC, datetime

from dateutil import tz

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.reminders.clock_changes import zone_info
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.schedule.doses import doses
from sennight.publish.calendar.ics import calendar_bytes

STAMP = datetime(2027, 1, 2, 9, 30, tzinfo=UTC)
MOVED_ZONES = ("Africa/Casablanca", "America/Vancouver")
"""Zones that gave up changing their clocks in 2026: many readers' data still change them."""
ZONES = (
    "Europe/London",
    "America/New_York",
    "Australia/Sydney",
    "Asia/Kolkata",
    "Australia/Lord_Howe",  # half an hour of summer time
    "Asia/Kathmandu",  # 5 h 45 min
    "America/Sao_Paulo",  # no summer time since 2019
    "Pacific/Chatham",  # 12 h 45 min, and clocks change at 02:45
    "Africa/Cairo",  # clocks change at midnight
    "America/Santiago",  # and back at midnight
    "America/St_Johns",  # 3 h 30 min
    "Asia/Jerusalem",  # on a Friday
)


def exported(plan: Course, choices: ReminderChoices) -> bytes:
    return calendar_bytes(reminder_events(lay_out(plan), choices), plan, stamp=STAMP)


def dose_times(layout: Layout, zone: str | None = None) -> list[datetime]:
    """Each date and wall-clock time at which something is due, once, in order.

    A time that a zone's clocks skip is the one that they show instead, as dateutil reckons it.
    """
    times = {datetime.combine(dose.date, dose.time) for dose in doses(layout)}
    return sorted({shown_in(zone, time) for time in times} if zone else times)


def shown_in(zone: str, time: datetime) -> datetime:
    return tz.resolve_imaginary(time.replace(tzinfo=zone_info(zone))).replace(tzinfo=None)
