"""Keeps what follows from courses beside them, in the transaction that changes a course."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, cast

from sqlalchemy import (
    Executable,
    Result,
    Select,
    Table,
    bindparam,
    delete,
    exists,
    func,
    insert,
    or_,
    select,
    union,
    union_all,
    update,
)
from sqlalchemy.orm import Session, aliased

from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import LayoutError
from sennight.domain.dates import ONE_DAY
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.papers import PaperKind
from sennight.store.course_reading import current_courses
from sennight.store.courses import CourseRepository
from sennight.store.dispensary import DispensaryRepository
from sennight.store.errors import UnreadableCourseError
from sennight.store.pricing import PriceRepository
from sennight.store.tables.coming import READ_AS, ComingDayRow, CourseStanding
from sennight.store.tables.courses import CourseHead, CourseVersionRow
from sennight.store.tables.diaries import DiaryEntry, DiaryLine
from sennight.store.tables.dispensary import HandOver, ReturnedRow
from sennight.store.tables.papers import GivenPaperRow, GivingRow
from sennight.store.touched import touched

if TYPE_CHECKING:
    from sennight.domain.coming import ComingDay
    from sennight.domain.courses.stretches import Layout


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

    def read_supply_anew(self) -> None:
        """Have the courses read again for which anything was handed over or counted."""
        kept = union(select(_HANDED.c.course_id), select(_RETURNED.c.course_id))
        self._run(update(_OF).where(_OF.c.course_id.in_(kept)).values(read_as=0))

    def renew(self, course_id: str, course: Course | None = None) -> None:
        """Work out what a course brings; `course` is it as it stands, where that is at hand.

        Only what differs from what is kept is written.
        """
        layout = self._laid_out(course_id, course)
        days = layout.days if layout and not layout.course.is_void and layout.days else None
        first, last = (days.first, days.last) if days else (None, None)
        kept = self._run(_STANDING_OF, course=course_id).one_or_none()
        now: dict[str, object] = {"read_as": READ_AS, "first": first, "last": last}
        now |= {"checked_as": None, "found": None}
        if layout:
            now["name"] = layout.course.protocol.name
        if kept is None or kept.first != first or kept.read_as != READ_AS:
            now["diary_since"] = self._diary_since(course_id, first) if first else None
        if kept is None:
            number = self._add(course_id, now)
        else:
            number = int(kept.number)
            changed = {key: value for key, value in now.items() if getattr(kept, key) != value}
            if changed:
                self._run(update(_OF).where(_OF.c.number == number).values(changed))
        self._put_days(number, self._coming(course_id, layout) if layout else ())

    def _add(self, course_id: str, now: Mapping[str, object]) -> int:
        """A standing for a course that has none; its number."""
        head = self._run(_head(course_id)).mappings().one()
        values = {"course_id": course_id, **head, **now}
        return int(self._run(insert(_OF).values(values).returning(_OF.c.number)).scalar_one())

    def renew_diary(self, course_id: str) -> None:
        """Work out from which day on a course's diary is not entered."""
        first = self._run(select(_OF.c.first).where(_OF.c.course_id == course_id)).scalar()
        if first is not None:
            since = self._diary_since(course_id, first)
            self._run(update(_OF).where(_OF.c.course_id == course_id).values(diary_since=since))

    def forget_found(self, client_ids: Sequence[str] | None) -> None:
        """Have the courses of these clients checked again, all where None."""
        forget = update(CourseStanding).where(CourseStanding.checked_as.is_not(None))
        if client_ids is not None:
            forget = forget.where(CourseStanding.client_id.in_(client_ids))
        self._session.execute(forget.values(checked_as=None, found=None))

    def _laid_out(self, course_id: str, course: Course | None) -> Layout | None:
        """A course in days; None where it cannot be read, or not be laid out for its client."""
        # Here and below: a window begins with what is kept, and lays nothing out.
        from sennight.domain.courses.stretches import lay_out  # noqa: PLC0415

        try:
            return lay_out(course or CourseRepository(self._session).get(course_id).course)
        except (LayoutError, SameTimeError, UnreadableCourseError):
            return None

    def _coming(self, course_id: str, layout: Layout) -> tuple[ComingDay, ...]:
        from sennight.domain.coming import coming_days  # noqa: PLC0415
        from sennight.domain.dispensary.lasting import lasting  # noqa: PLC0415

        if self._run(_ANY_SUPPLY, course=course_id).first() is None:
            return coming_days(layout)
        kept = DispensaryRepository(self._session)
        settings = PriceRepository(self._session).settings().supply
        handed, returned = kept.handed_for(course_id), kept.returned_of(course_id)
        return coming_days(layout, lasting(layout, handed, returned, settings))

    def _put_days(self, number: int, days: Sequence[ComingDay]) -> None:
        """Write what differs from what is there."""
        rows = {(str(day.matter), day.day, day.what, day.until) for day in days}
        kept = {tuple(row) for row in self._run(_DAYS_OF, course=number)}
        gone, new = kept - rows, sorted(rows - kept, key=lambda row: row[:3])
        connection = self._session.connection()
        if gone:
            keys = [{"of": number, "m": row[0], "d": row[1], "w": row[2]} for row in gone]
            connection.execute(_DROP_DAY, keys)
        if new:
            names = ("matter", "day", "what", "until")
            values = [dict(zip(names, row, strict=True)) | {"course": number} for row in new]
            connection.execute(_ADD_DAY, values)

    def _run(self, statement: Executable, **values: object) -> Result[Any]:
        """The result of a statement on tables, which costs less than one on mapped classes."""
        return self._session.connection().execute(statement, values)

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


_OF = cast("Table", CourseStanding.__table__)
_DAY = cast("Table", ComingDayRow.__table__)
_HANDED = cast("Table", HandOver.__table__)
_RETURNED = cast("Table", ReturnedRow.__table__)
_SUPPLY = _HANDED, _RETURNED


# Statements of each save. To put one together costs more than to run it.
_STANDING_OF = select(*_OF.c).where(_OF.c.course_id == bindparam("course"))
_ANY_SUPPLY = union_all(
    *(select(kept.c.id).where(kept.c.course_id == bindparam("course")) for kept in _SUPPLY)
).limit(1)
_DAYS_OF = select(_DAY.c.matter, _DAY.c.day, _DAY.c.what, _DAY.c.until).where(
    _DAY.c.course == bindparam("course")
)
_DROP_DAY = delete(_DAY).where(
    _DAY.c.course == bindparam("of"),
    _DAY.c.matter == bindparam("m"),
    _DAY.c.day == bindparam("d"),
    _DAY.c.what == bindparam("w"),
)
_ADD_DAY = insert(_DAY)


def _head(course_id: str) -> Select[str, str]:
    """Whose course it is, and the name of its protocol."""
    return (
        current_courses()
        .where(CourseHead.id == course_id)
        .with_only_columns(CourseHead.client_id, CourseVersionRow.protocol_name.label("name"))
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
