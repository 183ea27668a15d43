"""The record of published reminders, there and back, and what is wrong with a damaged one."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from readers.calendar_exports import STAMP
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import fresh_set, revise
from sennight.publish.calendar.record import RecordError, read_record, record_bytes
from support.samples import course, line, phase

PLAN = course(
    phase("a", "6 w", line("t1", "1 cup tds"), line("t2", "2 mL od on mon wed fri")),
    phase("b", "6 w", line("t1", "1 cup od alternate days"), line("t3", "1 mL nocte")),
)
EVENTS = reminder_events(lay_out(PLAN), ReminderChoices(zone="Europe/London", by_phase=True))
FIRST = revise(Published(PLAN.id, "Plan für Ołena"), EVENTS, today=PLAN.start, stamp=STAMP)
FEWER = revise(FIRST.published, EVENTS[:3], today=PLAN.start, stamp=STAMP).published


@pytest.mark.parametrize(
    "published",
    [
        Published("c0ffee"),
        FIRST.published,
        FEWER,
        fresh_set(FEWER, EVENTS, today=PLAN.start, stamp=STAMP).published,
    ],
)
def test_there_and_back(published: Published) -> None:
    data = record_bytes(published)
    assert read_record(data) == published
    assert record_bytes(read_record(data)) == data


def test_it_says_nothing_of_the_client() -> None:
    assert b"Una" not in record_bytes(FIRST.published)


def _set(*path: str | int, to: object) -> Callable[[dict[str, Any]], None]:
    def change(document: dict[str, Any]) -> None:
        inside: Any = document
        for step in path[:-1]:
            inside = inside[step]
        inside[path[-1]] = to

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (_set("version", to=3), "at version: expected 2 or 1"),
        (_set("course", to=None), "at course: expected a text"),
        (_set("on", to="soon"), "at on: expected a date"),
        (_set("generation", to=-1), "at generation: expected a whole number"),
        (_set("generation", to=True), "at generation: expected a whole number"),
        (_set("issued", to={}), "at issued: expected a list"),
        (_set("issued", 0, to="x"), r"at issued\[0\]: expected a table"),
        (_set("issued", 1, "kind", to="x"), r"at issued\[1\].kind: expected one of dose, advice"),
        (_set("issued", 1, "first", to="soon"), r"at issued\[1\].first: expected a date"),
        (_set("issued", 1, "last", to="2020-01-01"), r"at issued\[1\].first: expected a first"),
        (_set("issued", 1, "every", to=0), r"at issued\[1\].first: expected a first"),
        (_set("issued", 1, "weekdays", to=[7]), r"at issued\[1\].weekdays: expected whole"),
        (_set("issued", 1, "minute", to=1440), r"at issued\[1\].minute: .* from 0 to 1439"),
        (_set("issued", 1, "stamp", to="2027-01-01T00:00:00"), r"at issued\[1\].stamp: .* offset"),
        (_set("issued", 1, "sequence", to="1"), r"at issued\[1\].sequence: expected a whole"),
        (_set("issued", 1, "latest", to="soon"), r"at issued\[1\].latest: expected a date"),
        (_set("cancelled", to=None), r"at cancelled: expected a list"),
        (_set("cancelled", 0, "kind", to="x"), r"at cancelled\[0\].kind: expected one of dose"),
    ],
)
def test_damage_is_told_with_its_place(
    change: Callable[[dict[str, Any]], None], message: str
) -> None:
    document = json.loads(record_bytes(FEWER))
    change(document)
    with pytest.raises(RecordError, match=message):
        read_record(json.dumps(document).encode())


def first_version(published: Published, gone: object) -> bytes:
    """The record as version 1 wrote it."""
    document = json.loads(record_bytes(published))
    del document["cancelled"]
    for row in document["issued"]:
        del row["latest"]
    return json.dumps(document | {"version": 1, "gone": gone}).encode()


def test_what_version_1_said_was_cancelled_is_told_again() -> None:
    old = read_record(first_version(FEWER, {"c0ffee": 3}))
    assert old.issued == FEWER.issued
    (gone,) = old.cancelled
    assert (gone.uid, gone.sequence, gone.is_cancelled) == ("c0ffee", 4, True)
    again = revise(old, EVENTS[:3], today=PLAN.start + timedelta(days=90), stamp=STAMP)
    assert gone in again.issued
    assert read_record(record_bytes(old)) == old


def test_an_empty_record_of_version_1() -> None:
    assert read_record(first_version(Published("c0ffee"), {"x": 1})) == Published("c0ffee")


def test_damage_in_version_1_is_told_with_its_place() -> None:
    with pytest.raises(RecordError, match=r"at gone.x: expected a whole number"):
        read_record(first_version(FEWER, {"x": "y"}))


@pytest.mark.parametrize("data", [b"", b"{", b"\xff", b"[]", b"null"])
def test_what_is_no_record(data: bytes) -> None:
    with pytest.raises(RecordError, match=r"damaged at the file.*restore it from a backup"):
        read_record(data)
