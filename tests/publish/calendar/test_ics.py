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
from sennight.domain.reminders.reminders import reminder_events
from sennight.publish.calendar.ics import CalendarTooLargeError, calendar_bytes


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
        assert lines.count("NAME:My remedies") == lines.count("X-WR-CALNAME:My remedies") == 1

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
