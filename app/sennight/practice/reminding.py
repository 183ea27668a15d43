"""The calendar files that bring a client's phone up to date."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.domain.reminders.events import DEFAULT_CHOICES, ReminderChoices
from sennight.domain.reminders.published import CalendarUpdate, Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import (
    FileKind,
    client_note,
    fresh_set,
    remove_all,
    revise,
)
from sennight.practice.zones import machine_zone, zone_data_notice

WHOLE = "reminders.ics"
"""What the calendar file is called, where there is one for the whole course."""
BY_PHASE = "reminders-phase-{}.ics"
"""What the file of a phase is called, by its place in the protocol: names may be private."""
PART = "-part-{}.ics"
"""How a file's name ends where it had to be split, since calendars refuse large ones."""


@dataclass(frozen=True, slots=True)
class Reminders:
    """Calendar files by name, what they are to the phone, and what to tell the client.

    `before` is what the phone was given until then; `notices` are for the practitioner alone.
    """

    files: Mapping[str, bytes]
    kind: FileKind
    note: str
    publication: CalendarUpdate
    before: Published
    notices: tuple[str, ...] = ()

    @property
    def changes(self) -> str:
        """How many events are new, changed, cancelled and as they were, in a sentence."""
        if self.kind is FileKind.REMOVAL:
            return "the course is over: all its reminders are removed"
        if self.kind is not FileKind.UPDATE:
            return f"{counted(len(self.publication.issued), 'reminder')}, all new to the phone"
        before = {entry.uid: entry for entry in (*self.before.issued, *self.before.cancelled)}
        entries = self.publication.issued
        standing = [entry for entry in entries if not entry.is_cancelled]
        same = sum(1 for entry in standing if entry == before.get(entry.uid))
        new = sum(1 for entry in standing if entry.uid not in before)
        changed = len(standing) - new - same
        gone = sum(1 for entry in entries if entry.is_cancelled and entry != before[entry.uid])
        return (
            f"since the last set: {new} reminders new, {changed} changed, "
            f"{gone} cancelled, {same} as they were"
        )


def usual_choices(course: Course) -> ReminderChoices:
    """Reminders in the client's zone, else in this machine's."""
    return replace(DEFAULT_CHOICES, zone=course.client.zone or machine_zone())


def reminders(
    layout: Layout,
    before: Published,
    *,
    now: datetime,
    today: date,
    choices: ReminderChoices,
    fresh: bool = False,
) -> Reminders:
    """The files for a phone that was given `before`; `fresh` makes them a set of its own.

    `now` is aware, `today` the client's date. Raises CalendarTooLargeError, UnknownZoneError.
    """
    kind = _kind(layout, before, today, fresh=fresh)
    if kind is FileKind.REMOVAL:
        publication = remove_all(before, today=today, stamp=now)
    else:
        make = fresh_set if fresh else revise
        events = reminder_events(layout, choices, given=before.given or today)
        publication = make(before, events, today=today, stamp=now, discreet=choices.discreet)
    record = publication.published
    files = _files(layout.course, publication, choices)
    note = client_note(kind, record, files=len(files))
    notices = tuple(_notices(layout, choices, today))
    return Reminders(files, kind, note, publication, before, notices)


def _kind(layout: Layout, before: Published, today: date, *, fresh: bool) -> FileKind:
    """What the next file is to the phone; at the end of a course it takes all away."""
    if before.on is None:
        return FileKind.FIRST
    if layout.days.end <= today:
        return FileKind.REMOVAL
    return FileKind.FRESH if fresh else FileKind.UPDATE


def _notices(layout: Layout, choices: ReminderChoices, today: date) -> Iterator[str]:
    """What is odd about giving these reminders on this day."""
    if layout.days.end <= today:
        last = plain_date(layout.days.last)
        yield f"the course ended on {last}: its reminders are all in the past"
    if choices.zone and (notice := zone_data_notice(today)):
        yield notice


def _files(
    course: Course, publication: CalendarUpdate, choices: ReminderChoices
) -> Mapping[str, bytes]:
    """One file, or one for each phase.

    With these there is none of the whole course: given both, many phones would remind twice.
    """
    from sennight.publish.calendar.ics import phase_files, split_bytes

    name = publication.published.calendar_name
    phases = [phase.id for phase in course.protocol.sequence]
    if not (choices.by_phase and phases):
        return _named(WHOLE, split_bytes(publication.issued, name=name))
    by_phase = phase_files(publication.issued, phases, name=name)
    files: dict[str, bytes] = {}
    for number, phase in enumerate(phases, 1):
        files |= _named(BY_PHASE.format(number), by_phase.get(phase, ()))
    return files


def _named(name: str, parts: tuple[bytes, ...]) -> dict[str, bytes]:
    if len(parts) == 1:
        return {name: parts[0]}
    stem = name.removesuffix(".ics")
    return {f"{stem}{PART.format(number)}": part for number, part in enumerate(parts, 1)}
