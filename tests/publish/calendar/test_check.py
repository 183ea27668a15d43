"""Calendars from elsewhere, compared with the doses of a course."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import date, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readers.calendar_exports import ZONES, exported
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import event_uid
from sennight.domain.reminders.reminders import reminder_events
from sennight.publish.calendar.check import CalendarReadError, Due, compare_calendar
from support.samples import course, line, phase

LONDON = "Europe/London"
PLAN = course(
    phase("a", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL nocte on mon")),
    start=date(2027, 3, 22),
)
LAYOUT = lay_out(PLAN)
FILE = exported(PLAN, ReminderChoices(zone=LONDON))


def entry(*rows: str) -> bytes:
    body = ["BEGIN:VEVENT", "DTSTAMP:20270101T000000Z", *rows, "END:VEVENT"]
    return "".join(f"{row}\r\n" for row in body).encode()


def with_entry(data: bytes, *rows: str) -> bytes:
    return data.replace(b"END:VCALENDAR", entry(*rows) + b"END:VCALENDAR")


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.mark.parametrize("zone", [LONDON, None])
def test_what_we_wrote_agrees(zone: str | None) -> None:
    found = compare_calendar(exported(PLAN, ReminderChoices(zone=zone)), LAYOUT, LONDON)
    assert found.agrees
    assert found.ignored == ()


@pytest.mark.parametrize("zone", ZONES)
def test_night_doses_across_clock_changes_agree(zone: str) -> None:
    plan = course(
        phase("a", "52 w", line("t1", "1 cup at 01:30,02:30,03:30")), start=date(2027, 1, 4)
    )
    data = exported(plan, ReminderChoices(zone=zone))
    assert compare_calendar(data, lay_out(plan), zone).agrees


def test_discreet_reminders_are_recognised_by_their_title_alone() -> None:
    data = exported(PLAN, ReminderChoices(zone=LONDON, discreet=True, markers=False))
    data = re.sub(rb"CATEGORIES:DOSE\r\n", b"", re.sub(rb"UID:........", b"UID:ffffffff", data))
    assert compare_calendar(data, LAYOUT, LONDON).agrees


def test_joined_doses_agree_with_the_same_choice_only() -> None:
    plan = course(phase("a", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL bd ac")))
    data = exported(plan, ReminderChoices(zone=LONDON, join_within=30))
    assert compare_calendar(data, lay_out(plan), LONDON, join_within=30).agrees
    assert len(compare_calendar(data, lay_out(plan), LONDON).missing) == 28


def test_a_dose_that_the_phone_lost() -> None:
    data = FILE.replace(
        b"RRULE:FREQ=WEEKLY", b"EXDATE;TZID=Europe/London:20270329T223000\r\nRRULE:FREQ=WEEKLY"
    ).replace(b"FREQ=DAILY;UNTIL=20270404T190000Z", b"FREQ=DAILY;UNTIL=20270403T190000Z")
    found = compare_calendar(data, LAYOUT, LONDON)
    assert found.missing == (
        Due(at("2027-03-29T22:30"), "Remedy t2: 2 mL"),
        Due(at("2027-04-04T07:30"), "Remedy t1: 1 cup"),
    )
    assert found.extra == found.doubled == ()


def test_an_occurrence_that_was_moved_is_missing_and_extra() -> None:
    at_breakfast = reminder_events(LAYOUT, ReminderChoices(markers=False))[0]
    uid = event_uid(PLAN.id, 0, at_breakfast)
    data = with_entry(
        FILE,
        f"UID:{uid}",
        "RECURRENCE-ID;TZID=Europe/London:20270325T073000",
        "DTSTART;TZID=Europe/London:20270325T090000",
        "SUMMARY:later today",
        "SEQUENCE:1",
    )
    found = compare_calendar(data, LAYOUT, LONDON)
    assert [due.at for due in found.missing] == [at("2027-03-25T07:30")]
    assert found.extra == (Due(at("2027-03-25T09:00"), "later today"),)


def test_an_old_calendar_that_was_not_removed_is_doubled() -> None:
    again = re.sub(rb"UID:(........)", rb"UID:ffffffff", FILE)
    both = FILE.replace(b"END:VCALENDAR\r\n", b"") + again[again.index(b"BEGIN:VEVENT") :]
    found = compare_calendar(both, LAYOUT, LONDON)
    assert len(found.doubled) == 28 + 2
    assert found.missing == found.extra == ()


def test_times_given_in_utc_and_titles_changed_are_recognised() -> None:
    def in_utc(found: re.Match[bytes]) -> bytes:
        return f"DTSTART:{found[1].decode()}Z".encode()  # in winter London keeps UTC

    winter = course(phase("a", "2 w", line("t1", "1 cup bd")), start=date(2027, 1, 4))
    data = exported(winter, ReminderChoices(zone=LONDON))
    changed = re.sub(rb"DTSTART;TZID=Europe/London:(\w+)", in_utc, data)
    changed = re.sub(rb"SUMMARY:.*", b"SUMMARY:tea!\r", changed)
    assert b"DTSTART:20270104T073000Z" in changed
    assert compare_calendar(changed, lay_out(winter), LONDON).agrees


def test_other_events_are_ignored_and_told() -> None:
    data = with_entry(FILE, "UID:x", "SUMMARY:Choir", "DTSTART:20270325T190000Z")
    data = with_entry(data, "UID:y", "SUMMARY:Birthday", "DTSTART;VALUE=DATE:20270326")
    data = with_entry(
        data, "UID:z", "SUMMARY:Breakfast with Ann", "DTSTART;TZID=Europe/London:20270325T073000"
    )
    data = with_entry(data, "UID:r", "SUMMARY:Reminder: choir", "DTSTART:20270325T180000Z")
    found = compare_calendar(data, LAYOUT, LONDON)
    assert found.agrees
    assert found.ignored == ("Birthday", "Breakfast with Ann", "Choir", "Reminder: choir")


def test_a_reminder_typed_in_by_hand_counts_where_it_names_the_remedy() -> None:
    lost = exported(
        course(phase("a", "2 w", line("t1", "1 cup bd")), start=PLAN.start),
        ReminderChoices(zone=LONDON),
    )
    typed = with_entry(
        lost, "UID:x", "SUMMARY:take Remedy t2!", "DTSTART;TZID=Europe/London:20270322T223000"
    )
    found = compare_calendar(typed, LAYOUT, LONDON)
    assert [due.at for due in found.missing] == [at("2027-03-29T22:30")]


def test_a_rule_whose_end_was_lost_goes_on_after_the_course() -> None:
    data = FILE.replace(b"RRULE:FREQ=DAILY;UNTIL=20270405T060000Z", b"RRULE:FREQ=DAILY")
    found = compare_calendar(data, LAYOUT, LONDON)
    assert found.extra[0].at == at("2027-04-05T18:30")
    assert len(found.extra) == 31


def test_cancelled_events_are_not_there() -> None:
    data = FILE.replace(b"STATUS:CONFIRMED", b"STATUS:CANCELLED")
    assert len(compare_calendar(data, LAYOUT, LONDON).missing) == 30


@pytest.mark.parametrize("data", [b"", b"hello", b"BEGIN:VCALENDAR\r\n", b"\xff\xfe\x00"])
def test_what_is_no_calendar(data: bytes) -> None:
    with pytest.raises(CalendarReadError, match="not a calendar file that can be read"):
        compare_calendar(data, LAYOUT, LONDON)


@settings(max_examples=40)
@given(st.integers(0, len(FILE)), st.integers(0, 60), st.binary(max_size=20))
def test_a_damaged_file_is_read_or_refused_in_words(start: int, cut: int, put: bytes) -> None:
    damaged = FILE[:start] + put + FILE[start + cut :]
    with suppress(CalendarReadError):
        compare_calendar(damaged, LAYOUT, LONDON)
