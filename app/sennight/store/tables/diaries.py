"""Diaries and scores, every entry ever made; the latest of a day and remedy holds.

A correction is a new row, so what was entered before stays readable. A row without a figure
withdraws the entry.

Diaries grow to millions of marks, so a mark is four small numbers: its line (a remedy of a
course), its day, the saving that brought it, and the doses. Savings are numbered in the order in
which they were made, so the highest of a line and day holds.
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, DayNumber, KeyedRow


class DiaryLine(KeyedRow, Base):
    """A remedy of a course, of which doses are entered."""

    __tablename__ = "diary_line"
    __table_args__ = (UniqueConstraint("course_id", "remedy"),)

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    remedy: Mapped[str]


class DiarySaving(KeyedRow, Base):
    """One act of entering marks, each day of a line at most once."""

    __tablename__ = "diary_saving"

    entered: Mapped[datetime]


class DiaryEntry(Base):
    """How many doses of a line's remedy were taken on a day, as entered at one time."""

    __tablename__ = "diary_entry"
    __table_args__ = (
        CheckConstraint("doses >= 0", name="doses"),
        {"sqlite_with_rowid": False},
    )

    line_id: Mapped[int] = mapped_column(ForeignKey("diary_line.id"), primary_key=True)
    day: Mapped[date] = mapped_column(DayNumber, primary_key=True)
    saving_id: Mapped[int] = mapped_column(ForeignKey("diary_saving.id"), primary_key=True)
    doses: Mapped[int | None]


class AdviceEntry(KeyedRow, Base):
    """How often a line of advice was followed on a day, as entered at one time."""

    __tablename__ = "advice_entry"
    __table_args__ = (
        Index(None, "course_id", "day", "advice"),
        CheckConstraint("times >= 0", name="times"),
    )

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    day: Mapped[date]
    advice: Mapped[str]
    times: Mapped[int]
    entered: Mapped[datetime]


class DayNoteEntry(KeyedRow, Base):
    """What a client said of a day, as entered at one time; the last of a day holds.

    The words that hold are in `day_note_index` under the same id: a virtual table of SQLite's
    FTS5, which the repository keeps.
    """

    __tablename__ = "day_note"
    __table_args__ = (Index(None, "course_id", "day"),)

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    day: Mapped[date]
    words: Mapped[str]
    entered: Mapped[datetime]


class MeasureEntry(KeyedRow, Base):
    """A measure of a course's own, as it was described at one time; the last one holds."""

    __tablename__ = "measure_entry"
    __table_args__ = (Index(None, "course_id"),)

    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    measure: Mapped[str]
    name: Mapped[str]
    better: Mapped[str]
    low: Mapped[Fraction]
    high: Mapped[Fraction]
    unit: Mapped[str]
    matters: Mapped[Fraction | None]
    matters_percent: Mapped[Fraction | None]
    source: Mapped[str]
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
