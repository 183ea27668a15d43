"""The practice's own herbs, ranges and notes, beside what is supplied.

Ranges and notes belong to a herb by its id alone, so that they outlast any change of what is
supplied. A range without ends was taken back.
"""

from __future__ import annotations

from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.store.tables.base import Base, ListRow, Version


class OwnHerbHead(Base):
    """An own herb, and which version of it is the current one."""

    __tablename__ = "own_herb"

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class OwnHerbVersion(Version, Base):
    """An own herb as saved at one time."""

    __tablename__ = "own_herb_version"
    __table_args__ = (UniqueConstraint("own_herb_id", "version"),)

    own_herb_id: Mapped[str] = mapped_column(ForeignKey("own_herb.id"))
    name: Mapped[str]
    latin: Mapped[str]
    family: Mapped[str]
    part: Mapped[str]
    pregnancy: Mapped[str]
    lactation: Mapped[str]
    min_age: Mapped[Fraction | None]
    min_ethanol: Mapped[Fraction | None]
    remark: Mapped[str]
    reference: Mapped[str]
    retired: Mapped[bool]
    facts: Mapped[list[OwnHerbFact]] = relationship(lazy="selectin", order_by="OwnHerbFact.place")


class OwnHerbFact(ListRow, Base):
    """A name, an action, a constituent or a caution of an own herb; cautions have a level."""

    __tablename__ = "own_herb_fact"
    __table_args__ = (
        UniqueConstraint("own_herb_version_id", "place"),
        CheckConstraint("kind IN ('name', 'action', 'constituent', 'caution')", name="kind"),
    )

    own_herb_version_id: Mapped[int] = mapped_column(ForeignKey("own_herb_version.id"))
    kind: Mapped[str]
    tag: Mapped[str]
    level: Mapped[str | None]
    text: Mapped[str]


class OwnRangeVersion(Version, Base):
    """An own range as saved at one time."""

    __tablename__ = "own_range_version"
    __table_args__ = (UniqueConstraint("herb", "form", "version"),)

    herb: Mapped[str]
    form: Mapped[str]
    low: Mapped[Fraction | None]
    high: Mapped[Fraction | None]
    ratio: Mapped[Fraction | None]
    reference: Mapped[str]


class HerbNoteVersion(Version, Base):
    """The practice's note on a herb as saved at one time."""

    __tablename__ = "herb_note_version"
    __table_args__ = (UniqueConstraint("herb", "version"),)

    herb: Mapped[str]
    text: Mapped[str]
