"""Real exports against the rules of RFC 5545, RFC 7986 and reports of what importers misread.

The rules are a table: an id, where it is published, and a function of one file's lines.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from readers.calendar_exports import STAMP, exported
from readers.calendar_lines import Lines, components, own, rule, starts, unfolded, values
from samples import course, line, phase
from sennight.domain.courses import Course, Stop
from sennight.domain.reminders import reminder_events
from sennight.domain.reminders_events import ReminderChoices
from sennight.domain.reminders_published import Published, first_issue
from sennight.domain.reminders_revising import revise
from sennight.domain.stretches import lay_out
from sennight.publish.calendar_file import (
    CalendarTooLargeError,
    calendar_bytes,
    issued_bytes,
    phase_files,
)

PLAN = course(
    phase(
        "loading",
        "6 w",
        line("t1", "1 cup tds"),
        line("t2", "2 mL od on mon wed fri"),
        line("t3", "1 capsule nocte 2 w on 1 w off"),
    ),
    phase("maintenance", "1 d", line("t1", "1 cup od")),
)
NAME = "Tee für Ołena; kühl, trocken \\ dunkel – 茶と薬草 – und noch viel länger als eine Zeile"


def renamed(plan: Course) -> Course:
    first, *others = plan.remedies
    return replace(plan, remedies=(replace(first, name=NAME), *others))


def updated() -> bytes:
    """A second publication, with something cancelled, cut off and added."""
    first = revise(
        Published(PLAN.id),
        reminder_events(lay_out(PLAN), ReminderChoices(zone="Europe/London")),
        today=PLAN.start,
        stamp=STAMP,
    )
    stop = Stop(on=date(2027, 1, 20), remedy="t3", first=date(2027, 1, 20))
    plan = replace(PLAN, revisions=(stop,))
    events = reminder_events(lay_out(plan), ReminderChoices(zone="Asia/Kathmandu"))
    found = revise(
        first.published, events, today=date(2027, 1, 20), stamp=STAMP + timedelta(days=18)
    )
    return issued_bytes(found.issued)


EXPORTS = {
    "in a zone": exported(PLAN, ReminderChoices(zone="Europe/London", alarm=15)),
    "floating": exported(PLAN, ReminderChoices()),
    "silent and discreet": exported(PLAN, ReminderChoices(discreet=True, alarm=None)),
    "long names": exported(renamed(PLAN), ReminderChoices(zone="America/Sao_Paulo")),
    "an update": updated(),
}


# The rules, each of one event


def has_what_is_required(event: Lines) -> bool:
    return all(len(values(event, name)) == 1 for name in ("UID", "DTSTAMP", "DTSTART"))


def has_one_plain_rule_at_most(event: Lines) -> bool:
    names = {re.split("[:;]", text)[0] for text in own(event)}
    return len(values(event, "RRULE")) <= 1 and not names & {"RDATE", "EXDATE", "EXRULE"}


def repeats_daily_or_weekly(event: Lines) -> bool:
    return not rule(event) or rule(event)["FREQ"] in {"DAILY", "WEEKLY"}


def ends_by_until_and_not_by_count(event: Lines) -> bool:
    return not rule(event) or ("UNTIL" in rule(event) and "COUNT" not in rule(event))


def has_until_in_the_form_of_its_start(event: Lines) -> bool:
    until = rule(event).get("UNTIL")
    if until is None:
        return True
    if "VALUE=DATE" in starts(event):
        return bool(re.fullmatch(r"\d{8}", until))
    return bool(re.fullmatch(r"\d{8}T\d{6}" + ("Z" if "TZID=" in starts(event) else ""), until))


def has_an_upper_case_rule(event: Lines) -> bool:
    return all(text == text.upper() for text in values(event, "RRULE"))


def starts_on_a_day_of_its_rule(event: Lines) -> bool:
    days = rule(event).get("BYDAY", "")
    start = date.fromisoformat(values(event, "DTSTART")[0][:8])
    weekday = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")[start.weekday()]
    return not days or weekday in days.split(",")


def ends_after_it_starts(event: Lines) -> bool:
    return rule(event).get("UNTIL", "9")[:8] > values(event, "DTSTART")[0][:8]


def has_one_length(event: Lines) -> bool:
    return len(values(event, "DTEND")) + len(values(event, "DURATION")) == 1


def is_short(event: Lines) -> bool:
    start = values(event, "DTSTART")[0]
    if "T" in start:
        return values(event, "DURATION") == ["PT10M"]
    end = date.fromisoformat(start) + timedelta(days=1)
    return values(event, "DTEND") == [f"{end:%Y%m%d}"]


def keeps_local_time(event: Lines) -> bool:
    return not values(event, "DTSTART")[0].endswith("Z")


def does_not_show_as_busy(event: Lines) -> bool:
    return values(event, "TRANSP") == ["TRANSPARENT"]


def has_stamps_in_utc_that_agree(event: Lines) -> bool:
    (stamp,), (modified,) = values(event, "DTSTAMP"), values(event, "LAST-MODIFIED")
    return stamp == modified and bool(re.fullmatch(r"\d{8}T\d{6}Z", stamp))


def has_a_sequence(event: Lines) -> bool:
    (sequence,) = values(event, "SEQUENCE")
    return int(sequence) >= (1 if values(event, "STATUS") == ["CANCELLED"] else 0)


def has_a_status_of_the_standard(event: Lines) -> bool:
    return values(event, "STATUS") in (["CONFIRMED"], ["CANCELLED"])


def has_a_uid_that_is_a_uuid(event: Lines) -> bool:
    return bool(
        re.fullmatch(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}", values(event, "UID")[0])
    )


def has_its_alarm_last(event: Lines) -> bool:
    return "BEGIN:VALARM" not in event or event[-1] == "END:VALARM"


def has_a_whole_alarm(event: Lines) -> bool:
    for alarm in components(event, "VALARM"):
        text = "\n".join(alarm)
        if not re.fullmatch(r"ACTION:DISPLAY\nDESCRIPTION:[^\n]+\nTRIGGER:(PT0S|-PT\d+M)", text):
            return False
    return True


def tells_doses_from_markers(event: Lines) -> bool:
    return values(event, "CATEGORIES") == (
        ["DOSE"] if "T" in values(event, "DTSTART")[0] else ["MARKER"]
    )


def is_no_override(event: Lines) -> bool:
    return not values(event, "RECURRENCE-ID")


EVENT_RULES: list[tuple[str, str, Callable[[Lines], bool]]] = [
    ("vevent_required", "RFC 5545 section 3.6.1", has_what_is_required),
    (
        "rrule_once",
        "RFC 5545 section 3.6.1; RDATE and EXDATE are lost",
        has_one_plain_rule_at_most,
    ),
    ("no_subdaily", "reports of importers", repeats_daily_or_weekly),
    ("until_count_exclusive", "RFC 5545 section 3.3.10", ends_by_until_and_not_by_count),
    ("until_type", "RFC 5545 section 3.3.10", has_until_in_the_form_of_its_start),
    ("rrule_uppercase", "reports of importers", has_an_upper_case_rule),
    ("dtstart_sync", "RFC 5545 section 3.8.5.3", starts_on_a_day_of_its_rule),
    ("until_before_start", "reports of importers", ends_after_it_starts),
    ("dtend_vs_duration", "RFC 5545 section 3.6.1", has_one_length),
    ("dtend_exclusive", "RFC 5545 section 3.6.1", is_short),
    ("same_local_time", "RFC 5545 section 3.8.5.3", keeps_local_time),
    ("transp", "RFC 5545 section 3.8.2.7", does_not_show_as_busy),
    ("dtstamp_utc", "RFC 5545 section 3.8.7.2 and 3.8.7.3", has_stamps_in_utc_that_agree),
    ("sequence_start", "RFC 5545 section 3.8.7.4, RFC 5546 section 3.2.5", has_a_sequence),
    ("cancel_status", "RFC 5545 section 3.8.1.11", has_a_status_of_the_standard),
    ("7986_uid", "RFC 7986 section 5.3 (from memory)", has_a_uid_that_is_a_uuid),
    ("valarm_must_follow_props", "reports of importers", has_its_alarm_last),
    ("valarm_required", "RFC 5545 section 3.6.6 and 3.8.6.3", has_a_whole_alarm),
    ("categories", "RFC 5545 section 3.8.1.2", tells_doses_from_markers),
    ("avoid_overrides_in_export", "reports of importers", is_no_override),
]


@pytest.mark.parametrize(
    ("rule_id", "source", "holds"), EVENT_RULES, ids=[r[0] for r in EVENT_RULES]
)
@pytest.mark.parametrize("export", EXPORTS)
def test_each_event_keeps_the_rule(
    export: str, rule_id: str, source: str, holds: Callable[[Lines], bool]
) -> None:
    events = components(unfolded(EXPORTS[export]), "VEVENT")
    assert events
    for event in events:
        assert holds(event), f"{rule_id} ({source}): {event}"


# The rules, each of a whole file


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

    def test_nothing_tells_who_the_client_is(self, export: str) -> None:
        assert b"Una" not in EXPORTS[export]
        assert b"Example" not in EXPORTS[export]


def test_the_update_has_something_of_each_kind() -> None:
    events = components(unfolded(EXPORTS["an update"]), "VEVENT")
    kinds = {(values(e, "STATUS")[0], values(e, "SEQUENCE")[0]) for e in events}
    assert kinds == {("CONFIRMED", "0"), ("CONFIRMED", "1"), ("CANCELLED", "1")}


def test_text_is_escaped() -> None:
    """RFC 5545 section 3.3.11: backslash, comma and semicolon; a colon is not."""
    lines = unfolded(EXPORTS["long names"])
    escaped = NAME.replace("\\", "\\\\").replace(",", "\\,").replace(";", "\\;")
    assert f"SUMMARY:{escaped}: 1 cup" in lines
    assert f"DESCRIPTION:07:30 {escaped}: 1 cup\\n07:30 Remedy t2: 2 mL" in lines


def test_until_is_the_last_occurrence() -> None:
    """RFC 5545 section 3.3.10: inclusive; UTC where there is a zone."""
    plan = course(phase("a", "26 w", line("t1", "1 cup od on mon")))
    assert b"UNTIL=20270628T063000Z" in exported(plan, ReminderChoices(zone="Europe/London"))
    assert b"UNTIL=20270628T073000;" in exported(plan, ReminderChoices())


@pytest.mark.parametrize(("minutes", "trigger"), [(0, "PT0S"), (15, "-PT15M"), (90, "-PT90M")])
def test_the_alarm_goes_so_many_minutes_before(minutes: int, trigger: str) -> None:
    """RFC 5545 section 3.8.6.3."""
    lines = unfolded(exported(PLAN, ReminderChoices(alarm=minutes)))
    assert {text for text in lines if text.startswith("TRIGGER")} == {f"TRIGGER:{trigger}"}


def test_a_single_dose_has_no_rule() -> None:
    plan = course(phase("a", "1 d", line("t1", "1 cup od")))
    assert b"RRULE" not in exported(plan, ReminderChoices())


def test_discreet_files_name_no_remedy() -> None:
    assert b"Remedy" not in EXPORTS["silent and discreet"]
    assert b"VALARM" not in EXPORTS["silent and discreet"]


def test_the_same_input_gives_the_same_bytes() -> None:
    again = exported(PLAN, ReminderChoices(zone="Europe/London", alarm=15))
    assert again == EXPORTS["in a zone"]
    local = STAMP.astimezone(tz=None)
    assert calendar_bytes(reminder_events(lay_out(PLAN)), PLAN, stamp=local) == calendar_bytes(
        reminder_events(lay_out(PLAN)), PLAN, stamp=datetime(2027, 1, 2, 9, 30, tzinfo=UTC)
    )


def test_one_file_for_each_phase() -> None:
    events = reminder_events(lay_out(PLAN), ReminderChoices(by_phase=True))
    issued = first_issue(PLAN.id, events, STAMP)
    files = phase_files(issued)
    assert list(files) == ["loading", "maintenance"]
    uids = [
        values(event, "UID")[0]
        for data in files.values()
        for event in components(unfolded(data), "VEVENT")
    ]
    assert uids == [one.uid for one in issued]
    (after,) = {
        values(event, "DTSTART")[0][:8]
        for event in components(unfolded(files["maintenance"]), "VEVENT")
    }
    assert after == "20270215"


def test_a_file_that_importers_would_refuse_for_its_size_is_not_made() -> None:
    events = reminder_events(lay_out(PLAN))
    long = [replace(event, text="x" * 100_000) for event in events]
    with pytest.raises(CalendarTooLargeError, match=r"would have [\d,]+ bytes; .* 1,000,000"):
        calendar_bytes(long, PLAN, stamp=STAMP)
