"""What clients' phones were told, for good."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base


class PublicationRow(Base):
    """One record; `number` counts within the course, from 1, and `content` is compressed."""

    __tablename__ = "publication"
    __table_args__ = (UniqueConstraint("course_id", "number"),)

    id: Mapped[str] = mapped_column(primary_key=True)
    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    number: Mapped[int]
    published: Mapped[datetime]
    kind: Mapped[str]
    content: Mapped[bytes]
