"""Clients: a head, its versions, and the dated facts of each version."""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.store.tables.base import Base, KeyedRow, ListRow, Version


class ClientHead(Base):
    """A client, and which version of the record is the current one."""

    __tablename__ = "client"

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class ClientVersion(Version, Base):
    """A client's record as saved at one time; the seven moments in minutes after midnight.

    `asked` are the topics that the client was asked about, with spaces between.
    """

    __tablename__ = "client_version"
    __table_args__ = (UniqueConstraint("client_id", "version"),)

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"))
    name: Mapped[str]
    born: Mapped[date | None]
    zone: Mapped[str | None]
    weight_kg: Mapped[Fraction | None]
    contact: Mapped[str]
    note: Mapped[str]
    archived: Mapped[bool]
    rising: Mapped[int]
    breakfast: Mapped[int]
    mid_morning: Mapped[int]
    lunch: Mapped[int]
    mid_afternoon: Mapped[int]
    supper: Mapped[int]
    bedtime: Mapped[int]
    asked: Mapped[str | None]
    sex: Mapped[str | None]
    facts: Mapped[list[ClientFact]] = relationship(lazy="raise")


class ClientFact(ListRow, Base):
    """A condition, medicine or allergy, with the first and last day on which it holds.

    `at` is when a medicine is taken, as moments and clock times with spaces between; `classes`
    and `not_for` are tags with spaces between, `classes` null where the record's own hold.
    """

    __tablename__ = "client_fact"
    __table_args__ = (
        UniqueConstraint("client_version_id", "kind", "place"),
        CheckConstraint("kind IN ('condition', 'medicine', 'allergy')", name="kind"),
    )

    client_version_id: Mapped[int] = mapped_column(ForeignKey("client_version.id"))
    kind: Mapped[str]
    tag: Mapped[str]
    since: Mapped[date | None]
    until: Mapped[date | None]
    at: Mapped[str | None]
    name: Mapped[str | None]
    dose: Mapped[str | None]
    classes: Mapped[str | None]
    not_for: Mapped[str | None]


class ReactionRow(KeyedRow, Base):
    """What happened to a client after a remedy; `course_id` is the course that held it."""

    __tablename__ = "reaction"

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)
    course_id: Mapped[str | None] = mapped_column(ForeignKey("course.id"))
    day: Mapped[date]
    remedy: Mapped[str]
    what: Mapped[str]
    recorded: Mapped[datetime]
    harm: Mapped[str | None]
    outcome: Mapped[str | None]


class ReactionHerb(ListRow, Base):
    """A herb that is suspected of a reaction."""

    __tablename__ = "reaction_herb"
    __table_args__ = (UniqueConstraint("reaction_id", "place"),)

    reaction_id: Mapped[int] = mapped_column(ForeignKey("reaction.id"))
    herb: Mapped[str]


class ReactionVoid(KeyedRow, Base):
    """A reaction that was written down in error: why, and since when."""

    __tablename__ = "reaction_void"

    reaction_id: Mapped[int] = mapped_column(ForeignKey("reaction.id"), unique=True)
    reason: Mapped[str]
    struck: Mapped[date | None]
    recorded: Mapped[datetime]


class RedFlagCheckRow(KeyedRow, Base):
    """A day on which a client was asked for red flags; why those of before are gone."""

    __tablename__ = "red_flag_check"

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)
    day: Mapped[date]
    recorded: Mapped[datetime]
    cleared: Mapped[str | None]


class RedFlagTick(ListRow, Base):
    """A red flag that was there."""

    __tablename__ = "red_flag_tick"
    __table_args__ = (UniqueConstraint("red_flag_check_id", "place"),)

    red_flag_check_id: Mapped[int] = mapped_column(ForeignKey("red_flag_check.id"))
    flag: Mapped[str]
