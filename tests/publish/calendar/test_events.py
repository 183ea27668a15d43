"""Each event of real exports against RFC 5545, RFC 7986 and reports of what importers misread.

The rules are a table: an id, where it is published, and a function of one event's lines.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest

from readers.calendar_exports import exported
from readers.calendar_lines import Lines, components, own, rule, starts, unfolded, values
from readers.calendar_samples import EXPORTS, NAME, PLAN
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import plan_name
from support.samples import course, line, phase


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
        if not re.fullmatch(r"ACTION:DISPLAY\nDESCRIPTION:[^\n]+\nTRIGGER:(PT0S|-?PT\d+M)", text):
            return False
    return True


def has_its_calendar_as_its_category(event: Lines) -> bool:
    return values(event, "CATEGORIES") == [plan_name(PLAN.id)]


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
    ("categories", "RFC 5545 section 3.8.1.2", has_its_calendar_as_its_category),
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


def test_text_is_escaped() -> None:
    """RFC 5545 section 3.3.11: backslash, comma and semicolon; a colon is not."""
    lines = unfolded(EXPORTS["long names"])
    escaped = NAME.replace("\\", "\\\\").replace(",", "\\,").replace(";", "\\;")
    assert f"SUMMARY:{escaped}: 1 cup\\, Remedy t2: 2 mL" in lines
    assert f"DESCRIPTION:07:30 {escaped}: 1 cup\\n07:30 Remedy t2: 2 mL" in lines


@pytest.mark.parametrize(
    ("zone", "until"),
    [
        ("Europe/London", b"20270628T190000Z"),  # 06:30 UTC + 12 h + half of 1 h
        ("America/New_York", b"20270628T213000Z"),  # 11:30 UTC + 12 h - half of 4 h
        ("Pacific/Chatham", b"20270628T130730Z"),  # 18:45 UTC the day before + 12 h + 6 h 22.5
        (None, b"20270628T193000;"),
    ],
)
def test_until_lies_well_after_the_last_occurrence(zone: str | None, until: bytes) -> None:
    """RFC 5545 section 3.3.10: inclusive; UTC where there is a zone.

    Readers with other zone data, or that read UTC as local time, are off by hours.
    """
    plan = course(phase("a", "26 w", line("t1", "1 cup od on mon")))
    assert b"UNTIL=" + until in exported(plan, ReminderChoices(zone=zone))


@pytest.mark.parametrize(("minutes", "trigger"), [(0, "PT0S"), (15, "-PT15M"), (90, "-PT90M")])
def test_the_alarm_goes_so_many_minutes_before(minutes: int, trigger: str) -> None:
    """RFC 5545 section 3.8.6.3."""
    lines = unfolded(exported(PLAN, ReminderChoices(alarm=minutes, markers=False)))
    assert {text for text in lines if text.startswith("TRIGGER")} == {f"TRIGGER:{trigger}"}


def test_what_changes_on_a_day_rings_when_the_client_gets_up() -> None:
    """RFC 5545 section 3.8.6.3: of a whole day from its midnight; 07:00 is 420 minutes after."""
    events = components(unfolded(EXPORTS["in a zone"]), "VEVENT")
    days = [event for event in events if "VALUE=DATE" in starts(event)]
    rings = {values(e, "SUMMARY")[0]: [t for t in e if t.startswith("TRIGGER")] for e in days}
    assert rings["Your course starts"] == ["TRIGGER:PT420M"]
    assert rings["Review with your practitioner"] == []


def test_a_single_dose_has_no_rule() -> None:
    plan = course(phase("a", "1 d", line("t1", "1 cup od")))
    assert b"RRULE" not in exported(plan, ReminderChoices())
