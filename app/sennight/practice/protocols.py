"""Protocols on the shelf: templates, with the remedies as they now stand on the shelf."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, datetime
from uuid import uuid4

from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import Line, Phase, Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.opening import DamagedCourseError, OpenPractice
from sennight.store.entries import CourseTitle, ShelfProtocol, ShelfTitle
from sennight.store.unit import UnitOfWork

__all__ = [
    "ProtocolError",
    "ShelfProtocol",
    "add_protocol",
    "change_protocol",
    "given_courses",
    "list_protocol_titles",
    "list_protocols",
    "place_protocol",
    "protocol_history",
    "running_on",
    "shelf_protocol",
]


class ProtocolError(ValueError):
    """A protocol that cannot be kept as it is; the message names the place."""


def list_protocols(practice: OpenPractice) -> tuple[ShelfProtocol, ...]:
    """Every protocol, by name."""
    with practice.file.reading() as unit:
        return unit.protocols.all()


def list_protocol_titles(practice: OpenPractice) -> tuple[ShelfTitle, ...]:
    """The name of every protocol, by name: quick where there are many."""
    with practice.file.reading() as unit:
        return unit.protocols.titles()


def shelf_protocol(practice: OpenPractice, protocol_id: str) -> ShelfProtocol:
    """One protocol; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return unit.protocols.get(protocol_id)


def protocol_history(
    practice: OpenPractice, protocol_id: str
) -> tuple[tuple[datetime, Protocol], ...]:
    """Every version of a protocol and when it was saved, oldest first."""
    with practice.file.reading() as unit:
        unit.protocols.get(protocol_id)
        return unit.protocols.versions(protocol_id)


def given_courses(practice: OpenPractice) -> tuple[CourseTitle, ...]:
    """What is known of every course that was given, struck out ones excepted, by client."""
    with practice.file.reading() as unit:
        titles = unit.courses.titles()
    return tuple(
        sorted(
            (title for title in titles if not title.is_void),
            key=lambda title: title.client_name.casefold(),
        )
    )


def running_on(practice: OpenPractice, name: str, today: date) -> tuple[CourseTitle, ...]:
    """The courses of a protocol's name that have a day from today on, by client.

    Courses that cannot be read are left out.
    """
    return tuple(
        title
        for title in given_courses(practice)
        if title.protocol_name == name and _runs(practice, title.id, today)
    )


def _runs(practice: OpenPractice, course_id: str, today: date) -> bool:
    try:
        with practice.file.reading() as unit:
            layout = lay_out(unit.courses.get(course_id).course)
    except (DamagedCourseError, LayoutError, SameTimeError):
        return False
    return layout.days.last >= today


def add_protocol(
    practice: OpenPractice, protocol: Protocol, *, remedies: Sequence[Remedy], note: str = ""
) -> str:
    """Add a protocol with its remedies; returns the new id.

    A remedy that the shelf does not have is put there. One whose id the shelf has for another
    formula is put there under a new id, and the protocol's lines with it, so that adding a
    protocol from elsewhere never changes what is on the shelf. Raises ProtocolError.
    """
    _check(protocol, remedies)
    now = practice.file.clock()
    with practice.file.writing() as unit:
        return place_protocol(unit, ShelfProtocol("", protocol, tuple(remedies), note), now)


def place_protocol(unit: UnitOfWork, entry: ShelfProtocol, now: datetime) -> str:
    """The same within a transaction, for a protocol that was checked before; returns its id."""
    placed = {remedy.id: _place(unit, remedy, now) for remedy in entry.remedies}
    shelf = ShelfProtocol(
        uuid4().hex,
        _renamed(entry.protocol, {old: remedy.id for old, remedy in placed.items()}),
        tuple(placed.values()),
        entry.note,
    )
    unit.protocols.save(shelf, saved=now)
    return shelf.id


def change_protocol(practice: OpenPractice, shelf: ShelfProtocol) -> None:
    """Save a protocol that is on the shelf; courses keep what they were given.

    Remedies that are new to the shelf are put there; the others stay as they are there, since
    they are changed by `save_remedy` alone. Raises MissingRecordError, ProtocolError.
    """
    _check(shelf.protocol, shelf.remedies)
    now = practice.file.clock()
    with practice.file.writing() as unit:
        unit.protocols.get(shelf.id)
        for remedy in shelf.remedies:
            if unit.remedies.find(remedy.id) is None:
                unit.remedies.save(remedy, note=None, saved=now)
        unit.protocols.save(shelf, saved=now)


def _place(unit: UnitOfWork, remedy: Remedy, now: datetime) -> Remedy:
    """The remedy as it then stands on the shelf."""
    there = unit.remedies.find(remedy.id)
    if there is not None and there.remedy != remedy:
        remedy = replace(remedy, id=uuid4().hex)
    if there is None or there.remedy != remedy:
        unit.remedies.save(remedy, note=None, saved=now)
    return remedy


def _renamed(protocol: Protocol, ids: dict[str, str]) -> Protocol:
    def line(old: Line) -> Line:
        return replace(old, remedy=ids[old.remedy])

    def phase(old: Phase) -> Phase:
        return replace(old, lines=tuple(line(each) for each in old.lines))

    ceilings = tuple(
        replace(old, remedies=tuple(ids[remedy] for remedy in old.remedies))
        for old in protocol.ceilings
    )
    phases = tuple(phase(each) for each in protocol.phases)
    return replace(protocol, phases=phases, ceilings=ceilings)


def _check(protocol: Protocol, remedies: Sequence[Remedy]) -> None:
    """Raise ProtocolError where two things bear one id, or a line's remedy is not given."""
    ids = [remedy.id for remedy in remedies]
    _once(ids, "remedy", f"protocol “{protocol.name}”")
    _once((phase.id for phase in protocol.phases), "phase", f"protocol “{protocol.name}”")
    for ceiling in protocol.ceilings:
        if not set(ceiling.remedies) <= set(ids):
            raise ProtocolError(
                "a ceiling names a remedy that the protocol does not have; expected its remedies"
            )
    for phase in protocol.phases:
        _once((line.remedy for line in phase.lines), "line for remedy", f"phase “{phase.id}”")
        for line in phase.lines:
            if line.remedy not in ids:
                raise ProtocolError(
                    f"phase “{phase.id}” has a line for remedy “{line.remedy}”, which the "
                    f"protocol does not have; expected one of {', '.join(ids) or 'its remedies'}"
                )


def _once(ids: Iterable[str], what: str, where: str) -> None:
    for name, count in Counter(ids).items():
        if count > 1:
            raise ProtocolError(
                f"{where} has {count} times a {what} “{name}”; expected each id once"
            )
