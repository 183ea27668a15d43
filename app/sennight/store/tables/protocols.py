"""Protocols on the shelf: a head, its versions, and phases, lines and steps of each version."""

from __future__ import annotations

from fractions import Fraction

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.domain.dates import Length
from sennight.domain.directions.directions import Directions, Timing
from sennight.store.tables import remedies  # noqa: F401 - protocols refer to remedies
from sennight.store.tables.base import Base, ListRow, Version


class ProtocolHead(Base):
    """A protocol, and which version of it is the current one."""

    __tablename__ = "protocol"

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class ProtocolVersion(Version, Base):
    """A protocol as saved at one time."""

    __tablename__ = "protocol_version"
    __table_args__ = (UniqueConstraint("protocol_id", "version"),)

    protocol_id: Mapped[str] = mapped_column(ForeignKey("protocol.id"))
    name: Mapped[str]
    note: Mapped[str]
    aims: Mapped[list[ProtocolAim]] = relationship(lazy="selectin", order_by="ProtocolAim.place")
    remedies: Mapped[list[ProtocolRemedy]] = relationship(
        lazy="selectin", order_by="ProtocolRemedy.place"
    )
    phases: Mapped[list[ProtocolPhase]] = relationship(
        lazy="selectin", order_by="ProtocolPhase.place"
    )
    ceilings: Mapped[list[ProtocolCeiling]] = relationship(
        lazy="selectin", order_by="ProtocolCeiling.place"
    )


class ProtocolAim(ListRow, Base):
    """An action that is wanted of the protocol."""

    __tablename__ = "protocol_aim"
    __table_args__ = (UniqueConstraint("protocol_version_id", "place"),)

    protocol_version_id: Mapped[int] = mapped_column(ForeignKey("protocol_version.id"))
    aim: Mapped[str]


class ProtocolRemedy(ListRow, Base):
    """A remedy of the protocol; their order gives each its dye."""

    __tablename__ = "protocol_remedy"
    __table_args__ = (
        UniqueConstraint("protocol_version_id", "place"),
        UniqueConstraint("protocol_version_id", "remedy_id"),
    )

    protocol_version_id: Mapped[int] = mapped_column(ForeignKey("protocol_version.id"))
    remedy_id: Mapped[str] = mapped_column(ForeignKey("remedy.id"))


class ProtocolPhase(ListRow, Base):
    """A phase; `phase` is its id within the protocol, no length is an open phase.

    A gate that waits for a fall by so many percent has that in `gate_fall_percent`, as ever; any
    other says in `gate_wants` what its `gate_amount` is.
    """

    __tablename__ = "protocol_phase"
    __table_args__ = (
        UniqueConstraint("protocol_version_id", "place"),
        UniqueConstraint("protocol_version_id", "phase"),
    )

    protocol_version_id: Mapped[int] = mapped_column(ForeignKey("protocol_version.id"))
    phase: Mapped[str]
    purpose: Mapped[str]
    length: Mapped[Length | None]
    gate_measure: Mapped[str | None]
    gate_fall_percent: Mapped[int | None]
    gate_wants: Mapped[str | None]
    gate_amount: Mapped[Fraction | None]
    gate_by_weeks: Mapped[int | None]
    stand_in: Mapped[bool]
    at_least_weeks: Mapped[int | None]
    begin_when: Mapped[str | None]
    lines: Mapped[list[ProtocolLine]] = relationship(
        lazy="selectin", order_by="ProtocolLine.place"
    )
    advice: Mapped[list[ProtocolAdvice]] = relationship(
        lazy="selectin", order_by="ProtocolAdvice.place"
    )


class ProtocolLine(ListRow, Base):
    """One remedy within a phase, and how it is taken."""

    __tablename__ = "protocol_line"
    __table_args__ = (
        UniqueConstraint("protocol_phase_id", "place"),
        UniqueConstraint("protocol_phase_id", "remedy_id"),
    )

    protocol_phase_id: Mapped[int] = mapped_column(ForeignKey("protocol_phase.id"))
    remedy_id: Mapped[str] = mapped_column(ForeignKey("remedy.id"))
    take: Mapped[Directions]
    count_from: Mapped[str | None]
    site: Mapped[str | None]
    note: Mapped[str | None]
    steps: Mapped[list[ProtocolStep]] = relationship(
        lazy="selectin", order_by="ProtocolStep.place"
    )


class ProtocolStep(ListRow, Base):
    """A planned change of directions within a line; `more_days` are those over whole weeks."""

    __tablename__ = "protocol_step"
    __table_args__ = (UniqueConstraint("protocol_line_id", "place"),)

    protocol_line_id: Mapped[int] = mapped_column(ForeignKey("protocol_line.id"))
    after_weeks: Mapped[int]
    more_days: Mapped[int | None]
    take: Mapped[Directions]


class ProtocolAdvice(ListRow, Base):
    """What a phase holds that is no remedy; `take` is its rhythm."""

    __tablename__ = "protocol_advice"
    __table_args__ = (UniqueConstraint("protocol_phase_id", "place"),)

    protocol_phase_id: Mapped[int] = mapped_column(ForeignKey("protocol_phase.id"))
    text: Mapped[str]
    take: Mapped[Timing | None]
    remind: Mapped[bool]
    diary: Mapped[bool]


class ProtocolCeiling(ListRow, Base):
    """The most doses a day of several remedies together."""

    __tablename__ = "protocol_ceiling"
    __table_args__ = (UniqueConstraint("protocol_version_id", "place"),)

    protocol_version_id: Mapped[int] = mapped_column(ForeignKey("protocol_version.id"))
    most: Mapped[int]
    remedies: Mapped[list[ProtocolCeilingRemedy]] = relationship(
        lazy="selectin", order_by="ProtocolCeilingRemedy.place"
    )


class ProtocolCeilingRemedy(ListRow, Base):
    """A remedy that a ceiling holds for."""

    __tablename__ = "protocol_ceiling_remedy"
    __table_args__ = (UniqueConstraint("protocol_ceiling_id", "place"),)

    protocol_ceiling_id: Mapped[int] = mapped_column(ForeignKey("protocol_ceiling.id"))
    remedy_id: Mapped[str] = mapped_column(ForeignKey("remedy.id"))
