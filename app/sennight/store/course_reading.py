"""Reading courses from rows: whole, checked against their checksums, told apart where damaged."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import ColumnElement, LargeBinary, Select, Text, and_, cast, select, type_coerce
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Revision
from sennight.store.accepts import Decided as DecidedOn
from sennight.store.accepts import sorted_out
from sennight.store.clients import ClientRepository, current_clients
from sennight.store.course_digests import Kept, Texts, course_digest, revision_texts
from sennight.store.decoding import decoding
from sennight.store.entries import CourseEntry
from sennight.store.errors import UnreadableCourseError, UnreadableError
from sennight.store.revisions import revision_from_row
from sennight.store.rows import as_rows, grouped, plain_rows
from sennight.store.snapshots import Formulas, whole_snapshot
from sennight.store.tables import courses as tables
from sennight.store.tables.clients import ClientVersion
from sennight.store.translated_errors import is_damage

_PAGES = "the disk pages that hold it are damaged"


Voids = dict[int, tuple[str, date | None]]
"""Places of revisions that are struck out, with why and since when."""


@dataclass(frozen=True, slots=True)
class Decided:
    """A course's revisions, and what their columns hold."""

    revisions: list[Revision]
    texts: list[Texts]


def current_courses() -> Select[tables.CourseVersionRow]:
    """The current version of every course."""
    return select(tables.CourseVersionRow).join(
        tables.CourseHead,
        and_(
            tables.CourseVersionRow.course_id == tables.CourseHead.id,
            tables.CourseVersionRow.version == tables.CourseHead.version,
        ),
    )


@contextmanager
def of_course(course_id: str) -> Iterator[None]:
    """Say of which course something cannot be read."""
    try:
        with decoding("this course"):
            yield
    except UnreadableError as error:
        raise UnreadableCourseError(course_id, str(error)) from None
    except DBAPIError as error:
        if not is_damage(error.orig):
            raise
        raise UnreadableCourseError(course_id, _PAGES) from None


class CourseReader:
    """Reads the courses of one transaction; raises UnreadableError where one is damaged."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def salvaged(self, ids: Sequence[str]) -> tuple[list[CourseEntry], dict[str, str]]:
        """The courses that can be read, and why the others cannot.

        They are read all at once; only where that fails is what fails looked for, by halves.
        """
        if not ids:
            return [], {}
        try:
            with decoding("this course"):
                return self.entries(tables.CourseHead.id.in_(ids)), {}
        except UnreadableError as error:
            why = str(error)
        except DBAPIError as error:
            if not is_damage(error.orig):
                raise
            why = _PAGES
        if len(ids) == 1:
            return [], {ids[0]: why}
        middle = len(ids) // 2
        entries, damaged = self.salvaged(ids[:middle])
        more, others = self.salvaged(ids[middle:])
        return entries + more, damaged | others

    def entries(self, chosen: ColumnElement[bool]) -> list[CourseEntry]:
        """The courses whose heads are chosen, as last saved, with their current clients."""
        heads = select(tables.CourseHead).where(chosen)
        head_of = {row.id: row for row in plain_rows(self._session, tables.CourseHead, heads)}
        client_ids = heads.with_only_columns(tables.CourseHead.client_id)
        entries = ClientRepository(self._session).read(
            current_clients().where(ClientVersion.client_id.in_(client_ids))
        )
        client_of = {entry.id: entry.client for entry in entries.values()}

        def client(row: tables.CourseVersionRow) -> tuple[str, Client]:
            client_id = head_of[row.course_id].client_id
            return client_id, client_of[client_id]

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
            for row, course in self.versions(current_courses().where(chosen), client)
        ]

    def versions(
        self,
        query: Select[tables.CourseVersionRow],
        client: Callable[[tables.CourseVersionRow], tuple[str, Client]],
    ) -> list[tuple[tables.CourseVersionRow, Course]]:
        """The rows of a query of versions, each with the course that it holds, found whole."""
        formulas = self._formulas(query)
        decided = self.decided(query.with_only_columns(tables.CourseVersionRow.course_id))
        accepts, voids = self._accepts(query), self._voids(query)
        courses = []
        for row in plain_rows(self._session, tables.CourseVersionRow, query):
            client_id, who = client(row)
            protocol, remedies = formulas[row.snapshot_digest]
            changes = decided.get(row.course_id, Decided([], []))
            accepted, discussed = accepts.get(row.id, ([], []))
            course = Course(
                id=row.course_id,
                client=who,
                remedies=remedies,
                protocol=protocol,
                start=row.start,
                until=row.until,
                revisions=_struck_out(changes.revisions[: row.revision_count], voids[row.id]),
                accepts=tuple(accepted),
                discussed=tuple(discussed),
                void=row.void or "",
                void_on=row.void_on,
            )
            _insist_whole(row, client_id, changes.texts[: row.revision_count], course)
            courses.append((row, course))
        return courses

    def _formulas(self, query: Select[tables.CourseVersionRow]) -> dict[str, Formulas]:
        digests = query.with_only_columns(tables.CourseVersionRow.snapshot_digest)
        snapshots = select(
            tables.Snapshot.digest,
            tables.Snapshot.schema,
            # As bytes: a bit that fell over may have left no text, and the checksum is of bytes.
            cast(tables.Snapshot.content, LargeBinary),
        ).where(tables.Snapshot.digest.in_(digests))
        return {
            digest: whole_snapshot(schema, content, digest)
            for digest, schema, content in self._session.execute(snapshots)
        }

    def decided(self, course_ids: Select[tuple[str]]) -> Mapping[str, Decided]:
        """The revisions of these courses, in their order; none for a course without any."""
        columns = tables.CourseRevision.__table__.columns
        query = (
            select(*columns, type_coerce(tables.CourseRevision.take, Text).label("take_text"))
            .where(tables.CourseRevision.course_id.in_(course_ids))
            .order_by(tables.CourseRevision.place)
        )
        decisions: dict[str, Decided] = {}
        rows = self._session.execute(query).all()
        for row, named in zip(as_rows(tables.CourseRevision, rows), rows, strict=True):
            decided = decisions.setdefault(row.course_id, Decided([], []))
            decided.revisions.append(revision_from_row(row))
            decided.texts.append(revision_texts(row, named.take_text))
        return decisions

    def _voids(self, query: Select[tables.CourseVersionRow]) -> Mapping[int, Voids]:
        ids = query.with_only_columns(tables.CourseVersionRow.id)
        rows = select(tables.CourseVoid).where(tables.CourseVoid.course_version_id.in_(ids))
        voids: defaultdict[int, Voids] = defaultdict(dict)
        for row in plain_rows(self._session, tables.CourseVoid, rows):
            voids[row.course_version_id][row.place] = row.reason, row.struck
        return voids

    def _accepts(self, query: Select[tables.CourseVersionRow]) -> Mapping[int, DecidedOn]:
        ids = query.with_only_columns(tables.CourseVersionRow.id)
        rows = select(tables.CourseAccept).where(tables.CourseAccept.course_version_id.in_(ids))
        ordered = plain_rows(
            self._session, tables.CourseAccept, rows.order_by(tables.CourseAccept.place)
        )
        of_version = grouped(ordered, lambda row: row.course_version_id)
        return {version_id: sorted_out(its) for version_id, its in of_version.items()}


def _struck_out(revisions: Sequence[Revision], voids: Voids) -> tuple[Revision, ...]:
    """Revisions, with those that a version holds for entered in error marked so."""
    return tuple(
        replace(revision, void=voids[place][0], void_on=voids[place][1])
        if place in voids
        else revision
        for place, revision in enumerate(revisions)
    )


def _insist_whole(
    row: tables.CourseVersionRow, client_id: str, texts: Sequence[Texts], course: Course
) -> None:
    """Raise UnreadableError where a version does not fit the checksum that was saved with it."""
    kept = Kept(
        row.course_id,
        row.version,
        client_id,
        row.client_version_id,
        row.snapshot_digest,
        row.start,
        row.until,
    )
    if course_digest(kept, texts, course) != row.digest:
        raise UnreadableError("it does not match the checksum that was saved with it")
