"""Remedies on the shelf: a head, its versions, and the ingredients of each version."""

from __future__ import annotations

from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.store.tables.base import Base, ListRow, Version


class RemedyHead(Base):
    """A remedy, and which version of it is the current one."""

    __tablename__ = "remedy"

    id: Mapped[str] = mapped_column(primary_key=True)
    version: Mapped[int]


class RemedyVersion(Version, Base):
    """A formula as saved at one time; a column is set where the form has what it holds.

    Which forms there are is said by the domain alone: a new one is no change of the table.
    """

    __tablename__ = "remedy_version"
    __table_args__ = (
        UniqueConstraint("remedy_id", "version"),
        CheckConstraint("form <> ''", name="form"),
    )

    remedy_id: Mapped[str] = mapped_column(ForeignKey("remedy.id"))
    name: Mapped[str]
    form: Mapped[str]
    note: Mapped[str]
    drops_per_ml: Mapped[Fraction]
    grams_per_cup: Mapped[Fraction | None]
    water_ml: Mapped[Fraction | None]
    method: Mapped[str | None]
    minutes: Mapped[int | None]
    base: Mapped[str | None]
    base_parts: Mapped[Fraction | None]
    sugar: Mapped[Fraction | None]
    batch_g: Mapped[Fraction | None]
    spoon_g: Mapped[Fraction | None]
    stirred_into: Mapped[str | None]
    dropperful: Mapped[Fraction | None]
    dropperful_unit: Mapped[str | None]
    mg_in: Mapped[Fraction | None]
    mg_in_unit: Mapped[str | None]
    container: Mapped[Fraction | None]
    container_unit: Mapped[str | None]
    ingredients: Mapped[list[RemedyIngredient]] = relationship(
        lazy="selectin", order_by="RemedyIngredient.place"
    )


class RemedyIngredient(ListRow, Base):
    """One herb of a formula."""

    __tablename__ = "remedy_ingredient"
    __table_args__ = (UniqueConstraint("remedy_version_id", "place"),)

    remedy_version_id: Mapped[int] = mapped_column(ForeignKey("remedy_version.id"))
    herb: Mapped[str]
    parts: Mapped[Fraction | None]
    ratio: Mapped[Fraction | None]
    ethanol: Mapped[Fraction | None]
    mg: Mapped[Fraction | None]
    filling: Mapped[str | None]
    percent: Mapped[Fraction | None]
    drops: Mapped[Fraction | None]
