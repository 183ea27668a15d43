"""Calendars from elsewhere, compared with the doses of a course."""

from __future__ import annotations

import re
import time
from contextlib import suppress
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from readers.calendar_exports import STAMP, ZONES, exported
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import Published, event_uid, first_issue
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import fresh_set, revise
from sennight.publish.calendar.check import AlarmFault, CalendarCheck, Due, compare_calendar
from sennight.publish.calendar.entries import MOST_BYTES, CalendarReadError
from sennight.publish.calendar.ics import issued_bytes
from support.draws import draws
from support.samples import course, line, phase

LONDON = "Europe/London"
PLAN = course(
    phase("a", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL nocte on mon")),
    start=date(2027, 3, 22),
)
LAYOUT = lay_out(PLAN)
FILE = exported(PLAN, ReminderChoices(zone=LONDON))


APART = ReminderChoices()


def compared(*files: bytes) -> CalendarCheck:
    return compare_calendar(files, LAYOUT, LONDON, APART)


def entry(*rows: str) -> bytes:
    body = ["BEGIN:VEVENT", "DTSTAMP:20270101T000000Z", *rows, "END:VEVENT"]
    return "".join(f"{row}\r\n" for row in body).encode()


def with_entry(data: bytes, *rows: str) -> bytes:
    return data.replace(b"END:VCALENDAR", entry(*rows) + b"END:VCALENDAR")


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.mark.parametrize("zone", [LONDON, None])
def test_what_we_wrote_agrees(zone: str | None) -> None:
    found = compared(exported(PLAN, ReminderChoices(zone=zone)))
    assert found.agrees
    assert found.ignored == ()


@pytest.mark.parametrize("zone", ZONES)
def test_night_doses_across_clock_changes_agree(zone: str) -> None:
    plan = course(
        phase("a", "52 w", line("t1", "1 cup at 01:30,02:30,03:30")), start=date(2027, 1, 4)
    )
    data = exported(plan, ReminderChoices(zone=zone))
    assert compare_calendar([data], lay_out(plan), zone, APART).agrees


def test_discreet_reminders_are_recognised_by_their_title_alone() -> None:
    data = exported(PLAN, ReminderChoices(zone=LONDON, discreet=True, markers=False))
    data = re.sub(rb"CATEGORIES:.*\r\n", b"", re.sub(rb"UID:........", b"UID:ffffffff", data))
    assert compared(data).agrees


def test_joined_doses_agree_with_the_same_choice_only() -> None:
    plan = course(phase("a", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL bd ac")))
    data = exported(plan, ReminderChoices(zone=LONDON, join_within=30))
    joined = ReminderChoices(join_within=30)
    assert compare_calendar([data], lay_out(plan), LONDON, joined).agrees
    assert len(compare_calendar([data], lay_out(plan), LONDON, APART).missing) == 28


def test_a_dose_that_the_phone_lost() -> None:
    data = FILE.replace(
        b"RRULE:FREQ=WEEKLY", b"EXDATE;TZID=Europe/London:20270329T223000\r\nRRULE:FREQ=WEEKLY"
    ).replace(b"FREQ=DAILY;UNTIL=20270404T190000Z", b"FREQ=DAILY;UNTIL=20270403T190000Z")
    found = compared(data)
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
    found = compared(data)
    assert [due.at for due in found.missing] == [at("2027-03-25T07:30")]
    assert found.extra == (Due(at("2027-03-25T09:00"), "later today"),)


def test_an_old_calendar_that_was_not_removed_is_doubled() -> None:
    again = re.sub(rb"UID:(........)", rb"UID:ffffffff", FILE)
    both = FILE.replace(b"END:VCALENDAR\r\n", b"") + again[again.index(b"BEGIN:VEVENT") :]
    found = compared(both)
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
    assert compare_calendar([changed], lay_out(winter), LONDON, APART).agrees


def test_other_events_are_ignored_and_told() -> None:
    data = with_entry(FILE, "UID:x", "SUMMARY:Choir", "DTSTART:20270325T190000Z")
    data = with_entry(data, "UID:y", "SUMMARY:Birthday", "DTSTART;VALUE=DATE:20270326")
    data = with_entry(
        data, "UID:z", "SUMMARY:Breakfast with Ann", "DTSTART;TZID=Europe/London:20270325T073000"
    )
    data = with_entry(data, "UID:r", "SUMMARY:Reminder: choir", "DTSTART:20270325T180000Z")
    found = compared(data)
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
    found = compared(typed)
    assert [due.at for due in found.missing] == [at("2027-03-29T22:30")]


def test_a_rule_whose_end_was_lost_goes_on_after_the_course() -> None:
    data = FILE.replace(b"RRULE:FREQ=DAILY;UNTIL=20270405T060000Z", b"RRULE:FREQ=DAILY")
    found = compared(data)
    assert found.extra[0].at == at("2027-04-05T18:30")
    assert len(found.extra) == 31


def test_cancelled_events_are_not_there() -> None:
    data = FILE.replace(b"STATUS:CONFIRMED", b"STATUS:CANCELLED")
    assert len(compared(data).missing) == 30


@pytest.mark.parametrize("data", [b"", b"hello", b"BEGIN:VCALENDAR\r\n", b"\xff\xfe\x00"])
def test_what_is_no_calendar(data: bytes) -> None:
    with pytest.raises(CalendarReadError, match="this calendar file cannot be read"):
        compared(data)


@settings(max_examples=draws(20))
@given(st.integers(0, len(FILE)), st.integers(0, 60), st.binary(max_size=20))
def test_a_damaged_file_is_read_or_refused_in_words(start: int, cut: int, put: bytes) -> None:
    damaged = FILE[:start] + put + FILE[start + cut :]
    with suppress(CalendarReadError):
        compared(damaged)


# Alarms


def without_alarms(data: bytes) -> bytes:
    return re.sub(rb"BEGIN:VALARM.*?END:VALARM\r\n", b"", data, flags=re.DOTALL)


def test_alarms_that_were_lost_are_told_with_how_often() -> None:
    found = compared(without_alarms(FILE))
    assert not found.agrees
    assert found.missing == found.extra == found.doubled == ()
    assert found.alarms == (
        AlarmFault(at("2027-03-22T07:30"), "Remedy t1: 1 cup", 14, None),
        AlarmFault(at("2027-03-22T18:30"), "Remedy t1: 1 cup", 14, None),
        AlarmFault(at("2027-03-22T22:30"), "Remedy t2: 2 mL", 2, None),
    )


@pytest.mark.parametrize(
    ("trigger", "lead"),
    [
        ("-P1D", timedelta(days=1)),
        ("-PT15M", timedelta(minutes=15)),
        ("-P300S", timedelta(minutes=5)),  # without its T, as some programs write it
        ("PT10M", timedelta(minutes=-10)),
        ("20270101T000000Z", None),
        ("soon", None),
    ],
)
def test_alarms_at_another_time_are_told(trigger: str, lead: timedelta | None) -> None:
    data = FILE.replace(b"TRIGGER:PT0S", f"TRIGGER:{trigger}".encode())
    assert {fault.lead for fault in compared(data).alarms} == {lead}


def test_an_alarm_that_does_nothing_is_none_and_one_of_two_is_enough() -> None:
    assert len(compared(FILE.replace(b"ACTION:DISPLAY", b"ACTION:NONE")).alarms) == 3
    second = b"BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-P1D\r\nEND:VALARM\r\nEND:VEVENT"
    assert compared(FILE.replace(b"END:VEVENT", second)).agrees


def test_the_alarm_that_was_given_is_the_one_that_is_looked_for() -> None:
    data = exported(PLAN, ReminderChoices(zone=LONDON, alarm=15))
    assert compare_calendar([data], LAYOUT, LONDON, ReminderChoices(alarm=15)).agrees
    assert {fault.lead for fault in compared(data).alarms} == {timedelta(minutes=15)}
    silent = ReminderChoices(alarm=None)
    assert compare_calendar([without_alarms(data)], LAYOUT, LONDON, silent).agrees


# Other courses, other programs


def test_another_course_in_the_same_calendar_is_left_out() -> None:
    other = replace(PLAN, id="decade")
    both = FILE.replace(b"END:VCALENDAR\r\n", b"")
    theirs = exported(other, ReminderChoices(zone=LONDON))
    both += theirs[theirs.index(b"BEGIN:VEVENT") :]
    found = compared(both)
    assert found.agrees
    assert "Remedy t1: 1 cup" in found.ignored


def test_files_by_phase_are_compared_together() -> None:
    events = reminder_events(LAYOUT, ReminderChoices(zone=LONDON))
    issued = first_issue(PLAN.id, events, STAMP)
    parts = [issued_bytes(some, name="x") for some in (issued[:2], issued[2:])]
    assert compared(*parts).agrees
    assert not compared(parts[0]).agrees
    assert compared(*parts, parts[0]).agrees  # the same file twice


def test_our_own_updates_and_fresh_sets_are_recognised() -> None:
    events = reminder_events(LAYOUT, ReminderChoices(zone=LONDON))
    first = revise(Published(PLAN.id), events, today=PLAN.start, stamp=STAMP).published
    fresh = fresh_set(first, events, today=PLAN.start, stamp=STAMP)
    data = issued_bytes(fresh.issued, name=fresh.published.calendar_name)
    assert compared(data).agrees
    assert compared(re.sub(rb"UID:........", b"UID:ffffffff", data)).ignored == ()


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=SECONDLY",
        "FREQ=MINUTELY",
        "FREQ=SECONDLY;COUNT=1000000000",
        "FREQ=DAILY;INTERVAL=0",
        "FREQ=DAILY;INTERVAL=-1",
        "nonsense",
    ],
)
def test_rules_that_no_calendar_of_days_has_are_not_repeated(rule: str) -> None:
    """Whoever the entry belongs to; repeated, the first ones take for ever."""
    rows = ("DTSTART:19900101T000000Z", f"RRULE:{rule}")
    theirs = compared(with_entry(FILE, "UID:x", "SUMMARY:Odd", *rows))
    assert theirs.agrees
    assert theirs.ignored == ("Odd",)
    ours = compared(with_entry(FILE, "UID:x", "SUMMARY:Remedy t1: 1 cup", *rows))
    assert ours.unreadable == ("Remedy t1: 1 cup",)
    assert not ours.agrees


@pytest.mark.parametrize(
    "rows",
    [
        ("SUMMARY:no start",),
        ("SUMMARY:long", "DTSTART:20270325T190000Z", "DURATION:P10000000D"),
        ("SUMMARY:odd", "DTSTART:yesterday"),
        ("SUMMARY:Remedy t1: 1 cup", "DTSTART:T"),
    ],
)
def test_one_damaged_entry_does_not_hide_the_others(rows: tuple[str, ...]) -> None:
    found = compared(with_entry(FILE, "UID:x", *rows))
    assert not any((found.missing, found.extra, found.doubled, found.alarms))


def test_endless_entries_of_others_are_never_repeated() -> None:
    others = b"".join(
        entry(f"UID:{n}", "SUMMARY:Stand-up", "DTSTART:19900101T090000Z", "RRULE:FREQ=DAILY")
        for n in range(500)
    )
    began = time.process_time()
    assert compared(FILE.replace(b"END:VCALENDAR", others + b"END:VCALENDAR")).agrees
    assert time.process_time() - began < 5  # repeated, they would take about 20


def test_a_file_that_is_too_large_is_not_looked_into() -> None:
    with pytest.raises(CalendarReadError, match=r"more than 10,000,000 bytes"):
        compared(b"x" * (MOST_BYTES + 1))
