"""What needs attention, asked for by day, and what was said of each matter: the repository."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import date, datetime
from enum import StrEnum
from functools import partial
from typing import Any, NamedTuple

from sqlalchemy import (
    ColumnElement,
    Integer,
    func,
    insert,
    or_,
    select,
    type_coerce,
    update,
)
from sqlalchemy.orm import Session

from sennight.domain.matters import Matter
from sennight.store.rows import bare_rows
from sennight.store.tables.clients import RedFlagCheckRow, RedFlagTick
from sennight.store.tables.coming import (
    READ_AS,
    ComingDayRow,
    CourseStanding,
    GivenFindings,
    MatterMark,
)
from sennight.store.tables.consultations import (
    ConsultationHead,
    ConsultationVersionRow,
    ConsultationVoid,
)
from sennight.store.tables.courses import CourseHead
from sennight.store.tables.papers import GivingRow

Found = Mapping[str, str]
"""Findings: the heading of each by its id."""


class MarkState(StrEnum):
    """What was said of a matter."""

    OPEN = "open"
    DONE = "done"
    PUT_OFF = "put off"


class MatterKey(NamedTuple):
    """What a matter is known by; `course` is empty where it is about the client alone."""

    client: str
    course: str
    matter: str
    what: str
    day: date


class Mark(NamedTuple):
    """What was said last of a matter; `put_to` is the day that it was put off to."""

    state: MarkState
    put_to: date | None


class ComingRow(NamedTuple):
    """A coming day as it is kept; days are numbers (`date.toordinal`), `course` a standing's."""

    matter: str
    day: int
    course: int
    what: str
    until: int | None


class StandingRow(NamedTuple):
    """What is kept of a course that has days, its own as numbers."""

    number: int
    course_id: str
    client_id: str
    name: str
    first: int
    last: int
    diary_since: int | None


class VisitRow(NamedTuple):
    """A consultation, and the next appointment; `at` is its hour in minutes after midnight."""

    client_id: str
    day: date
    next_day: date | None
    at: int | None


class MatterRepository:
    """What needs attention, in one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    # By day

    def coming(
        self,
        first: date,
        last: date,
        matters: Iterable[Matter],
        courses: Iterable[int] | None = None,
    ) -> list[ComingRow]:
        """The coming days from one day to another, of these kinds; for thousands at a time.

        Of these courses alone, by number, where some are named.
        """
        named = func.json_each(json.dumps(list(courses or ()))).table_valued("value")
        return self._coming(
            or_(*(_DAY.matter == str(matter) for matter in matters)),
            _day(_DAY.day) >= first.toordinal(),
            _day(_DAY.day) <= last.toordinal(),
            *(() if courses is None else (_DAY.course.in_(select(named.c.value)),)),
        )

    def first_days(self, matter: Matter, first: date, last: date) -> dict[int, int]:
        """The first of these days of each course, by number; for thousands at a time."""
        return dict(self._days(matter, first, last, _day(_DAY.day).desc()))

    def last_days(self, matter: Matter, first: date, last: date) -> dict[int, int]:
        """The last of these days of each course, by number; for thousands at a time."""
        return dict(self._days(matter, first, last, _day(_DAY.day)))

    def _days(
        self, matter: Matter, first: date, last: date, order: ColumnElement[int]
    ) -> list[tuple[int, int]]:
        day = _day(_DAY.day)
        query = select(_DAY.course, day).where(
            _DAY.matter == str(matter), day >= first.toordinal(), day <= last.toordinal()
        )
        return bare_rows(self._session, query.order_by(order))

    def flares_on(self, day: date) -> list[ComingRow]:
        """The flare-up plans that are under way on a day."""
        return self._coming(
            _DAY.matter == str(Matter.FLARE),
            _day(_DAY.day) <= day.toordinal(),
            _day(_DAY.until) >= day.toordinal(),
        )

    def coming_of(self, key: MatterKey, course: int) -> list[ComingRow]:
        """The coming day of a matter, by the number of its course; none where it is no more."""
        return self._coming(
            _DAY.matter == key.matter,
            _day(_DAY.day) == key.day.toordinal(),
            _DAY.course == course,
            _DAY.what == key.what,
        )

    def _coming(self, *where: ColumnElement[bool]) -> list[ComingRow]:
        query = select(_DAY.matter, _day(_DAY.day), _DAY.course, _DAY.what, _day(_DAY.until))
        return _as_coming(bare_rows(self._session, query.where(*where)))

    def standings(self, since: date) -> dict[int, StandingRow]:
        """The courses whose last day is not before a day, by number; for thousands at a time.

        So are those that ended before, where something was put off to that day or later.
        """
        put_off = select(_MARK.course_id).where(_day(_MARK.put_to) >= since.toordinal())
        query = select(
            _OF.number,
            _OF.course_id,
            _OF.client_id,
            _OF.name,
            _day(_OF.first),
            _day(_OF.last),
            _day(_OF.diary_since),
        ).where(
            _day(_OF.last).is_not(None),
            or_(_day(_OF.last) >= since.toordinal(), _OF.course_id.in_(put_off)),
        )
        made = partial(tuple.__new__, StandingRow)
        return {row.number: row for row in map(made, bare_rows(self._session, query))}

    def is_behind(self) -> bool:
        """Whether some courses have no coming days yet, or such as were worked out otherwise."""
        current = select(func.count()).select_from(CourseStanding)
        every = select(func.count()).select_from(CourseHead)
        read = self._session.scalar(current.where(CourseStanding.read_as == READ_AS))
        return bool(read != self._session.scalar(every))

    # Of the clients

    def red_flags(self) -> dict[str, tuple[date, int]]:
        """The clients whose last check found red flags: its day, and how many there were."""
        last = select(func.max(RedFlagCheckRow.id)).group_by(RedFlagCheckRow.client_id)
        query = (
            select(RedFlagCheckRow.client_id, RedFlagCheckRow.day, func.count(RedFlagTick.id))
            .join(RedFlagTick, RedFlagTick.red_flag_check_id == RedFlagCheckRow.id)
            .where(RedFlagCheckRow.id.in_(last))
            .group_by(RedFlagCheckRow.id)
        )
        rows = self._session.execute(query)
        return {client_id: (day, count) for client_id, day, count in rows}

    def asked_for_red_flags(self) -> frozenset[str]:
        """The clients who were ever asked for red flags, whatever was found."""
        return frozenset(self._session.scalars(select(RedFlagCheckRow.client_id).distinct()))

    def visits(self, since: date) -> list[VisitRow]:
        """The consultations of a day and later, and those with an appointment from then on."""
        latest = select(func.max(_SEEN.id)).group_by(_SEEN.consultation_id)
        query = (
            select(ConsultationHead.client_id, _SEEN.day, _SEEN.next_day, _SEEN.next_at)
            .join(ConsultationHead, ConsultationHead.id == _SEEN.consultation_id)
            .where(or_(_SEEN.day >= since, _SEEN.next_day >= since), _SEEN.id.in_(latest))
            .where(_SEEN.consultation_id.not_in(select(ConsultationVoid.consultation_id)))
        )
        return [VisitRow(*row) for row in self._session.execute(query)]

    # Findings

    def given(self, number: int, course_id: str, found: Found) -> None:
        """Keep what was found of a course when it was given; `number` is that of the giving."""
        self._session.execute(
            insert(GivenFindings).values(
                giving_id=number, course_id=course_id, found=json.dumps(dict(found))
            )
        )

    def put_found(self, course_id: str, found: Found, checked_as: str) -> None:
        """Keep what is found of a course now, and what it was checked with."""
        self._session.execute(
            update(CourseStanding)
            .where(CourseStanding.course_id == course_id)
            .values(found=json.dumps(dict(found)), checked_as=checked_as)
        )

    def unchecked(self, checked_as: str, day: date, most: int) -> tuple[str, ...]:
        """Up to so many courses that run on a day, were given and are to be checked again."""
        query = (
            select(CourseStanding.course_id)
            .where(CourseStanding.first <= day, CourseStanding.last >= day)
            .where(
                or_(
                    CourseStanding.checked_as.is_(None),
                    CourseStanding.checked_as != checked_as,
                )
            )
            .where(CourseStanding.course_id.in_(select(GivenFindings.course_id)))
            .limit(most)
        )
        return tuple(self._session.scalars(query))

    def new_findings(self, day: date) -> dict[str, tuple[date, Found]]:
        """The findings of running courses that were not there when each was given last, and when.

        Courses that were never given have none, nor have those that are to be checked again.
        """
        last = select(func.max(GivenFindings.giving_id)).group_by(GivenFindings.course_id)
        query = (
            select(CourseStanding.course_id, GivingRow.given, GivenFindings.found)
            .add_columns(CourseStanding.found)
            .join(GivenFindings, GivenFindings.course_id == CourseStanding.course_id)
            .join(GivingRow, GivingRow.id == GivenFindings.giving_id)
            .where(GivenFindings.giving_id.in_(last), CourseStanding.found.is_not(None))
            .where(CourseStanding.first <= day, CourseStanding.last >= day)
            .where(CourseStanding.found != GivenFindings.found)
        )
        new: dict[str, tuple[date, Found]] = {}
        for course_id, given, before, now in self._session.execute(query):
            known = json.loads(before)
            since = {
                key: head for key, head in json.loads(now or "{}").items() if key not in known
            }
            if since:
                new[course_id] = given.date(), since
        return new

    # What was said of a matter

    def mark(self, key: MatterKey, mark: Mark, *, recorded: datetime) -> None:
        """Keep that a matter was done or put off, or that it is open again."""
        self._session.execute(
            insert(MatterMark).values(
                client_id=key.client,
                course_id=key.course or None,
                matter=key.matter,
                what=key.what,
                day=key.day,
                state=str(mark.state),
                put_to=mark.put_to,
                recorded=recorded,
            )
        )

    def marks(self, since: date) -> dict[MatterKey, Mark]:
        """What was said last of the matters of a day and later, or put off to such a day."""
        row = MatterMark
        query = (
            select(row.client_id, row.course_id, row.matter, row.what, row.day)
            .add_columns(row.state, row.put_to)
            .where(or_(row.day >= since, row.put_to >= since, row.matter.in_(_STANDING)))
            .order_by(row.id)
        )
        return {
            MatterKey(client, course or "", matter, what, day): Mark(MarkState(state), put_to)
            for client, course, matter, what, day, state, put_to in self._session.execute(query)
        }


_SEEN = ConsultationVersionRow
_DAY, _OF = ComingDayRow.__table__.c, CourseStanding.__table__.c
_MARK = MatterMark.__table__.c
_STANDING = tuple(
    str(matter) for matter in (Matter.RED_FLAG, Matter.FINDING, Matter.FLARE, Matter.DIARY)
)
"""What needs attention for as long as it stands, however long ago it began."""


def _as_coming(rows: Iterable[Iterable[Any]]) -> list[ComingRow]:
    """Bare rows, which have the columns of coming days in their order, by name.

    `ComingRow._make` does the same, four times slower, since it is not in C.
    """
    return [*map(partial(tuple.__new__, ComingRow), rows)]


def _day(column: ColumnElement[Any]) -> ColumnElement[int]:
    """A day as the number that it is kept as."""
    return type_coerce(column, Integer)
