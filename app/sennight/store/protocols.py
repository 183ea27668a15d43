"""Protocols on the shelf: rows and values, and the repository."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from typing import Any

from sqlalchemy import Select, and_, select
from sqlalchemy.orm import Session

from sennight.domain.courses.protocols import (
    AdviceLine,
    Ceiling,
    CountFrom,
    Gate,
    Line,
    Phase,
    Protocol,
    Step,
    Threshold,
)
from sennight.store.decoding import decoding
from sennight.store.entries import ShelfProtocol, ShelfTitle
from sennight.store.errors import MissingRecordError
from sennight.store.remedies import RemedyRepository
from sennight.store.tables.protocols import (
    ProtocolAdvice,
    ProtocolAim,
    ProtocolCeiling,
    ProtocolCeilingRemedy,
    ProtocolHead,
    ProtocolLine,
    ProtocolPhase,
    ProtocolRemedy,
    ProtocolStep,
    ProtocolVersion,
)


def protocol_to_row(shelf: ShelfProtocol, *, version: int, saved: datetime) -> ProtocolVersion:
    """A new version of a protocol."""
    return ProtocolVersion(
        protocol_id=shelf.id,
        version=version,
        saved=saved,
        name=shelf.protocol.name,
        note=shelf.note,
        aims=[ProtocolAim(place=n, aim=aim) for n, aim in enumerate(shelf.protocol.aims)],
        remedies=[
            ProtocolRemedy(place=n, remedy_id=remedy.id) for n, remedy in enumerate(shelf.remedies)
        ],
        phases=[_phase_row(n, phase) for n, phase in enumerate(shelf.protocol.phases)],
        ceilings=[_ceiling_row(n, bound) for n, bound in enumerate(shelf.protocol.ceilings)],
    )


def _ceiling_row(place: int, ceiling: Ceiling) -> ProtocolCeiling:
    remedies = [
        ProtocolCeilingRemedy(place=n, remedy_id=remedy)
        for n, remedy in enumerate(ceiling.remedies)
    ]
    return ProtocolCeiling(place=place, most=ceiling.most, remedies=remedies)


def _phase_row(place: int, phase: Phase) -> ProtocolPhase:
    return ProtocolPhase(
        place=place,
        phase=phase.id,
        purpose=phase.purpose,
        length=phase.length,
        **_gate_columns(phase.gate),
        stand_in=phase.stand_in,
        at_least_weeks=phase.at_least_weeks,
        begin_when=phase.trigger or None,
        lines=[_line_row(n, line) for n, line in enumerate(phase.lines)],
        advice=[_advice_row(n, advice) for n, advice in enumerate(phase.advice)],
    )


def _gate_columns(gate: Gate | None) -> dict[str, Any]:
    if gate is None:
        return {}
    columns = {"gate_measure": gate.measure, "gate_by_weeks": gate.by_weeks}
    if gate.wants is Threshold.FALL_PERCENT:
        return columns | {"gate_fall_percent": int(gate.amount)}
    return columns | {"gate_wants": str(gate.wants), "gate_amount": Fraction(gate.amount)}


def _advice_row(place: int, advice: AdviceLine) -> ProtocolAdvice:
    return ProtocolAdvice(
        place=place,
        text=advice.text,
        take=advice.timing,
        remind=advice.remind,
        diary=advice.diary,
    )


def _line_row(place: int, line: Line) -> ProtocolLine:
    return ProtocolLine(
        place=place,
        remedy_id=line.remedy,
        take=line.directions,
        count_from=str(line.count_from) if line.count_from is CountFrom.COURSE else None,
        site=line.site or None,
        note=line.note or None,
        steps=[_step_row(n, step) for n, step in enumerate(line.steps)],
    )


def _step_row(place: int, step: Step) -> ProtocolStep:
    weeks, days = divmod(step.after_days, 7)
    return ProtocolStep(
        place=place, after_weeks=weeks, more_days=days or None, take=step.directions
    )


def protocol_from_row(row: ProtocolVersion) -> Protocol:
    """The protocol that a version holds."""
    with decoding("a protocol"):
        return _protocol(row)


def _protocol(row: ProtocolVersion) -> Protocol:
    return Protocol(
        row.name,
        tuple(_phase(phase) for phase in row.phases),
        tuple(aim.aim for aim in row.aims),
        tuple(
            Ceiling(tuple(named.remedy_id for named in ceiling.remedies), ceiling.most)
            for ceiling in row.ceilings
        ),
    )


def _gate(row: ProtocolPhase) -> Gate | None:
    if row.gate_measure is None:
        return None
    if row.gate_wants is not None and row.gate_amount is not None:
        wants = Threshold(row.gate_wants)
        amount = int(row.gate_amount) if wants.is_percent else row.gate_amount
        return Gate(row.gate_measure, amount, wants, row.gate_by_weeks)
    if row.gate_fall_percent is None:
        return None
    return Gate(row.gate_measure, row.gate_fall_percent, by_weeks=row.gate_by_weeks)


def _phase(row: ProtocolPhase) -> Phase:
    return Phase(
        row.phase,
        row.purpose,
        row.length,
        tuple(_line(line) for line in row.lines),
        _gate(row),
        row.stand_in,
        tuple(AdviceLine(told.text, told.take, told.remind, told.diary) for told in row.advice),
        row.at_least_weeks,
        row.begin_when or "",
    )


def _line(row: ProtocolLine) -> Line:
    return Line(
        row.remedy_id,
        row.take,
        tuple(Step(7 * s.after_weeks + (s.more_days or 0), s.take) for s in row.steps),
        CountFrom(row.count_from or CountFrom.ANCHOR),
        row.site or "",
        row.note or "",
    )


def _current() -> Select[ProtocolVersion]:
    return select(ProtocolVersion).join(
        ProtocolHead,
        and_(
            ProtocolHead.id == ProtocolVersion.protocol_id,
            ProtocolHead.version == ProtocolVersion.version,
        ),
    )


class ProtocolRepository:
    """The shelf's protocols in one transaction."""

    def __init__(self, session: Session, remedies: RemedyRepository) -> None:
        self._session, self._remedies = session, remedies

    def get(self, protocol_id: str) -> ShelfProtocol:
        """One protocol's current version; raises MissingRecordError."""
        row = self._session.scalars(_current().where(ProtocolHead.id == protocol_id)).one_or_none()
        if row is None:
            raise MissingRecordError("protocol", protocol_id)
        return self._shelf(row)

    def all(self) -> tuple[ShelfProtocol, ...]:
        """The current version of every protocol, by name."""
        protocols = [self._shelf(row) for row in self._session.scalars(_current())]
        return tuple(sorted(protocols, key=lambda s: (s.protocol.name.casefold(), s.id)))

    def titles(self) -> tuple[ShelfTitle, ...]:
        """The names of the protocols, in the order of `all`, without their phases."""
        query = _current().with_only_columns(ProtocolVersion.protocol_id, ProtocolVersion.name)
        titles = (ShelfTitle(*row) for row in self._session.execute(query))
        return tuple(sorted(titles, key=lambda title: (title.name.casefold(), title.id)))

    def versions(self, protocol_id: str) -> tuple[tuple[datetime, Protocol], ...]:
        """Every version of a protocol and when it was saved, oldest first."""
        query = (
            select(ProtocolVersion)
            .where(ProtocolVersion.protocol_id == protocol_id)
            .order_by(ProtocolVersion.version)
        )
        return tuple((row.saved, protocol_from_row(row)) for row in self._session.scalars(query))

    def save(self, shelf: ShelfProtocol, *, saved: datetime) -> None:
        """Keep a protocol as a new version; one that says nothing new adds none.

        Its remedies must be on the shelf already; which versions they are is the shelf's say.
        """
        head = self._session.get(ProtocolHead, shelf.id)
        if head is None:
            head = ProtocolHead(id=shelf.id, version=0)
            self._session.add(head)
        elif _same(self.get(shelf.id), shelf):
            return
        head.version += 1
        self._session.flush()
        self._session.add(protocol_to_row(shelf, version=head.version, saved=saved))
        self._session.flush()

    def _shelf(self, row: ProtocolVersion) -> ShelfProtocol:
        remedies = tuple(self._remedies.get(entry.remedy_id).remedy for entry in row.remedies)
        return ShelfProtocol(row.protocol_id, protocol_from_row(row), remedies, row.note)


def _same(saved: ShelfProtocol, other: ShelfProtocol) -> bool:
    return (saved.protocol, saved.note) == (other.protocol, other.note) and [
        remedy.id for remedy in saved.remedies
    ] == [remedy.id for remedy in other.remedies]
