"""The cost of reminders, as a ratio to a plain library doing the same work in the same run."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import icalendar
import pytest

from sennight.domain.courses.courses import Course, Extend, Flare, Pause, PauseMode, Redirect, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import EventKind, ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.schedule.doses import doses
from sennight.publish.calendar.ics import calendar_bytes
from support.samples import course, day, line, phase, remedy, take
from support.speed import listed_by_dateutil, quickest

pytestmark = pytest.mark.no_cover  # counting lines slows our work down, and not the library's
CHOICES = ReminderChoices(zone="Europe/London")
STAMP = datetime(2027, 1, 2, 9, 30, tzinfo=UTC)


def a_year() -> Course:
    """A year's course of five remedies with six revisions."""
    plan = course(
        phase(
            "loading",
            "8 w",
            line("t1", "1 cup tds"),
            line("t2", "5 mL bd ac"),
            line("t3", "2 capsules od 5 d on 2 d off"),
            line("t4", "10 drops nocte"),
        ),
        phase(
            "maintenance",
            None,
            line("t1", "1 cup bd", (12, "1 cup od")),
            line("t2", "5 mL od 3 w on 1 w off"),
            line("t3", "1 capsule od alternate days"),
            line("t4", "10 drops nocte on mon wed fri"),
            line("t5", "1 application bd"),
        ),
        phase("rescue", "1 w", line("t2", "5 mL qds"), line("t5", "1 application tds")),
        until=day(364),
        revisions=(
            Extend(on=day(50), phase="loading", by=14),
            Flare(on=day(90), first=day(90), rescue="rescue"),
            Pause(on=day(120), first=day(130), last=day(143), mode=PauseMode.FREEZE),
            Redirect(on=day(170), remedy="t1", first=day(170), directions=take("2 cups bd")),
            Flare(on=day(220), first=day(221), rescue="rescue", last=day(230)),
            Stop(on=day(280), remedy="t3", first=day(281)),
        ),
    )
    return replace(plan, remedies=tuple(remedy(f"t{n}") for n in range(1, 6)))


def test_stretches_and_reminders_cost_no_more_than_twice_expanding_the_doses() -> None:
    """Words, zones and markers included, of which dateutil's bare list of times has none."""
    plan = a_year()
    layout = lay_out(plan)
    assert listed_by_dateutil(layout.stretches) == [
        datetime.combine(dose.date, dose.time) for dose in doses(layout)
    ]
    ours = quickest(lambda: reminder_events(lay_out(plan), CHOICES))
    theirs = quickest(lambda: listed_by_dateutil(layout.stretches))
    print(f"\n{ours * 1000:.2f} ms against {theirs * 1000:.2f} ms: {ours / theirs:.2f}")
    assert ours < 2 * theirs


def test_a_year_is_a_few_events() -> None:
    layout = lay_out(a_year())
    events = [e for e in reminder_events(layout, CHOICES) if e.kind is EventKind.DOSE]
    single = len(doses(layout))
    print(f"\n{len(events)} events for {single} doses of {len(layout.stretches)} stretches")
    assert len(events) * 20 < single


def test_a_year_s_calendar_file_takes_less_than_reading_it_back() -> None:
    """Events, zone and all; under 20 ms on a machine of 2024, which a ratio cannot say."""
    plan = a_year()
    layout = lay_out(plan)

    def write() -> bytes:
        return calendar_bytes(reminder_events(layout, CHOICES), plan, stamp=STAMP)

    data = write()
    ours, theirs = quickest(write), quickest(lambda: icalendar.Calendar.from_ical(data))
    print(f"\n{ours * 1000:.2f} ms against {theirs * 1000:.2f} ms for {len(data):,} bytes")
    assert ours < theirs
