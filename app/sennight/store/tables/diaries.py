"""Diaries and scores, every entry ever made; the latest of a day and remedy holds.

A correction is a new row, so what was entered before stays readable. A row without a figure
withdraws the entry.
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, Index
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, KeyedRow


class DiaryEntry(KeyedRow, Base):
    """How many doses of a remedy were taken on a day, as entered at one time."""

    __tablename__ = "diary_entry"
    __table_args__ = (
        Index(None, "course_id", "day", "remedy"),
        CheckConstraint("doses >= 0", name="doses"),
    )

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    day: Mapped[date]
    remedy: Mapped[str]
    doses: Mapped[int | None]
    entered: Mapped[datetime]


class ScoreEntry(KeyedRow, Base):
    """A rating on a day, as entered at one time."""

    __tablename__ = "score_entry"
    __table_args__ = (Index(None, "course_id", "day", "measure"),)

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    day: Mapped[date]
    measure: Mapped[str]
    value: Mapped[Fraction | None]
    entered: Mapped[datetime]
