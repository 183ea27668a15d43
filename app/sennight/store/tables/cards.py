"""The practice's card: every version of it, the last one being current."""

from __future__ import annotations

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from sennight.store.tables.base import Base, ListRow, Version


class CardVersion(Version, Base):
    """The card as saved at one time."""

    __tablename__ = "card_version"
    __table_args__ = (UniqueConstraint("version"),)

    name: Mapped[str]
    practitioner: Mapped[str]
    phone: Mapped[str]
    email: Mapped[str]
    emergency: Mapped[str | None]
    on_labels: Mapped[str | None]
    """Short lines, one beneath the other."""
    address: Mapped[list[CardAddress]] = relationship(
        lazy="selectin", order_by="CardAddress.place"
    )


class CardAddress(ListRow, Base):
    """One line of the address."""

    __tablename__ = "card_address"
    __table_args__ = (UniqueConstraint("card_version_id", "place"),)

    card_version_id: Mapped[int] = mapped_column(ForeignKey("card_version.id"))
    text: Mapped[str]
