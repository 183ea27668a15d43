"""Damaged courses and papers, and the newest backup that holds a course whole."""

# What reads courses is imported where one is damaged, so that the window is there at once.
# ruff: noqa: PLC0415

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import NullPool, create_engine
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from sennight.store.backup_names import backups_folder, list_backups
from sennight.store.errors import DamagedCourseError, UnreadableCourseError, UnreadableError
from sennight.store.looking import look
from sennight.store.migrating import newest_schema, own_scripts
from sennight.store.packing import fits

_CURRENT = """
    SELECT snapshot.digest, CAST(snapshot.content AS BLOB)
    FROM course
    JOIN course_version ON course_version.course_id = course.id
     AND course_version.version = course.version
    JOIN snapshot ON snapshot.digest = course_version.snapshot_digest
    WHERE course.id = ?
"""


def holds_whole(backup: Path, course_id: str) -> bool:
    """Whether a backup has a course that fits its checksums.

    Of a backup of an older schema the formulas alone, which have had a checksum from the first.
    """
    try:
        with closing(look(backup)) as connection:
            row = connection.execute(_CURRENT, (course_id,)).fetchone()
            if row is None or hashlib.sha256(row[1]).hexdigest() != row[0]:
                return False
            return not _is_newest(connection) or _reads(backup, course_id)
    except (OSError, sqlite3.Error):
        return False


def _is_newest(connection: sqlite3.Connection) -> bool:
    (version,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    return bool(version == newest_schema(own_scripts()))


def _reads(backup: Path, course_id: str) -> bool:
    """Whether the course can be read from a backup of the newest schema."""
    from sennight.store.course_reading import CourseReader
    from sennight.store.tables.courses import CourseHead

    engine = create_engine("sqlite://", creator=lambda: look(backup), poolclass=NullPool)
    try:
        with Session(engine) as session:
            return bool(CourseReader(session).entries(CourseHead.id == course_id))
    except (UnreadableError, DBAPIError, LookupError):
        return False


def damaged_course_ids(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The courses whose formulas, of any version, do not fit their checksum."""
    damaged = [
        digest
        for digest, content in connection.execute(
            "SELECT digest, CAST(content AS BLOB) FROM snapshot"
        )
        if hashlib.sha256(content).hexdigest() != digest
    ]
    course_ids: set[str] = set()
    for digest in damaged:
        query = "SELECT course_id FROM course_version WHERE snapshot_digest = ?"
        course_ids.update(str(row[0]) for row in connection.execute(query, (digest,)))
    return tuple(sorted(course_ids))


def damaged_givings(connection: sqlite3.Connection) -> tuple[int, ...]:
    """The numbers of the givings of which a paper does not fit its checksum."""
    query = "SELECT giving_id FROM given_paper WHERE digest = ?"
    return _with_damaged_content(connection, query)


def damaged_consultations(path: Path) -> tuple[int, ...]:
    """The ids of the consultations of which a wording or a file does not fit its checksum.

    None of a file of an earlier schema.
    """
    with closing(look(path)) as connection:
        if not _is_newest(connection):
            return ()
        query = "SELECT consultation_id FROM attachment WHERE digest = ?"
        numbers = set(_with_damaged_content(connection, query))
    from sennight.store.consultations import ConsultationRepository

    engine = create_engine("sqlite://", creator=lambda: look(path), poolclass=NullPool)
    with Session(engine) as session:
        numbers |= set(ConsultationRepository(session).damaged())
    return tuple(sorted(numbers))


def _has_table(connection: sqlite3.Connection, name: str) -> bool:
    query = "SELECT count(*) FROM sqlite_master WHERE name = ?"
    return bool(connection.execute(query, (name,)).fetchone()[0])


def _with_damaged_content(connection: sqlite3.Connection, query: str) -> tuple[int, ...]:
    """What a query gives for each content, of papers and files, that does not fit its checksum."""
    if not _has_table(connection, "paper_content"):
        return ()  # a file of an earlier schema keeps no papers
    damaged = [
        digest
        for digest, content in connection.execute("SELECT digest, content FROM paper_content")
        if not fits(content, digest)
    ]
    numbers: set[int] = set()
    for digest in damaged:
        numbers.update(int(row[0]) for row in connection.execute(query, (digest,)))
    return tuple(sorted(numbers))


def newest_whole(path: Path, course_id: str) -> Path | None:
    """The newest backup beside a practice file that holds a course whole."""
    backups = list_backups(path, backups_folder(path))
    return next((backup.path for backup in backups if holds_whole(backup.path, course_id)), None)


@contextmanager
def course_told(path: Path) -> Iterator[None]:
    """Turn a course that cannot be read into DamagedCourseError, which says where it is whole."""
    try:
        yield
    except UnreadableCourseError as error:
        backup = newest_whole(path, error.course_id)
        where = (
            f"The newest backup that holds it whole is {backup}."
            if backup
            else f"No backup in {backups_folder(path)} holds it whole."
        )
        raise DamagedCourseError(
            error.course_id,
            f"This course is damaged in {path}: {error}. The clients and the other courses are "
            f"not affected, and nothing was changed. {where}",
        ) from None
