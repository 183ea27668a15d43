"""The record of published reminders as JSON: bytes in, bytes out.

It is kept in the store, and by the command line beside the course file.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, TypeVar

from sennight.domain.reminders.events import Event, EventKind
from sennight.domain.reminders.published import WITHDRAWN_TITLE, Issued, Published
from sennight.domain.reminders.runs import Run

VERSION = 2
"""Version 1 kept of a cancelled event its UID and sequence alone, and no event's latest day."""

_T = TypeVar("_T")


class RecordError(ValueError):
    """A record of published reminders that cannot be read; the message says where and why."""

    def __init__(self, where: str, expected: str) -> None:
        super().__init__(
            f"the record of published reminders is damaged at {where}: expected {expected}; "
            "restore it from a backup"
        )


def record_bytes(published: Published) -> bytes:
    """The record as JSON, the same bytes for the same record."""
    document = {
        "version": VERSION,
        "course": published.course,
        "name": published.name,
        "on": published.on.isoformat() if published.on else None,
        "given": published.given.isoformat() if published.given else None,
        "generation": published.generation,
        "discreet": published.is_discreet,
        "parts": list(published.parts),
        "subscription": published.subscription,
        "subscribed_in": published.subscribed_in,
        "issued": [_row(entry) for entry in published.issued],
        "cancelled": [_row(entry) for entry in published.cancelled],
    }
    return (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


def _row(entry: Issued) -> dict[str, object]:
    event, run = entry.event, entry.event.run
    return {
        "uid": entry.uid,
        "sequence": entry.sequence,
        "stamp": entry.stamp.isoformat(),
        "latest": entry.latest.isoformat(),
        "kind": event.kind,
        "first": run.first.isoformat(),
        "last": run.last.isoformat(),
        "every": run.every,
        "weekdays": list(run.weekdays),
        "minute": event.minute,
        "title": event.title,
        "text": event.text,
        "zone": event.zone,
        "alarm": event.alarm,
        "part": event.part,
    }


def read_record(data: bytes) -> Published:
    """A record from its JSON; raises RecordError."""
    try:
        document = json.loads(data.decode())
    except (UnicodeDecodeError, json.JSONDecodeError) as error:
        raise RecordError("the file", f"JSON in UTF-8 ({error})") from error
    top = _Fields(document, "")
    version = top.whole("version")
    if version not in (1, VERSION):
        raise RecordError("version", f"{VERSION} or 1, which this program knows")
    published = Published(
        top.text("course"),
        top.text("name"),
        top.day_or_none("on"),
        top.whole("generation"),
        tuple(_issued(row) for row in top.rows("issued")),
        given=top.day_or_none("given"),
        is_discreet=top.values.get("discreet") is True,
        subscription=top.text("subscription") if "subscription" in top.values else "",
        subscribed_in=top.text("subscribed_in") if "subscribed_in" in top.values else "",
        parts=tuple(map(str, top.get("parts", list, "a list"))) if "parts" in top.values else (),
    )
    if version == 1:
        return _with_gone(published, _Fields(top.get("gone", dict, "a table"), "gone."))
    cancelled = (_issued(row, is_cancelled=True) for row in top.rows("cancelled"))
    return replace(published, cancelled=tuple(cancelled))


def _with_gone(published: Published, gone: _Fields) -> Published:
    """A record of version 1 with what it says was cancelled, to be told again for a year.

    That version wrote a cancellation once, so a phone may not have it; the sequence is raised
    since the entry now reads otherwise.
    """
    on = published.on
    if on is None:
        return published
    stamps = (entry.stamp for entry in published.issued)
    stamp = max(stamps, default=datetime.combine(on, time(), UTC))
    event = Event(EventKind.DOSE, Run(on, on), None, WITHDRAWN_TITLE.format("a reminder"), "")
    latest = on + timedelta(days=366)
    cancelled = (
        Issued(uid, event, gone.whole(uid) + 1, stamp, latest, is_cancelled=True)
        for uid in sorted(gone.values)
    )
    return replace(published, cancelled=tuple(cancelled))


def _issued(row: _Fields, *, is_cancelled: bool = False) -> Issued:
    stamp = row.read("stamp", datetime.fromisoformat, "a moment such as 2027-01-04T09:00:00+00:00")
    if stamp.tzinfo is None:
        raise RecordError(f"{row.place}stamp", "a moment with its offset from UTC")
    event = Event(
        row.read("kind", EventKind, f"one of {', '.join(EventKind)}"),
        _run(row),
        row.whole_or_none("minute", 24 * 60 - 1),
        row.text("title"),
        row.text("text"),
        row.text("zone") if row.values.get("zone") is not None else None,
        row.get("alarm", int, "a whole number") if row.values.get("alarm") is not None else None,
        row.text("part"),
    )
    latest = row.day("latest") if "latest" in row.values else event.run.last
    return Issued(row.text("uid"), event, row.whole("sequence"), stamp, latest, is_cancelled)


def _run(row: _Fields) -> Run:
    first, last = row.day("first"), row.day("last")
    every = row.whole("every")
    weekdays = row.get("weekdays", list, "a list")
    if any(type(day) is not int or not 0 <= day < 7 for day in weekdays):
        raise RecordError(f"{row.place}weekdays", "whole numbers from 0 to 6")
    run = Run(first, last, every, tuple(weekdays))
    if every < 1 or last < first or first not in run or last not in run:
        raise RecordError(f"{row.place}first", "a first and a last day that the rule has")
    return run


class _Fields:
    """The fields of one JSON table, read with their types checked."""

    def __init__(self, values: object, place: str) -> None:
        if not isinstance(values, dict):
            raise RecordError(place.rstrip(".") or "the file", "a table")
        self.values: dict[str, Any] = values
        self.place = place

    def get(self, name: str, kind: type[_T], expected: str) -> _T:
        value = self.values.get(name)
        if not isinstance(value, kind) or isinstance(value, bool):
            raise RecordError(f"{self.place}{name}", expected)
        return value

    def rows(self, name: str) -> Iterator[_Fields]:
        for number, row in enumerate(self.get(name, list, "a list")):
            yield _Fields(row, f"{name}[{number}].")

    def text(self, name: str) -> str:
        return self.get(name, str, "a text")

    def whole(self, name: str, most: int | None = None) -> int:
        value = self.get(name, int, "a whole number")
        if value < 0 or (most is not None and value > most):
            raise RecordError(f"{self.place}{name}", f"a whole number from 0 to {most or 'any'}")
        return value

    def whole_or_none(self, name: str, most: int | None = None) -> int | None:
        return None if self.values.get(name) is None else self.whole(name, most)

    def day(self, name: str) -> date:
        return self.read(name, date.fromisoformat, "a date such as 2027-01-04")

    def day_or_none(self, name: str) -> date | None:
        return None if self.values.get(name) is None else self.day(name)

    def read(self, name: str, reader: Callable[[str], _T], expected: str) -> _T:
        try:
            return reader(self.text(name))
        except ValueError as error:
            raise RecordError(f"{self.place}{name}", expected) from error
