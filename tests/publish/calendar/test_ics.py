"""Whole calendar files against the rules of RFC 5545 and RFC 7986."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from readers.calendar_exports import STAMP, exported
from readers.calendar_lines import components, starts, unfolded, values
from readers.calendar_samples import EXPORTS, PLAN
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import first_issue, plan_name
from sennight.domain.reminders.reminders import reminder_events
from sennight.publish.calendar.ics import (
    LARGEST,
    CalendarTooLargeError,
    calendar_bytes,
    split_bytes,
)


@pytest.mark.parametrize("export", EXPORTS)
class TestFile:
    def test_lines_end_in_crlf(self, export: str) -> None:
        """RFC 5545 section 3.1."""
        data = EXPORTS[export]
        assert data.endswith(b"END:VCALENDAR\r\n")
        assert data.count(b"\n") == data.count(b"\r") == data.count(b"\r\n")

    def test_lines_are_folded_at_75_octets_and_between_characters(self, export: str) -> None:
        """RFC 5545 section 3.1: octets of UTF-8, the line break not counted."""
        rows = EXPORTS[export].split(b"\r\n")
        assert max(map(len, rows)) <= 75
        for row in rows:
            row.decode()

    def test_version_and_product_once(self, export: str) -> None:
        """RFC 5545 section 3.6 and 3.7; without METHOD it is a plain snapshot."""
        lines = unfolded(EXPORTS[export])
        assert lines.count("VERSION:2.0") == 1
        assert lines.count("PRODID:-//Sennight//Reminders//EN") == 1
        assert not [text for text in lines if text.startswith("METHOD")]

    def test_its_name(self, export: str) -> None:
        """RFC 7986 section 5.1, and the older name of the same thing."""
        lines = unfolded(EXPORTS[export])
        name = plan_name(PLAN.id)
        assert re.fullmatch(r"My plan [1-9]\d\d", name)
        assert lines.count(f"NAME:{name}") == lines.count(f"X-WR-CALNAME:{name}") == 1

    def test_what_has_a_time_comes_first(self, export: str) -> None:
        """Calendars that take one event of a file take the first."""
        events = components(unfolded(EXPORTS[export]), "VEVENT")
        is_day = ["VALUE=DATE" in starts(event) for event in events]
        assert is_day == sorted(is_day)

    def test_one_vtimezone_for_each_zone_used(self, export: str) -> None:
        """RFC 5545 section 3.6.5."""
        lines = unfolded(EXPORTS[export])
        events = components(lines, "VEVENT")
        used = {found[1] for e in events if (found := re.search("TZID=([^:;]+)", starts(e)))}
        given = [values(zone, "TZID")[0] for zone in components(lines, "VTIMEZONE")]
        assert sorted(given) == sorted(used)

    def test_uids_differ(self, export: str) -> None:
        events = components(unfolded(EXPORTS[export]), "VEVENT")
        uids = [values(event, "UID")[0] for event in events]
        assert len(uids) == len(set(uids))


def test_the_update_has_something_of_each_kind() -> None:
    events = components(unfolded(EXPORTS["an update"]), "VEVENT")
    kinds = {(values(e, "STATUS")[0], values(e, "SEQUENCE")[0]) for e in events}
    assert kinds == {("CONFIRMED", "0"), ("CONFIRMED", "1"), ("CANCELLED", "1")}


def test_the_same_input_gives_the_same_bytes() -> None:
    again = exported(PLAN, ReminderChoices(zone="Europe/London", alarm=15))
    assert again == EXPORTS["in a zone"]
    local = STAMP.astimezone(tz=None)
    assert calendar_bytes(reminder_events(lay_out(PLAN)), PLAN, stamp=local) == calendar_bytes(
        reminder_events(lay_out(PLAN)), PLAN, stamp=datetime(2027, 1, 2, 9, 30, tzinfo=UTC)
    )


def test_a_file_that_importers_would_refuse_for_its_size_is_not_made() -> None:
    events = reminder_events(lay_out(PLAN))
    long = [replace(event, text="x" * 100_000) for event in events]
    with pytest.raises(CalendarTooLargeError, match=r"would have [\d,]+ bytes; .* 1,000,000"):
        calendar_bytes(long, PLAN, stamp=STAMP)


def test_a_large_calendar_is_split_into_files_that_hold_each_event_once() -> None:
    events = [replace(e, text="x" * 200_000) for e in reminder_events(lay_out(PLAN))]
    issued = first_issue(PLAN.id, events, STAMP)
    files = split_bytes(issued, name="My plan 100")
    assert len(files) > 2
    assert max(map(len, files)) <= LARGEST
    uids = [values(e, "UID")[0] for file in files for e in components(unfolded(file), "VEVENT")]
    assert sorted(uids) == sorted(entry.uid for entry in issued)
    huge = [replace(entry, event=replace(entry.event, text="x" * LARGEST)) for entry in issued[:2]]
    with pytest.raises(CalendarTooLargeError):
        split_bytes(huge, name="My plan 100")
