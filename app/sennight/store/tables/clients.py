"""Clients: a head, its versions, and the dated facts of each version."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.store.tables.base import Base, Placed, Version


class ClientHead(Base):
    """A client, and which version of the record is the current one."""

    __tablename__ = "client"

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class ClientVersion(Version, Base):
    """A client's record as saved at one time; the seven moments in minutes after midnight."""

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
    facts: Mapped[list[ClientFact]] = relationship(lazy="raise")


class ClientFact(Placed, Base):
    """A condition, medicine or allergy, with the first and last day on which it holds."""

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
