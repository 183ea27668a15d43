"""Courses: rows and values, and the repository."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, LargeBinary, Select, and_, cast, select
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Accept, Course, Revision
from sennight.store.clients import ClientRepository, current_clients
from sennight.store.decoding import decoding
from sennight.store.entries import CourseEntry, CourseTitle, CourseVersion
from sennight.store.errors import MissingRecordError, UnreadableCourseError, UnreadableError
from sennight.store.revisions import revision_from_row, revision_to_row
from sennight.store.rows import grouped, plain_rows
from sennight.store.snapshots import SCHEMA, Formulas, digest_of, whole_snapshot, write_snapshot
from sennight.store.tables import courses as tables
from sennight.store.tables.clients import ClientVersion
from sennight.store.translated_errors import is_damage


def course_to_row(
    course: Course, *, digest: str, client_version_id: int, version: int, saved: datetime
) -> tables.CourseVersionRow:
    """A new version of a course; its snapshot and revisions are rows of their own."""
    return tables.CourseVersionRow(
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
    row: tables.CourseVersionRow,
    *,
    client: Client,
    formulas: Formulas,
    revisions: Sequence[Revision],
    accepts: Iterable[tables.CourseAccept],
) -> Course:
    """The course that a version holds; `revisions` are all of the course's."""
    protocol, remedies = formulas
    return Course(
        id=row.course_id,
        client=client,
        remedies=remedies,
        protocol=protocol,
        start=row.start,
        until=row.until,
        revisions=tuple(revisions[: row.revision_count]),
        accepts=tuple(Accept(one.finding, one.reason) for one in accepts),
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

    def require(self, course_id: str) -> None:
        """Raise MissingRecordError where no course has that id."""
        if not self.has(course_id):
            raise MissingRecordError("course", course_id)

    def get(self, course_id: str) -> CourseEntry:
        """One course as last saved; raises MissingRecordError."""
        self.require(course_id)
        with _of_course(course_id):
            return self._entries(tables.CourseHead.id == course_id)[0]

    def all(self, client_id: str | None = None) -> tuple[CourseEntry, ...]:
        """All courses that can be read, or those of one client, newest start first."""
        found, _ = self._salvaged(self._ids(client_id))
        found.sort(key=lambda entry: entry.id)
        found.sort(key=lambda entry: (entry.course.start, entry.created), reverse=True)
        return tuple(found)

    def damaged(self, client_id: str | None = None) -> Mapping[str, str]:
        """The courses that cannot be read, all or those of one client, and why."""
        _, why = self._salvaged(self._ids(client_id))
        return why

    def _ids(self, client_id: str | None) -> tuple[str, ...]:
        query = select(tables.CourseHead.id).order_by(tables.CourseHead.id)
        if client_id is not None:
            query = query.where(tables.CourseHead.client_id == client_id)
        return tuple(self._session.scalars(query))

    def _salvaged(self, ids: Sequence[str]) -> tuple[list[CourseEntry], dict[str, str]]:
        """The courses that can be read, and why the others cannot.

        They are read all at once; only where that fails is what fails looked for, by halves.
        """
        if not ids:
            return [], {}
        try:
            with decoding("this course"):
                return self._entries(tables.CourseHead.id.in_(ids)), {}
        except UnreadableError as error:
            why = str(error)
        except DBAPIError as error:
            if not is_damage(error.orig):
                raise
            why = "the disk pages that hold it are damaged"
        if len(ids) == 1:
            return [], {ids[0]: why}
        middle = len(ids) // 2
        found, damaged = self._salvaged(ids[:middle])
        more, others = self._salvaged(ids[middle:])
        return found + more, damaged | others

    def titles(self) -> tuple[CourseTitle, ...]:
        """What a list shows of every course, newest start first; for thousands at a time."""
        names = current_clients().with_only_columns(ClientVersion.client_id, ClientVersion.name)
        name_of = {row.client_id: row.name for row in self._session.execute(names)}
        formulas = self._formulas(_current())
        query = _current().with_only_columns(
            tables.CourseHead.id,
            tables.CourseHead.client_id,
            tables.CourseVersionRow.snapshot_digest,
            tables.CourseVersionRow.start,
            tables.CourseVersionRow.until,
        )
        order = (tables.CourseVersionRow.start.desc(), tables.CourseHead.created.desc())
        rows = self._session.execute(query.order_by(*order, tables.CourseHead.id))
        return tuple(
            CourseTitle(
                course_id, client_id, name_of[client_id], formulas[digest][0].name, start, until
            )
            for course_id, client_id, digest, start, until in rows
        )

    def history(self, course_id: str) -> tuple[CourseVersion, ...]:
        """Every saved version, oldest first, each with the client's record as it stood then."""
        self.require(course_id)
        query = select(tables.CourseVersionRow).where(
            tables.CourseVersionRow.course_id == course_id
        )
        client_ids = query.with_only_columns(tables.CourseVersionRow.client_version_id)
        clients = ClientRepository(self._session).read(
            select(ClientVersion).where(ClientVersion.id.in_(client_ids))
        )
        with _of_course(course_id):
            courses = self._courses(query, lambda row: clients[row.client_version_id].client)
        return tuple(
            CourseVersion(row.version, row.saved, course)
            for row, course in sorted(courses, key=lambda pair: pair[0].version)
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

    def _entries(self, chosen: ColumnElement[bool]) -> list[CourseEntry]:
        """The courses whose heads are chosen, as last saved, with their current clients."""
        heads = select(tables.CourseHead).where(chosen)
        head_of = {row.id: row for row in plain_rows(self._session, tables.CourseHead, heads)}
        client_ids = heads.with_only_columns(tables.CourseHead.client_id)
        entries = ClientRepository(self._session).read(
            current_clients().where(ClientVersion.client_id.in_(client_ids))
        )
        client_of = {entry.id: entry.client for entry in entries.values()}
        courses = self._courses(
            _current().where(chosen), lambda row: client_of[head_of[row.course_id].client_id]
        )
        return [
            CourseEntry(
                id=course.id,
                client_id=head_of[course.id].client_id,
                client_name=course.client.name,
                course=course,
                created=head_of[course.id].created,
                changed=row.saved,
                version=row.version,
            )
            for row, course in courses
        ]

    def _courses(
        self,
        query: Select[tables.CourseVersionRow],
        client: Callable[[tables.CourseVersionRow], Client],
    ) -> list[tuple[tables.CourseVersionRow, Course]]:
        """The rows of a query of versions, each with the course that it holds."""
        formulas = self._formulas(query)
        revisions = self._revisions(query)
        accepts = self._accepts(query)
        return [
            (
                row,
                course_from_row(
                    row,
                    client=client(row),
                    formulas=formulas[row.snapshot_digest],
                    revisions=revisions[row.course_id],
                    accepts=accepts[row.id],
                ),
            )
            for row in plain_rows(self._session, tables.CourseVersionRow, query)
        ]

    def _formulas(self, query: Select[tables.CourseVersionRow]) -> dict[str, Formulas]:
        digests = query.with_only_columns(tables.CourseVersionRow.snapshot_digest)
        found = select(
            tables.Snapshot.digest,
            tables.Snapshot.schema,
            # As bytes: a bit that fell over may have left no text, and the checksum is of bytes.
            cast(tables.Snapshot.content, LargeBinary),
        ).where(tables.Snapshot.digest.in_(digests))
        return {
            digest: whole_snapshot(schema, content, digest)
            for digest, schema, content in self._session.execute(found)
        }

    def _revisions(self, query: Select[tables.CourseVersionRow]) -> Mapping[str, list[Revision]]:
        ids = query.with_only_columns(tables.CourseVersionRow.course_id)
        rows = select(tables.CourseRevision).where(tables.CourseRevision.course_id.in_(ids))
        found: defaultdict[str, list[Revision]] = defaultdict(list)
        ordered = rows.order_by(tables.CourseRevision.place)
        for row in plain_rows(self._session, tables.CourseRevision, ordered):
            found[row.course_id].append(revision_from_row(row))
        return found

    def _accepts(
        self, query: Select[tables.CourseVersionRow]
    ) -> Mapping[int, list[tables.CourseAccept]]:
        ids = query.with_only_columns(tables.CourseVersionRow.id)
        rows = select(tables.CourseAccept).where(tables.CourseAccept.course_version_id.in_(ids))
        ordered = rows.order_by(tables.CourseAccept.place)
        return grouped(
            plain_rows(self._session, tables.CourseAccept, ordered),
            lambda row: row.course_version_id,
        )


@contextmanager
def _of_course(course_id: str) -> Iterator[None]:
    """Say of which course something cannot be read."""
    try:
        with decoding("this course"):
            yield
    except UnreadableError as error:
        raise UnreadableCourseError(course_id, str(error)) from None
    except DBAPIError as error:
        if not is_damage(error.orig):
            raise
        why = "the disk pages that hold it are damaged"
        raise UnreadableCourseError(course_id, why) from None


def _current() -> Select[tables.CourseVersionRow]:
    return select(tables.CourseVersionRow).join(
        tables.CourseHead,
        and_(
            tables.CourseVersionRow.course_id == tables.CourseHead.id,
            tables.CourseVersionRow.version == tables.CourseHead.version,
        ),
    )
