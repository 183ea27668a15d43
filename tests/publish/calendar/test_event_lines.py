"""Our own lines of an event against those that icalendar writes, to the byte."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import icalendar
from hypothesis import given
from hypothesis import strategies as st

from readers.calendar_exports import STAMP
from sennight.domain.reminders.events import Event, EventKind
from sennight.domain.reminders.published import Issued
from sennight.domain.reminders.runs import Run
from sennight.publish.calendar.event_lines import event_bytes
from support.strategies import WORDS

LONG = st.text(st.sampled_from("abcdefgh;,\\^\n ü€茶🫖"), min_size=60, max_size=200)
TEXTS = (WORDS | LONG).map(lambda text: text.replace("\r", ""))
RUNS = st.sampled_from(
    [
        Run(date(2027, 1, 4), date(2027, 1, 4)),
        Run(date(2027, 1, 4), date(2027, 3, 4)),
        Run(date(2027, 1, 4), date(2027, 1, 10), 3),
        Run(date(2027, 1, 4), date(2027, 1, 18), 7),
        Run(date(2027, 1, 4), date(2027, 1, 22), 1, (0, 2, 4)),
    ]
)
EVENTS = st.builds(
    Event,
    kind=st.sampled_from(EventKind),
    run=RUNS,
    minute=st.integers(0, 1439),
    title=TEXTS,
    text=TEXTS,
    zone=st.sampled_from((None, "Europe/London", "Pacific/Chatham")),
    alarm=st.sampled_from((None, 0, 15, -420)),
)


def by_icalendar(item: Issued, category: str) -> bytes:
    """The same event written by the library, its rule and alarm's trigger as they stand here."""
    event, lines = item.event, event_bytes(item, category)
    component = icalendar.Event()
    component.add("SUMMARY", event.title)
    clock = datetime.combine(event.run.first, time(*divmod(event.minute or 0, 60)))
    component.add("DTSTART", clock, parameters={"TZID": event.zone} if event.zone else {})
    component.add("DURATION", timedelta(minutes=10))
    component.add("DTSTAMP", item.stamp)
    component.add("UID", item.uid)
    rules = [line[6:] for line in lines.decode().split("\r\n") if line.startswith("RRULE:")]
    for rule in rules:
        component.add("RRULE", icalendar.vRecur.from_ical(rule))
    component.add("SEQUENCE", item.sequence)
    component.add("CATEGORIES", [category])
    component.add("CLASS", "PRIVATE")
    if event.text:
        component.add("DESCRIPTION", event.text)
    component.add("LAST-MODIFIED", item.stamp)
    component.add("STATUS", "CONFIRMED")
    component.add("TRANSP", "TRANSPARENT")
    if event.alarm is not None:
        alarm = icalendar.Alarm()
        alarm.add("ACTION", "DISPLAY")
        alarm.add("DESCRIPTION", event.title)
        trigger = {0: "PT0S", 15: "-PT15M", -420: "PT420M"}[event.alarm]
        alarm["TRIGGER"] = icalendar.vText(trigger)
        component.add_component(alarm)
    written: bytes = component.to_ical()
    return written


@given(EVENTS, TEXTS)
def test_an_event_has_the_bytes_that_the_library_gives_it(event: Event, category: str) -> None:
    item = Issued.new("c0ffee", event, STAMP.astimezone(UTC))
    assert event_bytes(item, category) == by_icalendar(item, category)


def test_a_line_break_of_any_kind_in_a_name_stays_in_its_line() -> None:
    event = Event(EventKind.DOSE, Run(STAMP.date(), STAMP.date()), 450, "a\r\nb\rc\nd", "")
    lines = event_bytes(Issued.new("x", event, STAMP), "x").split(b"\r\n")
    assert b"SUMMARY:a\\nb\\nc\\nd" in lines
