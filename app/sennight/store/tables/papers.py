"""The papers that were given, as they were, for good.

A giving is one act: its papers were written together. The bytes lie in a table of their own under
their digest, so that a list reads none of them and the same paper is kept once.
"""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, KeyedRow, ListRow


class GivingRow(KeyedRow, Base):
    """One giving; its id counts within the practice file, from 1, and is in the files' names."""

    __tablename__ = "giving"

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)
    course_id: Mapped[str | None] = mapped_column(ForeignKey("course.id"))
    given: Mapped[datetime]


class PaperContentRow(Base):
    """The bytes of a paper, compressed; `digest` and `size` are those of the bytes themselves."""

    __tablename__ = "paper_content"

    digest: Mapped[str] = mapped_column(primary_key=True)
    size: Mapped[int]
    content: Mapped[bytes]


class GivenPaperRow(ListRow, Base):
    """One paper of a giving: its kind, and the name that its file was given."""

    __tablename__ = "given_paper"
    __table_args__ = (UniqueConstraint("giving_id", "place"),)

    giving_id: Mapped[int] = mapped_column(ForeignKey("giving.id"))
    kind: Mapped[str]
    name: Mapped[str]
    digest: Mapped[str] = mapped_column(ForeignKey("paper_content.digest"))
