"""Consultations: a head, its versions with what stands under each heading, and attached files.

The index for searching, `consultation_index`, is a virtual table of SQLite's FTS5. It holds the
current words of each consultation under its id, and is kept by the repository.
"""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, KeyedRow, ListRow, Version


class ConsultationHead(KeyedRow, Base):
    """A consultation with a client; what was written is in its versions."""

    __tablename__ = "consultation"

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)


class ConsultationVersionRow(Version, Base):
    """A consultation as saved at one time; `digest` is that of all it says.

    `minutes` is its length, `next_at` the hour of the next appointment in minutes after midnight.
    """

    __tablename__ = "consultation_version"
    __table_args__ = (
        UniqueConstraint("consultation_id", "version"),
        CheckConstraint("kind IN ('first', 'follow-up', 'telephone')", name="kind"),
        CheckConstraint("minutes > 0", name="minutes"),
    )

    consultation_id: Mapped[int] = mapped_column(ForeignKey("consultation.id"))
    day: Mapped[date]
    kind: Mapped[str]
    minutes: Mapped[int | None]
    next_day: Mapped[date | None]
    next_at: Mapped[int | None]
    digest: Mapped[str]


class ConsultationPartRow(ListRow, Base):
    """What one version says under one heading."""

    __tablename__ = "consultation_part"
    __table_args__ = (UniqueConstraint("consultation_version_id", "place"),)

    consultation_version_id: Mapped[int] = mapped_column(ForeignKey("consultation_version.id"))
    heading: Mapped[str]
    words: Mapped[str]


class ConsultationVoid(KeyedRow, Base):
    """A consultation that was written down in error: why, and since when."""

    __tablename__ = "consultation_void"

    consultation_id: Mapped[int] = mapped_column(ForeignKey("consultation.id"), unique=True)
    reason: Mapped[str]
    struck: Mapped[date]
    recorded: Mapped[datetime]


class AttachmentRow(KeyedRow, Base):
    """A file that belongs to a consultation; its bytes lie with those of the papers."""

    __tablename__ = "attachment"

    consultation_id: Mapped[int] = mapped_column(ForeignKey("consultation.id"), index=True)
    name: Mapped[str]
    digest: Mapped[str] = mapped_column(ForeignKey("paper_content.digest"))
    recorded: Mapped[datetime]


class AttachmentVoid(KeyedRow, Base):
    """A file that was attached in error: why, and since when."""

    __tablename__ = "attachment_void"

    attachment_id: Mapped[int] = mapped_column(ForeignKey("attachment.id"), unique=True)
    reason: Mapped[str]
    struck: Mapped[date]
    recorded: Mapped[datetime]


class ConsultationHeadings(Version, Base):
    """The headings of a practice's consultations, a line each, as chosen at one time."""

    __tablename__ = "consultation_headings"
    __table_args__ = (UniqueConstraint("version"),)

    headings: Mapped[str]
