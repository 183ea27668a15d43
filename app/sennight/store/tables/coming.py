"""Coming days: what courses bring and when, worked out at each save, none laid out later.

`course_standing` and `coming_day` hold nothing that was entered: they follow from the courses,
diaries and hand-overs, and can be made anew at any time. What the practitioner said of a matter,
and what was found when a course was given, are records like others.
"""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, ForeignKey, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, DayNumber, KeyedRow

READ_AS = 2
"""Goes up where `coming_days` says something else of the same course: all are read anew then."""


class CourseStanding(Base):
    """What lists ask of a course: its days, its diary, and what the last check found.

    `first` and `last` are null for a course that brings nothing: struck out, or not to be laid
    out. `diary_since` is the first day that is not entered yet, null where no diary is kept.
    `read_as` says by which reading the coming days were worked out. `found` are the ids of the
    findings to avoid and to be careful with, as JSON, and `checked_as` what they were found with;
    both are null where the course has to be checked again.
    """

    __tablename__ = "course_standing"
    __table_args__ = (UniqueConstraint("course_id"), Index(None, "client_id"))

    number: Mapped[int] = mapped_column(primary_key=True)
    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"))
    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"))
    read_as: Mapped[int]
    name: Mapped[str]
    first: Mapped[date | None] = mapped_column(DayNumber)
    last: Mapped[date | None] = mapped_column(DayNumber)
    diary_since: Mapped[date | None] = mapped_column(DayNumber)
    checked_as: Mapped[str | None]
    found: Mapped[str | None]


class ComingDayRow(Base):
    """Something that a course brings on a day (`domain.coming`), by the number of its standing."""

    __tablename__ = "coming_day"
    __table_args__ = (Index(None, "course"), {"sqlite_with_rowid": False})

    matter: Mapped[str] = mapped_column(primary_key=True)
    day: Mapped[date] = mapped_column(DayNumber, primary_key=True)
    course: Mapped[int] = mapped_column(
        ForeignKey("course_standing.number"), primary_key=True, autoincrement=False
    )
    what: Mapped[str] = mapped_column(primary_key=True)
    until: Mapped[date | None] = mapped_column(DayNumber)


class MatterMark(KeyedRow, Base):
    """That a matter was done or put off; the last one of a matter holds, an open one undoes it.

    A matter is known by its client, course, kind, subject and day. `put_to` is the day that it is
    put off to.
    """

    __tablename__ = "matter_mark"
    __table_args__ = (
        Index(None, "day"),
        Index(None, "put_to"),
        CheckConstraint("state IN ('open', 'done', 'put off')", name="state"),
    )

    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"))
    course_id: Mapped[str | None] = mapped_column(ForeignKey("course.id"))
    matter: Mapped[str]
    what: Mapped[str]
    day: Mapped[date] = mapped_column(DayNumber)
    state: Mapped[str]
    put_to: Mapped[date | None] = mapped_column(DayNumber)
    recorded: Mapped[datetime]


class GivenFindings(Base):
    """The ids of the findings to avoid and to be careful with when a course was given, as JSON."""

    __tablename__ = "given_findings"

    giving_id: Mapped[int] = mapped_column(
        ForeignKey("giving.id"), primary_key=True, autoincrement=False
    )
    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"), index=True)
    found: Mapped[str]
