"""Reminders over time: what a phone must be told when a course is published again.

What was given out for days before today stays as it was, since it is what the client was
reminded of. From today on, the phone ends up with the events of the course as it now is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from enum import StrEnum
from typing import assert_never

from sennight.domain.dates import Span
from sennight.domain.reminders.events import Event
from sennight.domain.reminders.published import CalendarUpdate, Issued, Published, event_uid


class FileKind(StrEnum):
    """What a calendar file is to the phone that reads it."""

    FIRST = "first"
    UPDATE = "update"
    FRESH = "fresh set"
    REMOVAL = "removal"


def revise(
    published: Published,
    events: Iterable[Event],
    *,
    today: date,
    stamp: datetime,
    discreet: bool = False,
) -> CalendarUpdate:
    """The events to write, and the new record.

    An untouched event is written as it was. One that changed keeps its UID with its sequence
    raised, one that vanished is written as cancelled, now and in every later file until the
    last day that any file gave it is past. So it does not matter which of the files before a
    phone has read. One that has begun is never rewritten: it goes on, longer or shorter, where
    the course still says the same, and else ends before today, with a new event in its place.
    Where nothing was published yet, all events are new, those of past days too. `stamp` is the
    moment of this publication (UTC). Where the events are `discreet` and those before were not,
    what has begun or was cancelled loses its names too.
    """
    if published.on is None:
        new = [Issued.new(_uid(published, event), event, stamp) for event in events]
        return _publication(replace(published, is_discreet=discreet), new, (), today)
    stamp = published.next_stamp(stamp)
    coming = _from(events, today)
    begun = [entry for entry in published.issued if entry.event.run.first < today]
    ahead = [entry for entry in published.issued if entry.event.run.first >= today]
    standing = list(_gone_on(begun, coming, today, stamp))
    wanted = {_uid(published, event): event for event in coming}
    vanished = []
    for entry in ahead:
        event = wanted.pop(entry.uid, None)
        if event:
            standing.append(_restated(entry, event, stamp))
        else:
            vanished.append(entry.cancelled(today, stamp))
    standing.extend(_new_or_back(published, wanted, stamp))
    if discreet and not published.is_discreet:
        published, standing, vanished = _hidden(published, standing, vanished, today, stamp)
    return _publication(replace(published, is_discreet=discreet), standing, vanished, today)


def _hidden(
    published: Published,
    standing: list[Issued],
    vanished: list[Issued],
    today: date,
    stamp: datetime,
) -> tuple[Published, list[Issued], list[Issued]]:
    """All three with the names taken out of what has begun and of what was cancelled."""
    cancelled = tuple(entry.hidden(stamp) for entry in published.cancelled)
    return (
        replace(published, cancelled=cancelled),
        [entry.hidden(stamp) if entry.event.run.first < today else entry for entry in standing],
        [entry.hidden(stamp) for entry in vanished],
    )


def remove_all(published: Published, *, today: date, stamp: datetime) -> CalendarUpdate:
    """All that was ever given, cancelled: for the end of a course."""
    stamp = published.next_stamp(stamp)
    gone = [entry.cancelled(today, stamp) for entry in published.issued]
    cancelled = _in_order((*published.cancelled, *gone))
    record = replace(published, on=today, issued=(), cancelled=cancelled)
    return CalendarUpdate(cancelled, record)


def fresh_set(
    published: Published,
    events: Iterable[Event],
    *,
    today: date,
    stamp: datetime,
    discreet: bool = False,
) -> CalendarUpdate:
    """New events under new UIDs, from today on, for a calendar of its own.

    For phones that make second copies of events they know; the old calendar must go first.
    """
    empty = replace(
        published,
        generation=published.generation + 1,
        issued=(),
        cancelled=(),
        is_discreet=discreet,
    )
    new = [Issued.new(_uid(empty, event), event, stamp) for event in _from(events, today)]
    return _publication(empty, new, (), today)


def client_note(kind: FileKind, published: Published, *, files: int = 1) -> str:
    """What to tell the client with so many files; `published` is the record after them."""
    name = published.calendar_name
    this = "this file" if files == 1 else f"each of these {files} files"
    match kind:
        case FileKind.FIRST:
            return (
                f"Open {this} on your phone and add all its events to a new calendar named "
                f"“{name}”. Then check that the first reminder comes up: some calendars leave "
                "the alarm out, and you may have to switch it on. If you see one entry and no "
                "more, your calendar app takes only the first of a file: ask for another way."
            )
        case FileKind.UPDATE:
            return (
                f"Open {this} as you opened the one before: it corrects the calendar “{name}”. "
                "If you then see a reminder twice or one that no longer holds, ask for a fresh "
                "set."
            )
        case FileKind.FRESH:
            old = replace(published, generation=published.generation - 1).calendar_name
            return (
                f"Remove the old calendar “{old}” from your phone first, with all its events. "
                f"Then open {this} and add its events to a new calendar named “{name}”. If you "
                "keep the old one, you will be reminded twice."
            )
        case FileKind.REMOVAL:
            return (
                f"Your course is over. Open {this} as you opened the ones before: it removes "
                f"all reminders from the calendar “{name}”. You can remove that calendar instead."
            )
        case _:
            assert_never(kind)


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


def _new_or_back(
    published: Published, wanted: dict[str, Event], stamp: datetime
) -> Iterator[Issued]:
    """Events by UID for the first time, or again after they were cancelled."""
    cancelled = {entry.uid: entry for entry in published.cancelled}
    for uid, event in wanted.items():
        before = cancelled.get(uid)
        yield before.revised(event, stamp) if before else Issued.new(uid, event, stamp)


def _uid(published: Published, event: Event) -> str:
    return event_uid(published.course, published.generation, event)


def _restated(entry: Issued, event: Event, stamp: datetime) -> Issued:
    if entry.event.says_the_same(event) and entry.event.run == event.run:
        return replace(entry, event=event)
    return entry.revised(event, stamp)


def _publication(
    before: Published, standing: Iterable[Issued], vanished: Iterable[Issued], today: date
) -> CalendarUpdate:
    """The publication in order of the events' first days, and its record."""
    issued = _in_order(standing)
    back = {entry.uid for entry in issued}
    earlier = (entry for entry in before.cancelled if entry.uid not in back)
    cancelled = _in_order((*earlier, *vanished))
    still_told = (entry for entry in cancelled if entry.latest >= today)
    given = before.given or before.on or today
    record = replace(before, on=today, issued=issued, cancelled=cancelled, given=given)
    return CalendarUpdate(_in_order((*issued, *still_told)), record)


def _in_order(entries: Iterable[Issued]) -> tuple[Issued, ...]:
    return tuple(sorted(entries, key=lambda entry: (entry.event.place, entry.uid)))
