"""Courses: rows and values, and the repository."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Select, and_, select
from sqlalchemy.orm import Session

from sennight.domain.clients import Client
from sennight.domain.courses import Accept, Course, Revision
from sennight.store.clients import client_from_row, current_clients
from sennight.store.entries import CourseEntry, CourseVersion
from sennight.store.errors import MissingRecordError
from sennight.store.revisions import revision_from_row, revision_to_row
from sennight.store.snapshots import SCHEMA, digest_of, read_snapshot, write_snapshot
from sennight.store.tables import courses as tables
from sennight.store.tables.clients import ClientVersion


def course_to_row(
    course: Course, *, digest: str, client_version_id: int, version: int, saved: datetime
) -> tables.CourseVersion:
    """A new version of a course; its snapshot and revisions are rows of their own."""
    return tables.CourseVersion(
        course_id=course.id,
        version=version,
        saved=saved,
        client_version_id=client_version_id,
        snapshot_digest=digest,
        start=course.start,
        until=course.until,
        revision_count=len(course.revisions),
        accepts=[
            tables.CourseAccept(place=n, finding=one.finding, reason=one.reason)
            for n, one in enumerate(course.accepts)
        ],
    )


def course_from_row(
    row: tables.CourseVersion,
    *,
    client: Client,
    snapshot: tables.Snapshot,
    revisions: Sequence[Revision],
) -> Course:
    """The course that a version holds; `revisions` are all of the course's."""
    protocol, remedies = read_snapshot(snapshot.schema, snapshot.content)
    return Course(
        id=row.course_id,
        client=client,
        remedies=remedies,
        protocol=protocol,
        start=row.start,
        until=row.until,
        revisions=tuple(revisions[: row.revision_count]),
        accepts=tuple(Accept(one.finding, one.reason) for one in row.accepts),
    )


@dataclass(frozen=True, slots=True)
class Save:
    """Who saves what when: the client and the time that a course version is saved with."""

    client_id: str
    client_version_id: int
    now: datetime


class CourseRepository:
    """The courses of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def has(self, course_id: str) -> bool:
        """Whether a course of that id is in the file."""
        return self._session.get(tables.CourseHead, course_id) is not None

    def get(self, course_id: str) -> CourseEntry:
        """One course as last saved; raises MissingRecordError."""
        found = self._entries(_current().where(tables.CourseHead.id == course_id))
        if not found:
            raise MissingRecordError("course", course_id)
        return found[0]

    def all(self, client_id: str | None = None) -> tuple[CourseEntry, ...]:
        """All courses, or those of one client, newest start first."""
        query = _current()
        if client_id is not None:
            query = query.where(tables.CourseHead.client_id == client_id)
        order = (tables.CourseVersion.start.desc(), tables.CourseHead.created.desc())
        return tuple(self._entries(query.order_by(*order, tables.CourseHead.id)))

    def history(self, course_id: str) -> tuple[CourseVersion, ...]:
        """Every saved version, oldest first, each with the client's record as it stood then."""
        query = (
            select(tables.CourseVersion, tables.Snapshot, ClientVersion)
            .join(tables.Snapshot)
            .join(ClientVersion)
            .where(tables.CourseVersion.course_id == course_id)
            .order_by(tables.CourseVersion.version)
        )
        found = self._session.execute(query).all()
        if not found:
            raise MissingRecordError("course", course_id)
        revisions = self._revisions([course_id])[course_id]
        return tuple(
            CourseVersion(
                row.version,
                row.saved,
                course_from_row(
                    row,
                    client=client_from_row(client).client,
                    snapshot=snapshot,
                    revisions=revisions,
                ),
            )
            for row, snapshot, client in found
        )

    def add(self, course: Course, *, save: Save) -> None:
        """Keep a new course as its version 1."""
        head = tables.CourseHead(
            id=course.id, client_id=save.client_id, created=save.now, version=1
        )
        self._session.add(head)
        self._session.flush()
        self._add_version(course, version=1, known=0, save=save)

    def add_version(self, course: Course, *, known: int, save: Save) -> None:
        """Keep a course as its next version; the first `known` revisions are in the file."""
        head = self._session.get_one(tables.CourseHead, course.id)
        head.version += 1
        self._session.flush()
        self._add_version(course, version=head.version, known=known, save=save)

    def _add_version(self, course: Course, *, version: int, known: int, save: Save) -> None:
        digest = self._keep_snapshot(write_snapshot(course.protocol, course.remedies))
        for place, revision in list(enumerate(course.revisions))[known:]:
            added = revision_to_row(revision, place=place, version=version)
            added.course_id = course.id
            self._session.add(added)
        row = course_to_row(
            course,
            digest=digest,
            client_version_id=save.client_version_id,
            version=version,
            saved=save.now,
        )
        self._session.add(row)
        self._session.flush()

    def _keep_snapshot(self, content: str) -> str:
        digest = digest_of(content)
        if self._session.get(tables.Snapshot, digest) is None:
            self._session.add(tables.Snapshot(digest=digest, schema=SCHEMA, content=content))
            self._session.flush()
        return digest

    def _entries(self, query: _Current) -> list[CourseEntry]:
        found = self._session.execute(query).all()
        revisions = self._revisions([head.id for head, _, _ in found])
        clients = self._clients({head.client_id for head, _, _ in found})
        return [
            CourseEntry(
                id=head.id,
                client_id=head.client_id,
                client_name=clients[head.client_id].name,
                course=course_from_row(
                    row,
                    client=clients[head.client_id],
                    snapshot=snapshot,
                    revisions=revisions[head.id],
                ),
                created=head.created,
                changed=row.saved,
                version=row.version,
            )
            for head, row, snapshot in found
        ]

    def _clients(self, ids: Iterable[str]) -> dict[str, Client]:
        wanted = tuple(ids)
        query = current_clients()
        if len(wanted) < MANY:
            query = query.where(ClientVersion.client_id.in_(wanted))
        entries = (client_from_row(row) for row in self._session.scalars(query))
        return {entry.id: entry.client for entry in entries}

    def _revisions(self, ids: Sequence[str]) -> Mapping[str, list[Revision]]:
        query = select(tables.CourseRevision).order_by(
            tables.CourseRevision.course_id, tables.CourseRevision.place
        )
        if len(ids) < MANY:
            query = query.where(tables.CourseRevision.course_id.in_(ids))
        found: defaultdict[str, list[Revision]] = defaultdict(list)
        for row in self._session.scalars(query):
            found[row.course_id].append(revision_from_row(row))
        return found


MANY = 500
"""From so many ids on all rows are read instead: SQLite bounds a statement's parameters."""

_Current = Select[tables.CourseHead, tables.CourseVersion, tables.Snapshot]


def _current() -> _Current:
    return (
        select(tables.CourseHead, tables.CourseVersion, tables.Snapshot)
        .join(
            tables.CourseVersion,
            and_(
                tables.CourseVersion.course_id == tables.CourseHead.id,
                tables.CourseVersion.version == tables.CourseHead.version,
            ),
        )
        .join(tables.Snapshot)
    )
