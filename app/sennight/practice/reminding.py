"""The calendar file that brings a client's phone up to date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sennight.domain.courses import Course
from sennight.domain.reminders import reminder_events
from sennight.domain.reminders_events import ReminderChoices
from sennight.domain.reminders_published import Publication, Published
from sennight.domain.reminders_revising import FileKind, client_note, fresh_set, revise
from sennight.domain.stretches import Layout
from sennight.practice.zones import machine_zone
from sennight.publish.calendar_file import issued_bytes


@dataclass(frozen=True, slots=True)
class Reminders:
    """A calendar file, what it is to the phone, and what to tell the client with it.

    `before` is what the phone was given until then.
    """

    data: bytes
    kind: FileKind
    note: str
    publication: Publication
    before: Published

    @property
    def changes(self) -> str:
        """How many events are new, changed, cancelled and as they were, in a sentence."""
        before = {one.uid: one for one in self.before.issued}
        now = self.publication.issued
        gone = sum(1 for one in now if one.is_cancelled)
        new = sum(1 for one in now if one.uid not in before)
        same = sum(1 for one in now if one == before.get(one.uid))
        changed = len(now) - gone - new - same
        return (
            f"since the last publication: {new} reminders new, {changed} changed, "
            f"{gone} cancelled, {same} as they were"
        )


def usual_choices(course: Course) -> ReminderChoices:
    """Reminders in the client's zone, else in this machine's."""
    return ReminderChoices(zone=course.client.zone or machine_zone())


def reminders(
    layout: Layout,
    before: Published,
    *,
    now: datetime,
    today: date,
    choices: ReminderChoices,
    fresh: bool = False,
) -> Reminders:
    """The file for a phone that was given `before`; `fresh` makes it a set of its own.

    `now` is aware, `today` the client's date. Raises CalendarTooLargeError, UnknownZoneError.
    """
    make = fresh_set if fresh else revise
    publication = make(before, reminder_events(layout, choices), today=today, stamp=now)
    kind = FileKind.FRESH if fresh else FileKind.UPDATE
    if before.on is None:
        kind = FileKind.FIRST
    record = publication.published
    data = issued_bytes(publication.issued, name=record.calendar_name)
    return Reminders(data, kind, client_note(kind, record), publication, before)
