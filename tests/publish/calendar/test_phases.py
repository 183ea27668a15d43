"""One calendar file for each phase."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from readers.calendar_exports import STAMP
from readers.calendar_lines import components, unfolded, values
from readers.calendar_samples import PLAN
from sennight.domain.courses.courses import Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.published import CalendarUpdate, Issued, Published, first_issue
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import revise
from sennight.publish.calendar.ics import phase_files
from support.samples import day

BY_PHASE = ReminderChoices(by_phase=True)
PHASES = ("loading", "maintenance")


def uids(data: bytes) -> list[str]:
    return [values(event, "UID")[0] for event in components(unfolded(data), "VEVENT")]


def split(issued: Iterable[Issued]) -> dict[str, bytes]:
    """Each phase's file; none of them has to be split."""
    files = phase_files(issued, PHASES, name="My plan 100")
    assert all(len(parts) == 1 for parts in files.values())
    return {phase: parts[0] for phase, parts in files.items()}


def test_each_phase_has_its_own_events_and_no_others() -> None:
    issued = first_issue(PLAN.id, reminder_events(lay_out(PLAN), BY_PHASE), STAMP)
    files = split(issued)
    assert list(files) == list(PHASES)
    assert sorted(uid for data in files.values() for uid in uids(data)) == sorted(
        entry.uid for entry in issued
    )
    (after,) = {
        values(event, "DTSTART")[0][:8]
        for event in components(unfolded(files["maintenance"]), "VEVENT")
    }
    assert after == "20270215"


def test_a_phase_without_events_has_no_file() -> None:
    issued = first_issue(PLAN.id, reminder_events(lay_out(PLAN), BY_PHASE), STAMP)
    later = [entry for entry in issued if entry.event.part == "maintenance"]
    assert list(split(later)) == ["maintenance"]
    assert split(()) == {}


def test_what_corrects_one_whole_file_goes_into_the_first() -> None:
    """A remedy is stopped, and the calendar that was one file is split."""
    whole = reminder_events(lay_out(PLAN), ReminderChoices())
    first = revise(Published(PLAN.id), whole, today=day(1), stamp=STAMP).published
    stopped = replace(PLAN, revisions=(Stop(on=day(3), remedy="t3", first=day(3)),))
    found: CalendarUpdate = revise(
        first, reminder_events(lay_out(stopped), BY_PHASE), today=day(3), stamp=STAMP
    )
    lost = {entry.uid for entry in found.issued if not entry.event.part}
    assert {entry.is_cancelled for entry in found.issued if entry.uid in lost} == {True, False}
    files = split(found.issued)
    assert lost <= set(uids(files["loading"]))
    assert not lost & set(uids(files["maintenance"]))
