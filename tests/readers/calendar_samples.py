"""Calendar files of one course, exported in several ways."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from readers.calendar_exports import STAMP, exported
from sennight.domain.courses.courses import Course, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import revise
from sennight.publish.calendar.ics import issued_bytes
from support.samples import course, line, phase

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
    return issued_bytes(found.issued, name=found.published.calendar_name)


EXPORTS = {
    "in a zone": exported(PLAN, ReminderChoices(zone="Europe/London", alarm=15)),
    "floating": exported(PLAN, ReminderChoices()),
    "silent and discreet": exported(PLAN, ReminderChoices(discreet=True, alarm=None)),
    "long names": exported(renamed(PLAN), ReminderChoices(zone="America/Sao_Paulo")),
    "an update": updated(),
}
