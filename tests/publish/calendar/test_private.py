"""What calendar files do not tell of whom they are for, and discreet ones of what it is."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from readers.calendar_exports import STAMP
from readers.calendar_samples import EXPORTS
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode, Stop
from sennight.domain.courses.protocols import AdviceLine, Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.parser import parse_timing
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.reminders.events import EventKind, ReminderChoices
from sennight.domain.reminders.published import Published
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import fresh_set, revise
from sennight.publish.calendar.ics import issued_bytes, phase_files
from support.samples import course, day, line, phase

REMEDIES = (
    Remedy("elder", "Flowering", Form.TEA, (Ingredient("nettle-leaf"),)),
    Remedy("sleepy", "Quietude", Form.TINCTURE, (Ingredient("valerian"),)),
    Remedy("knee", "Suppling", Form.RUB, (Ingredient("comfrey"),)),
    Remedy("bitter", "Gutsy", Form.CAPSULE, (Ingredient("gentian"),)),
)
PHASES = ("settling-womb", "upkeep-womb", "crisis-womb")
SECRET = (
    *("Zaphira", "Quill", "Womb", "hush-purpose", "upkeep", "crisis", "settling"),
    *(word for remedy in REMEDIES for word in (remedy.id, remedy.name)),
    *("nettle", "valerian", "comfrey", "gentian", "brandy"),
)
"""The client, the protocol, phases and purposes, remedies by id and name, herbs and advice."""


def telling() -> Course:
    """A course whose every name tells something."""
    plan = course(
        replace(
            phase(
                PHASES[0],
                "14 w",
                line("elder", "1 cup tds 3 w on 1 w off"),
                line("sleepy", "2 mL nocte"),
                line("knee", "1 application bd"),
            ),
            purpose="hush-purpose",
            advice=(
                AdviceLine("leave out brandy", remind=True),
                AdviceLine("brandy-free walk", parse_timing("bd"), remind=True),
            ),
        ),
        phase(PHASES[1], "8 w", line("bitter", "1 capsule od"), line("sleepy", "2 mL nocte")),
        replace(phase(PHASES[2], "1 w", line("sleepy", "2 mL tds")), purpose="rescue"),
        client=Client("Zaphira Quill"),
        revisions=(
            Flare(on=day(60), first=day(60), rescue=PHASES[2]),
            Pause(on=day(80), first=day(80), last=day(90), mode=PauseMode.FREEZE),
        ),
    )
    return replace(plan, remedies=REMEDIES, protocol=Protocol("Womb rest", plan.protocol.phases))


def files(choices: ReminderChoices) -> list[bytes]:
    """A first calendar, an update of it with something cancelled, a fresh set, and by phase."""
    plan = telling()
    reorders = ((day(40), "Flowering: 250 g of nettle-leaf"),)
    events = reminder_events(lay_out(plan), replace(choices, reorders=reorders))
    assert {event.kind for event in events} == set(EventKind) - {EventKind.STOP}
    first = revise(Published(plan.id), events, today=day(1), stamp=STAMP)
    stops = [Stop(on=day(95), remedy=remedy, first=day(95)) for remedy in ("sleepy", "bitter")]
    less = reminder_events(lay_out(replace(plan, revisions=(*plan.revisions, *stops))), choices)
    stamp = STAMP + timedelta(days=95)
    again = revise(first.published, less, today=day(95), stamp=stamp)
    assert any(entry.is_cancelled for entry in again.issued)
    assert any(entry.event.kind is EventKind.STOP for entry in again.issued)
    fresh = fresh_set(first.published, less, today=day(95), stamp=stamp)
    issues = (first, again, fresh)
    return [
        *(issued_bytes(found.issued, name=found.published.calendar_name) for found in issues),
        *(
            data
            for files_of_phase in phase_files(first.issued, PHASES, name="My plan 100").values()
            for data in files_of_phase
        ),
    ]


def told(choices: ReminderChoices) -> set[str]:
    text = b"".join(files(choices)).decode().replace("\r\n ", "").lower()
    return {word for word in SECRET if word.lower() in text}


@pytest.mark.parametrize("by_phase", [False, True])
def test_discreet_files_tell_nothing_at_all(by_phase: bool) -> None:
    assert told(ReminderChoices(discreet=True, by_phase=by_phase)) == set()


def test_open_files_tell_remedies_but_not_whom_they_are_for() -> None:
    """So it is seen that the words above are looked for. (A reorder names its herb.)"""
    found = told(ReminderChoices(by_phase=True))
    assert found == {*(remedy.name for remedy in REMEDIES), "nettle", "brandy"}


@pytest.mark.parametrize("export", EXPORTS)
def test_nothing_tells_who_the_client_is(export: str) -> None:
    assert b"Una" not in EXPORTS[export]
    assert b"Example" not in EXPORTS[export]


def test_discreet_files_name_no_remedy() -> None:
    assert b"Remedy" not in EXPORTS["silent and discreet"]
    assert b"VALARM" not in EXPORTS["silent and discreet"]
