"""A damaged course, and the newest backup that holds it whole."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sennight.store.backup_names import backups_folder, list_backups
from sennight.store.errors import DamagedCourseError, UnreadableCourseError
from sennight.store.looking import look

_CURRENT = """
    SELECT snapshot.digest, CAST(snapshot.content AS BLOB)
    FROM course
    JOIN course_version ON course_version.course_id = course.id
     AND course_version.version = course.version
    JOIN snapshot ON snapshot.digest = course_version.snapshot_digest
    WHERE course.id = ?
"""


def holds_whole(backup: Path, course_id: str) -> bool:
    """Whether a backup of any schema has a course whose formulas fit their checksum."""
    try:
        with closing(look(backup)) as connection:
            found = connection.execute(_CURRENT, (course_id,)).fetchone()
    except (OSError, sqlite3.Error):
        return False
    return found is not None and hashlib.sha256(found[1]).hexdigest() == found[0]


def damaged_course_ids(connection: sqlite3.Connection) -> tuple[str, ...]:
    """The courses whose formulas, of any version, do not fit their checksum."""
    damaged = [
        digest
        for digest, content in connection.execute(
            "SELECT digest, CAST(content AS BLOB) FROM snapshot"
        )
        if hashlib.sha256(content).hexdigest() != digest
    ]
    found: set[str] = set()
    for digest in damaged:
        query = "SELECT course_id FROM course_version WHERE snapshot_digest = ?"
        found.update(str(row[0]) for row in connection.execute(query, (digest,)))
    return tuple(sorted(found))


def newest_whole(path: Path, course_id: str) -> Path | None:
    """The newest backup beside a practice file that holds a course whole."""
    backups = list_backups(path, backups_folder(path))
    return next((one.path for one in backups if holds_whole(one.path, course_id)), None)


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
