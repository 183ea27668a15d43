"""Keeps what follows from courses beside them, in the transaction that changes a course."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from sqlalchemy import Select, delete, exists, func, insert, or_, select, update
from sqlalchemy.orm import Session, aliased

from sennight.domain.coming import ComingDay, Matter, coming_days
from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import ONE_DAY
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.dispensary.lasting import lasting
from sennight.domain.papers import PaperKind
from sennight.store.course_reading import current_courses
from sennight.store.courses import CourseRepository
from sennight.store.dispensary import DispensaryRepository
from sennight.store.errors import UnreadableCourseError
from sennight.store.tables.coming import ComingDayRow, CourseStanding
from sennight.store.tables.courses import CourseHead, CourseVersionRow
from sennight.store.tables.diaries import DiaryEntry, DiaryLine
from sennight.store.tables.papers import GivenPaperRow, GivingRow
from sennight.store.touched import touched

READ_AS = 1
"""Goes up where `coming_days` says something else of the same course: all are read anew then."""


def settle(session: Session) -> None:
    """Bring what follows from the records that a transaction wrote to up to date."""
    wrote = touched(session)
    standings = StandingRepository(session)
    for course_id, course in wrote.courses.items():
        standings.renew(course_id, course)
    for course_id in wrote.diaries - wrote.courses.keys():
        standings.renew_diary(course_id)
    if wrote.clients or wrote.herbs:
        standings.forget_found(None if wrote.herbs else sorted(wrote.clients))


class StandingRepository:
    """What follows from the courses, in one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def behind(self, most: int) -> tuple[str, ...]:
        """Up to so many courses whose coming days were not worked out yet, or by other rules."""
        query = (
            select(CourseHead.id)
            .outerjoin(CourseStanding, CourseStanding.course_id == CourseHead.id)
            .where(or_(CourseStanding.number.is_(None), CourseStanding.read_as != READ_AS))
            .limit(most)
        )
        return tuple(self._session.scalars(query))

    def renew(self, course_id: str, course: Course | None = None) -> None:
        """Work out what a course brings; `course` is it as it stands, where that is at hand."""
        client_id, name = self._session.execute(_head(course_id)).one()
        layout = self._laid_out(course_id, course)
        days = layout.days if layout and not layout.course.is_void and layout.days else None
        values = {
            "client_id": client_id,
            "read_as": READ_AS,
            "name": layout.course.protocol.name if layout else name,
            "first": days.first if days else None,
            "last": days.last if days else None,
            "diary_since": self._diary_since(course_id, days.first) if days else None,
            "checked_as": None,
            "found": None,
        }
        number = self._session.scalar(
            update(CourseStanding)
            .where(CourseStanding.course_id == course_id)
            .values(values)
            .returning(CourseStanding.number)
        )
        if number is None:
            number = self._session.scalar(
                insert(CourseStanding)
                .values(course_id=course_id, **values)
                .returning(CourseStanding.number)
            )
        self._put_days(int(number or 0), self._coming(course_id, layout) if layout else ())

    def renew_diary(self, course_id: str) -> None:
        """Work out from which day on a course's diary is not entered."""
        standing = CourseStanding
        first = self._session.scalar(select(standing.first).where(standing.course_id == course_id))
        if first is not None:
            self._session.execute(
                update(standing)
                .where(standing.course_id == course_id)
                .values(diary_since=self._diary_since(course_id, first))
            )

    def forget_found(self, client_ids: Sequence[str] | None) -> None:
        """Have the courses of these clients checked again, all where None."""
        forget = update(CourseStanding).where(CourseStanding.checked_as.is_not(None))
        if client_ids is not None:
            forget = forget.where(CourseStanding.client_id.in_(client_ids))
        self._session.execute(forget.values(checked_as=None, found=None))

    def _laid_out(self, course_id: str, course: Course | None) -> Layout | None:
        """A course in days; None where it cannot be read, or not be laid out for its client."""
        try:
            return lay_out(course or CourseRepository(self._session).get(course_id).course)
        except (LayoutError, SameTimeError, UnreadableCourseError):
            return None

    def _coming(self, course_id: str, layout: Layout) -> tuple[ComingDay, ...]:
        handed = DispensaryRepository(self._session).handed_for(course_id)
        return coming_days(layout, lasting(layout, handed) if handed else ())

    def _put_days(self, number: int, days: Sequence[ComingDay]) -> None:
        """Write what differs from what is there."""
        row = ComingDayRow
        kept = {
            ComingDay(Matter(matter), day, what, until)
            for matter, day, what, until in self._session.execute(
                select(row.matter, row.day, row.what, row.until).where(row.course == number)
            )
        }
        gone, new = kept - set(days), sorted(set(days) - kept)
        for old in gone:
            self._session.execute(
                delete(row).where(
                    row.matter == old.matter,
                    row.day == old.day,
                    row.course == number,
                    row.what == old.what,
                )
            )
        if new:
            self._session.execute(
                insert(row),
                [
                    {
                        "matter": str(coming.matter),
                        "day": coming.day,
                        "course": number,
                        "what": coming.what,
                        "until": coming.until,
                    }
                    for coming in new
                ],
            )

    def _diary_since(self, course_id: str, first: date) -> date | None:
        """The first day that is not entered; None where no diary is kept.

        One is kept where anything was ever entered, or a sheet to fill in was given.
        """
        entered = self._session.scalar(_last_entered(course_id))
        if entered is not None:
            return entered + ONE_DAY
        given: datetime | None = self._session.scalar(
            select(func.min(GivingRow.given))
            .join(GivenPaperRow, GivenPaperRow.giving_id == GivingRow.id)
            .where(GivingRow.course_id == course_id, GivenPaperRow.kind == PaperKind.DIARY)
            .where(
                GivingRow.client_id
                == select(CourseHead.client_id).where(CourseHead.id == course_id).scalar_subquery()
            )
        )
        return max(first, given.date()) if given is not None else None


def _head(course_id: str) -> Select[str, str]:
    """Whose course it is, and the name of its protocol."""
    return (
        current_courses()
        .where(CourseHead.id == course_id)
        .with_only_columns(CourseHead.client_id, CourseVersionRow.protocol_name)
    )


def _last_entered(course_id: str) -> Select[date]:
    """The last day with a mark that holds; one without doses withdraws those before it."""
    later = aliased(DiaryEntry)
    return (
        select(func.max(DiaryEntry.day))
        .join(DiaryLine, DiaryLine.id == DiaryEntry.line_id)
        .where(DiaryLine.course_id == course_id, DiaryEntry.doses.is_not(None))
        .where(
            ~exists().where(
                later.line_id == DiaryEntry.line_id,
                later.day == DiaryEntry.day,
                later.saving_id > DiaryEntry.saving_id,
            )
        )
    )
