"""Calendar files read by four libraries that are not ours must tell the doses exactly."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, timedelta
from functools import cache
from operator import itemgetter
from typing import Any

import icalendar
import pytest
from hypothesis import given, settings

from readers.calendar_exports import MOVED_ZONES, STAMP, ZONES, dose_times, exported
from readers.calendar_readers import (
    Occurrence,
    moments_with_ical_js,
    moments_with_libical,
    with_ical_js,
    with_libical,
    with_recurring_ical_events,
    with_vobject,
)
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.clock_changes import as_utc, zone_info
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from sennight.publish.calendar.ics import calendar_bytes
from support.draws import DRAWS, draws
from support.files import REFERENCES, from_yaml
from support.samples import course, line, phase, possible_courses

Reader = Callable[[Sequence[bytes]], list[list[Occurrence]]]

EXAMPLES: list[dict[str, Any]] = from_yaml(
    (REFERENCES / "calendar_rrule_examples.yaml").read_text()
)["rows"]

STARTS = (date(2018, 1, 4), date(2027, 1, 4), date(2037, 1, 4))
"""Sao Paulo had summer time in the first; most systems' time data ends in the last."""


def through_both_changes(start: date) -> Course:
    """A year with doses at night, when clocks change, and by day."""
    return course(
        phase(
            "a",
            "52 w",
            line("t1", "1 cup at 00:00,01:30,02:30,08:00"),
            line("t2", "1 mL at 02:10,02:50,03:15 on sun"),
        ),
        start=start,
    )


YEARS = [(zone, start) for zone in (*ZONES, None) for start in STARTS]


@cache
def years() -> tuple[bytes, ...]:
    """Every year in every zone, and in none, as files: the same for each reader."""
    return tuple(
        exported(through_both_changes(start), ReminderChoices(zone=zone)) for zone, start in YEARS
    )


@cache
def times_of(zone: str | None, start: date) -> list[datetime]:
    """When the doses of such a year are due in a zone: the same for each reader."""
    return dose_times(lay_out(through_both_changes(start)), zone)


def recurring_until_the_end(data: bytes, times: list[datetime]) -> list[Occurrence]:
    last = date(times[-1].year + 1, 12, 31)
    return with_recurring_ical_events(data, times[0].date(), last)


def vobject_at_once(data: bytes, _times: list[datetime]) -> list[Occurrence]:
    return with_vobject(data)


@pytest.mark.parametrize("number", range(len(ZONES) + 1))
def test_python_readers_agree_with_the_doses_across_both_clock_changes(number: int) -> None:
    """In each zone; each reader in another year, but for the long check in all of them.

    They take long. All years are read by the readers of other programs, below.
    """
    zone = (*ZONES, None)[number]
    for turn, read in enumerate((recurring_until_the_end, vobject_at_once)):
        for start in STARTS if DRAWS == "long" else STARTS[(number + turn) % len(STARTS) :][:1]:
            expected = times_of(zone, start)
            data = years()[YEARS.index((zone, start))]
            assert sorted(at for _, at in read(data, expected)) == expected, start


OTHERS = pytest.mark.parametrize("read", [with_ical_js, with_libical])


@pytest.mark.parametrize("zone", MOVED_ZONES)
def test_readers_with_older_zone_data_lose_no_dose_of_the_day(zone: str) -> None:
    plan = course(
        phase("a", "52 w", line("t1", "1 cup bd"), line("t2", "2 mL od alternate days")),
        start=date(2027, 1, 4),
    )
    data = exported(plan, ReminderChoices(zone=zone))
    others = (read([data])[0] for read in (with_ical_js, with_libical))
    for occurrences in (with_recurring_ical_events(data), with_vobject(data), *others):
        assert sorted(at for _, at in occurrences) == dose_times(lay_out(plan), zone)


@OTHERS
def test_other_readers_agree_with_the_doses_across_both_clock_changes(read: Reader) -> None:
    for (zone, start), found in zip(YEARS, read(years()), strict=True):
        in_order = [at for _, at in sorted(found, key=itemgetter(1))]
        assert in_order == times_of(zone, start), (zone, start)


@pytest.mark.parametrize("moments", [moments_with_ical_js, moments_with_libical])
def test_a_reader_that_knows_only_the_files_own_zone_finds_the_same_moments(
    moments: Callable[[Sequence[bytes]], list[dict[datetime, datetime]]],
) -> None:
    """ical.js has no zone data of its own and libical is let have none: all is our VTIMEZONE's.

    Both (ical.js 2.2, libical 3.0.16) differ from RFC 5545 section 3.3.5 in the same way: of a
    time that comes twice they take the second, where it has the first. So those may lie an hour
    (Lord Howe: half of one) off, and no others.
    """
    for (zone, start), found in zip(YEARS, moments(years()), strict=True):
        if zone is None or start != STARTS[1]:
            continue
        assert sorted(found) == times_of(zone, start), zone
        for at, moment in found.items():
            expected = as_utc(zone, at.date(), at.hour * 60 + at.minute)
            first, second = (at.replace(tzinfo=zone_info(zone), fold=fold) for fold in (0, 1))
            is_plain = first.utcoffset() == second.utcoffset()
            assert abs(moment - expected) <= (timedelta() if is_plain else timedelta(hours=1)), at


def test_a_time_that_clocks_skip_is_written_as_the_time_that_they_show() -> None:
    """RFC 5545 section 3.3.5 reads it by the offset before the gap; some readers drop it.

    Its example: 02:30 on 11 March 2007 in New York, which that makes 07:30 UTC, 03:30 EDT.
    """
    plan = course(phase("a", "5 d", line("t1", "1 cup at 02:30")), start=date(2007, 3, 9))
    data = exported(plan, ReminderChoices(zone="America/New_York", markers=False))
    events = data.split(b"BEGIN:VEVENT")[1:]
    assert [event.count(b"RRULE") for event in events] == [1, 0, 1]
    assert b"DTSTART;TZID=America/New_York:20070311T033000" in events[1]
    start = icalendar.Calendar.from_ical(data).events[1].start
    assert isinstance(start, datetime)
    assert start.astimezone(UTC) == datetime(2007, 3, 11, 7, 30, tzinfo=UTC)


def test_a_last_time_that_comes_twice_is_dropped_by_no_reading_of_it() -> None:
    """RFC 5545 section 3.3.5: 01:30 on 4 November 2007 in New York is EDT, 05:30 UTC.

    ical.js and libical read it as EST, 06:30 UTC; UNTIL holds for both.
    """
    plan = course(phase("a", "2 d", line("t1", "1 cup at 01:30")), start=date(2007, 11, 3))
    data = exported(plan, ReminderChoices(zone="America/New_York", markers=False))
    assert b"UNTIL=20071104T153000Z" in data  # 05:30 + 12 h - half of 4 h
    days = dose_times(lay_out(plan))
    assert [
        *map(list, moments_with_ical_js([data])),
        *map(list, moments_with_libical([data])),
    ] == [days] * 2
    for found in (with_recurring_ical_events(data), with_vobject(data)):
        assert [at for _, at in found] == days


@settings(max_examples=draws(8))
@given(possible_courses())
def test_drawn_courses_are_read_exactly(plan: Course) -> None:
    layout = lay_out(plan)
    for zone in ("Australia/Lord_Howe", None):
        events = reminder_events(layout, ReminderChoices(zone=zone))
        data = calendar_bytes(events, plan, stamp=STAMP)
        expected = dose_times(layout, zone)
        assert sorted(at for _, at in with_recurring_ical_events(data)) == expected
        assert sorted(at for _, at in with_vobject(data)) == expected


@OTHERS
def test_a_sheaf_of_drawn_courses_is_read_exactly(read: Reader) -> None:
    """One run of the reader for all, since starting it costs more than reading."""
    plans: list[Course] = []

    @settings(max_examples=draws(15), database=None)
    @given(possible_courses())
    def collect(plan: Course) -> None:
        plans.append(plan)

    collect()
    choices = ReminderChoices(zone="Europe/London")
    found = read([exported(plan, choices) for plan in plans])
    for plan, occurrences in zip(plans, found, strict=True):
        expected = dose_times(lay_out(plan), "Europe/London")
        assert sorted(at for _, at in occurrences) == expected


@cache
def examples() -> tuple[bytes, ...]:
    return tuple(
        exported(
            course(
                phase("a", example["phase"], line("t1", example["take"])),
                start=example["dates"][0],
            ),
            ReminderChoices(zone=example["zone"], markers=False),
        )
        for example in EXAMPLES
    )


@pytest.mark.parametrize("place", range(len(EXAMPLES)), ids=[row["id"] for row in EXAMPLES])
def test_examples_of_the_standard(place: int) -> None:
    """RFC 5545 section 3.8.5.3: the occurrences it prints, from a course that asks for them."""
    example, data = EXAMPLES[place], examples()[place]
    expected = [datetime.fromisoformat(f"{day}T{example['time']}") for day in example["dates"]]
    others = (read(examples())[place] for read in (with_ical_js, with_libical))
    for found in (with_recurring_ical_events(data), with_vobject(data), *others):
        assert sorted(at for _, at in found) == expected
