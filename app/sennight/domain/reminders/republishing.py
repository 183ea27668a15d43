"""Reminders over time: what a phone must be told when a course is published again.

What was given out for days before today stays as it was, since it is what the client was
reminded of. From today on, the phone ends up with the events of the course as it now is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from enum import StrEnum

from sennight.domain.dates import Span
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import CalendarUpdate, Issued, Published, event_uid


class FileKind(StrEnum):
    """What a calendar file is to the phone that reads it."""

    FIRST = "first"
    UPDATE = "update"
    FRESH = "fresh set"


def revise(
    published: Published, events: Iterable[Event], *, today: date, stamp: datetime
) -> CalendarUpdate:
    """The events to write, and the new record.

    An untouched event is written as it was. One that changed keeps its UID with its sequence
    raised, one that vanished is written once as cancelled. One that has begun is never
    rewritten: it goes on, longer or shorter, where the course still says the same, and else
    ends before today, with a new event in its place. Where nothing was published yet, all
    events are new, those of past days too. `stamp` is the moment of this publication (UTC).
    """
    if published.on is None:
        new = (_new(published, event, stamp) for event in events)
        return _publication(replace(published, on=today), new)
    coming = _from(events, today)
    begun = [one for one in published.issued if one.event.run.first < today]
    ahead = [one for one in published.issued if one.event.run.first >= today]
    standing = list(_gone_on(begun, coming, today, stamp))
    wanted = {event_uid(published.course, published.generation, event): event for event in coming}
    for old in ahead:
        event = wanted.pop(old.uid, None)
        standing.append(_restated(old, event, stamp) if event else _cancelled(old, stamp))
    standing.extend(_new(published, event, stamp) for event in wanted.values())
    return _publication(replace(published, on=today), standing)


def fresh_set(
    published: Published, events: Iterable[Event], *, today: date, stamp: datetime
) -> CalendarUpdate:
    """New events under new UIDs, from today on, for a calendar of its own.

    For phones that make second copies of events they know; the old calendar must go first.
    """
    empty = Published(published.course, published.name, today, published.generation + 1)
    return _publication(empty, (_new(empty, event, stamp) for event in _from(events, today)))


def client_note(kind: FileKind, published: Published, *, files: int = 1) -> str:
    """What to tell the client with so many files; `published` is the record after them."""
    name = published.calendar_name
    this = "this file" if files == 1 else f"each of these {files} files"
    if kind is FileKind.FIRST:
        return (
            f"Open {this} on your phone and add all its events to a calendar named "
            f"“{name}”. Then check that the first reminder comes up: some calendars leave the "
            "alarm out, and you may have to switch it on."
        )
    if kind is FileKind.UPDATE:
        return (
            f"Open {this} as you opened the one before: it corrects the calendar “{name}”. "
            "If you then see a reminder twice or one that no longer holds, ask for a fresh set."
        )
    old = replace(published, generation=published.generation - 1).calendar_name
    return (
        f"Remove the old calendar “{old}” from your phone first, with all its events. Then open "
        f"{this} and add its events to a new calendar named “{name}”. If you keep the old "
        "one, you will be reminded twice."
    )


def _from(events: Iterable[Event], today: date) -> list[Event]:
    """What is left of the events from today on."""
    parts = (event.within(Span(today, date.max)) for event in events)
    return [part for part in parts if part]


def _gone_on(
    begun: list[Issued], coming: list[Event], today: date, stamp: datetime
) -> Iterator[Issued]:
    """Events that have begun, each gone on with or cut off; takes what they cover from coming."""
    for old in begun:
        longer = _longer(old.event, coming, today)
        if longer:
            event, covered = longer
            coming.remove(covered)
        else:
            event = old.event.within(Span(date.min, today)) or old.event
        yield _restated(old, event, stamp)


def _longer(old: Event, coming: list[Event], today: date) -> tuple[Event, Event] | None:
    """An event that goes on by its own rule as one of the coming ones, and which one.

    Its days before today must come out as they were. A marker stands alone and never goes on,
    nor does an event from one phase's file into another's.
    """
    if old.minute is None:
        return None
    past = old.run.within(Span(date.min, today))
    for event in coming:
        is_same = old.says_the_same(event) and (not old.part or event.part in ("", old.part))
        run = old.run.until(event.run.last) if is_same else None
        if (
            run
            and run.within(Span(date.min, today)) == past
            and run.within(Span(today, date.max)) == event.run
        ):
            return replace(event, run=run), event
    return None


def _new(published: Published, event: Event, stamp: datetime) -> Issued:
    """An event for the first time, or again after it was cancelled, with a higher sequence."""
    uid = event_uid(published.course, published.generation, event)
    before = dict(published.gone).get(uid, -1)
    return Issued(uid, event, before + 1, stamp)


def _restated(old: Issued, event: Event, stamp: datetime) -> Issued:
    if old.event.says_the_same(event) and old.event.run == event.run:
        return replace(old, event=event)
    return Issued(old.uid, event, old.sequence + 1, stamp)


def _cancelled(old: Issued, stamp: datetime) -> Issued:
    return Issued(old.uid, old.event, old.sequence + 1, stamp, is_cancelled=True)


def _publication(before: Published, issued: Iterable[Issued]) -> CalendarUpdate:
    """The publication in order of the events' first days, cancelled ones recorded as gone."""
    items = sorted(issued, key=lambda one: (one.event.place, one.uid))
    standing = tuple(one for one in items if not one.is_cancelled)
    back = {one.uid for one in standing}
    gone = {uid: sequence for uid, sequence in before.gone if uid not in back}
    gone |= {one.uid: one.sequence for one in items if one.is_cancelled}
    record = replace(before, issued=standing, gone=tuple(sorted(gone.items())))
    return CalendarUpdate(tuple(items), record)
