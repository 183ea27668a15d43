"""What was typed and not saved yet; unlike records it is replaced, and goes when it is saved."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base


class DraftRow(Base):
    """The draft of one form: which form, about which record (empty for a new one)."""

    __tablename__ = "draft"

    kind: Mapped[str] = mapped_column(primary_key=True)
    subject: Mapped[str] = mapped_column(primary_key=True)
    title: Mapped[str]
    typed: Mapped[datetime]
    content: Mapped[str]
