"""Courses: the repository."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from typing import Any, cast

from sqlalchemy import (
    Executable,
    Result,
    Table,
    Text,
    bindparam,
    func,
    insert,
    select,
    type_coerce,
    update,
)
from sqlalchemy.dialects import sqlite
from sqlalchemy.orm import Session

from sennight.domain.courses.courses import Course, Revision
from sennight.domain.kept import kept
from sennight.store.accepts import accept_rows
from sennight.store.clients import ClientRepository
from sennight.store.course_digests import Kept, Texts, course_digest, revision_texts
from sennight.store.course_reading import CourseReader, of_course
from sennight.store.entries import CourseEntry, CourseTitle, CourseVersion
from sennight.store.errors import MissingRecordError
from sennight.store.revisions import revision_to_row
from sennight.store.rows import bare_rows
from sennight.store.snapshots import SCHEMA, digest_of, write_snapshot
from sennight.store.tables import courses as tables
from sennight.store.tables.clients import ClientVersion
from sennight.store.touched import touched


@dataclass(frozen=True, slots=True)
class Save:
    """Who saves what when: the client and the time that a course version is saved with."""

    client_id: str
    client_version_id: int
    now: datetime


@dataclass(frozen=True, slots=True)
class Standing:
    """What the current version of a course says, without the course."""

    client_id: str
    client_version_id: int
    created: datetime
    changed: datetime
    version: int
    revision_count: int
    digest: str


@lru_cache(maxsize=4096)
def _day(text: str) -> date:
    """A day from its text; many courses begin on the same few hundred days."""
    return date.fromisoformat(text)


class CourseRepository:
    """The courses of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session, self._reader = session, CourseReader(session)

    # Reading

    def has(self, course_id: str) -> bool:
        """Whether a course of that id is in the file."""
        query = select(tables.CourseHead.id).where(tables.CourseHead.id == course_id)
        return self._session.scalar(query) is not None

    def require(self, course_id: str) -> None:
        """Raise MissingRecordError where no course has that id."""
        if not self.has(course_id):
            raise MissingRecordError("course", course_id)

    def get(self, course_id: str) -> CourseEntry:
        """One course as last saved; raises MissingRecordError."""
        self.require(course_id)
        with of_course(course_id):
            return self._reader.entries(tables.CourseHead.id == course_id)[0]

    def all(self, client_id: str | None = None) -> tuple[CourseEntry, ...]:
        """All courses that can be read, or those of one client, newest start first."""
        return self.of_clients(None if client_id is None else (client_id,))

    def of_clients(self, client_ids: Sequence[str] | None) -> tuple[CourseEntry, ...]:
        """The courses of these clients that can be read, all where None, newest start first."""
        entries, _ = self._reader.salvaged(self._ids(client_ids))
        return _newest_first(entries)

    def with_damaged(self, client_id: str) -> tuple[tuple[CourseEntry, ...], tuple[str, ...]]:
        """A client's courses that can be read, newest start first, and the ids of the others."""
        entries, damaged = self._reader.salvaged(self._ids((client_id,)))
        return _newest_first(entries), tuple(damaged)

    def damaged(self, client_id: str | None = None) -> Mapping[str, str]:
        """The courses that cannot be read, all or those of one client, and why."""
        _, why = self._reader.salvaged(self._ids(None if client_id is None else (client_id,)))
        return why

    def newest_version(self) -> int:
        """The number of the version of a course that was saved last; 0 where there is none."""
        return self._session.scalar(select(func.max(tables.CourseVersionRow.id))) or 0

    def titles(self, *, since: int = 0) -> tuple[CourseTitle, ...]:
        """What a list shows of every course, newest start first; for thousands at a time.

        With `since` only of those that were saved after the version of that number. No course is
        read. Those whose days cannot be are left out (`damaged` has them).
        """
        names = ClientRepository(self._session).names()
        # Of the tables themselves: mapped columns cost as much again as reading the rows.
        head, version = tables.CourseHead.__table__.c, tables.CourseVersionRow.__table__.c
        query = (
            select(
                head.id,
                head.client_id,
                version.protocol_name,
                type_coerce(version.start, Text),
                type_coerce(version.until, Text),
                version.void,
            )
            .where(
                version.course_id == head.id,
                version.version == head.version,
                *((version.id > since,) if since else ()),
            )
            .order_by(version.start.desc(), head.created.desc(), head.id)
        )
        titles = []
        for course_id, client_id, protocol, first, last, void in bare_rows(self._session, query):
            try:
                days = _day(first), _day(last) if last else None
            except ValueError:
                continue
            titles.append(
                CourseTitle(course_id, client_id, names[client_id], protocol, *days, bool(void))
            )
        return tuple(titles)

    def history(self, course_id: str) -> tuple[CourseVersion, ...]:
        """Every saved version, oldest first, each with the client's record as it stood then."""
        self.require(course_id)
        client_id = self.standing(course_id).client_id
        query = select(tables.CourseVersionRow).where(
            tables.CourseVersionRow.course_id == course_id
        )
        client_ids = query.with_only_columns(tables.CourseVersionRow.client_version_id)
        clients = ClientRepository(self._session).read(
            select(ClientVersion).where(ClientVersion.id.in_(client_ids))
        )
        with of_course(course_id):
            courses = self._reader.versions(
                query, lambda row: (client_id, clients[row.client_version_id].client)
            )
        return tuple(
            CourseVersion(row.version, row.saved, course)
            for row, course in sorted(courses, key=lambda pair: pair[0].version)
        )

    def standing(self, course_id: str) -> Standing:
        """What the current version says, without the course; raises MissingRecordError."""
        row = self._run(_STANDING, course=course_id).one_or_none()
        if row is None:
            raise MissingRecordError("course", course_id)
        values: tuple[Any, ...] = tuple(row)
        return Standing(*values)

    # Saving

    def add(self, course: Course, *, save: Save) -> None:
        """Keep a new course as its version 1."""
        touched(self._session).courses[course.id] = None
        self._session.execute(
            insert(tables.CourseHead).values(
                id=course.id, client_id=save.client_id, created=save.now, version=1
            )
        )
        self._add_version(course, version=1, known=0, save=save)

    def add_version(self, course: Course, *, known: int, save: Save) -> None:
        """Keep a course as its next version; the first `known` revisions are in the file.

        Its client is the current record of the course's client. Raises MissingRecordError.
        """
        touched(self._session).courses[course.id] = course
        version = self._run(_NEXT_VERSION, course=course.id).scalar()
        if version is None:
            raise MissingRecordError("course", course.id)
        self._add_version(course, version=version, known=known, save=save)

    def same(self, course: Course, standing: Standing) -> bool:
        """Whether a course says nothing that its current version does not say."""
        content = write_snapshot(course.protocol, course.remedies)
        kept = _kept(course, digest_of(content), standing, standing.version)
        return course_digest(kept, _texts(course.revisions), course) == standing.digest

    def begins_as_saved(self, course: Course, saved: Course | None = None) -> bool:
        """Whether a course's first revisions are the ones that are in the file.

        They need not be read where the course is at hand as it was saved, `same` as it stands.
        """
        if saved is not None:
            texts = list(_texts(saved.revisions))
            return list(_texts(course.revisions)[: len(texts)]) == texts
        heads = select(tables.CourseHead).where(tables.CourseHead.id == course.id)
        decided = self._reader.decided(heads.with_only_columns(tables.CourseHead.id)).get(
            course.id
        )
        texts = decided.texts if decided else []
        return list(_texts(course.revisions)[: len(texts)]) == texts

    def _add_version(self, course: Course, *, version: int, known: int, save: Save) -> None:
        snapshot = self._keep_snapshot(write_snapshot(course.protocol, course.remedies))
        kept = _kept(course, snapshot, save, version)
        number = self._run(
            _ADD_VERSION,
            course_id=course.id,
            version=version,
            saved=save.now,
            client_version_id=save.client_version_id,
            snapshot_digest=snapshot,
            start=course.start,
            until=course.until,
            revision_count=len(course.revisions),
            protocol_name=course.protocol.name,
            digest=course_digest(kept, _texts(course.revisions), course),
            void=course.void or None,
            void_on=course.void_on,
        ).scalar_one()
        new = list(enumerate(course.revisions))[known:]
        if new:
            rows = (revision_to_row(revision, place=n, version=version) for n, revision in new)
            values = [_columns(row, course.id) for row in rows]
            self._session.execute(insert(tables.CourseRevision), values)
        voids = [
            {"course_version_id": number, "place": n, "reason": r.void, "struck": r.void_on}
            for n, r in enumerate(course.revisions)
            if r.is_void
        ]
        if voids:
            self._session.execute(insert(tables.CourseVoid), voids)
        if decided := accept_rows(course, number):
            self._session.execute(insert(tables.CourseAccept), decided)

    def _keep_snapshot(self, content: str) -> str:
        digest = digest_of(content)
        self._run(_ADD_SNAPSHOT, digest=digest, schema=SCHEMA, content=content)
        return digest

    def _run(self, statement: Executable, **values: object) -> Result[Any]:
        """The result of a statement on tables, which costs less than one on mapped classes."""
        return self._session.connection().execute(statement, values)

    def _ids(self, client_ids: Sequence[str] | None) -> tuple[str, ...]:
        query = select(tables.CourseHead.id).order_by(tables.CourseHead.id)
        if client_ids is not None:
            query = query.where(tables.CourseHead.client_id.in_(client_ids))
        return tuple(self._session.scalars(query))


# Statements of each save. To put one together costs more than to run it.
_HEAD = cast("Table", tables.CourseHead.__table__)
_VERSION = cast("Table", tables.CourseVersionRow.__table__)
_STANDING = (
    select(
        _HEAD.c.client_id,
        _VERSION.c.client_version_id,
        _HEAD.c.created,
        _VERSION.c.saved,
        _VERSION.c.version,
        _VERSION.c.revision_count,
        _VERSION.c.digest,
    )
    .where(_VERSION.c.course_id == _HEAD.c.id, _VERSION.c.version == _HEAD.c.version)
    .where(_HEAD.c.id == bindparam("course"))
)
_NEXT_VERSION = (
    update(_HEAD)
    .where(_HEAD.c.id == bindparam("course"))
    .values(version=_HEAD.c.version + 1)
    .returning(_HEAD.c.version)
)
_ADD_VERSION = insert(_VERSION).returning(_VERSION.c.id)
_ADD_SNAPSHOT = sqlite.insert(cast("Table", tables.Snapshot.__table__)).on_conflict_do_nothing()


def _newest_first(entries: Iterable[CourseEntry]) -> tuple[CourseEntry, ...]:
    ordered = sorted(entries, key=lambda entry: entry.id)
    ordered.sort(key=lambda entry: (entry.course.start, entry.created), reverse=True)
    return tuple(ordered)


def _kept(course: Course, snapshot: str, by: Save | Standing, version: int) -> Kept:
    days = course.start, course.until
    return Kept(course.id, version, by.client_id, by.client_version_id, snapshot, *days)


@kept(8)
def _texts(revisions: tuple[Revision, ...]) -> tuple[Texts, ...]:
    """What the columns of a course's revisions hold, whatever version brought them in."""
    rows = (revision_to_row(revision, place=0, version=0) for revision in revisions)
    return tuple(revision_texts(row, None if row.take is None else str(row.take)) for row in rows)


def _columns(row: tables.CourseRevision, course_id: str) -> dict[str, object]:
    names = (column.key for column in tables.CourseRevision.__table__.columns)
    values = {name: getattr(row, name) for name in names if name != "id"}
    return values | {"course_id": course_id}
