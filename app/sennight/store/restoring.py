"""What a backup holds, and putting one in the place of a practice file.

The backup is only looked at. The file that is there now is kept beside under a dated name, with
its journal, and the restored one comes whole: whatever interrupts it, under the file's name is
either the file as it was or the backup.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sennight.store.backup_names import STAMP
from sennight.store.backups import complaints, copy_checked
from sennight.store.damage import damaged_consultations, damaged_course_ids, damaged_givings
from sennight.store.errors import PracticeFileError
from sennight.store.identity import set_journal_aside
from sennight.store.locks import FileLock
from sennight.store.looking import has_journal, look
from sennight.store.preparing import check_place, known_schema
from sennight.store.private import with_journals
from sennight.store.translated_errors import translated_errors

_TIMES = ("saved", "entered", "published", "recorded", "given")
"""The columns that say when something was put into the file."""


@dataclass(frozen=True, slots=True)
class Contents:
    """What is in a practice file or backup: `newest` is when the last entry was made.

    `trouble` says what is damaged, nothing where all is sound; `damaged_courses` are their ids,
    `damaged_givings` the numbers of givings of which a paper is, `damaged_consultations` the ids
    of consultations of which a wording or a file is.
    """

    path: Path
    size: int
    schema: str
    clients: int
    courses: int
    newest: datetime | None
    trouble: str = ""
    damaged_courses: tuple[str, ...] = ()
    damaged_givings: tuple[int, ...] = ()
    damaged_consultations: tuple[int, ...] = ()


def look_into(path: Path, scripts: Path, *, thoroughly: bool = False) -> Contents:
    """What a practice file or backup holds, `thoroughly` with every page and checksum looked at.

    Not a byte is changed. Raises PracticeFileError where it is none, newer, or cannot be read.
    """
    if path.is_dir():
        raise PracticeFileError(f"{path} is a folder; expected a practice file or a backup")
    if not path.is_file():
        raise PracticeFileError(f"{path} is not there; expected a practice file or a backup")
    with translated_errors(path):
        schema = known_schema(path, scripts)
        if schema is None:
            raise PracticeFileError(f"{path} is empty; expected a practice file")
        with closing(look(path)) as connection:
            trouble = complaints(connection, "integrity_check") if thoroughly else ""
            return Contents(
                path=path,
                size=path.stat().st_size,
                schema=schema,
                clients=_count(connection, "client"),
                courses=_count(connection, "course"),
                newest=_newest(connection),
                trouble=trouble,
                damaged_courses=damaged_course_ids(connection) if thoroughly else (),
                damaged_givings=damaged_givings(connection) if thoroughly else (),
                damaged_consultations=damaged_consultations(path) if thoroughly else (),
            )


def _count(connection: sqlite3.Connection, table: str) -> int:
    query = f"SELECT count(*) FROM {table}"  # noqa: S608 - one of our own names
    return int(connection.execute(query).fetchone()[0])


def _newest(connection: sqlite3.Connection) -> datetime | None:
    tables = [
        str(row[0])
        for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    ]
    times = []
    for table in tables:
        columns = {str(row[1]) for row in connection.execute(f'PRAGMA table_info("{table}")')}
        for column in columns.intersection(_TIMES):
            query = f'SELECT max({column}) FROM "{table}"'  # noqa: S608 - the schema's own names
            (text,) = connection.execute(query).fetchone()
            with suppress(TypeError, ValueError):
                times.append(datetime.fromisoformat(text))
    return max(times, default=None)


def restore(path: Path, backup: Path, scripts: Path, *, now: datetime) -> Path | None:
    """Put a backup in the place of a practice file; where the file that was there is now.

    Raises PracticeFileError where the backup is not sound or the file is open elsewhere; then
    nothing was changed.
    """
    path, backup = path.resolve(), backup.resolve()
    check_place(path)
    if path == backup:
        raise PracticeFileError(f"{backup} is the practice file itself; expected a backup of it")
    lock = FileLock(path)
    new = path.with_name(f"{path.name}.restored")
    try:
        with translated_errors(backup):
            _insist_sound(look_into(backup, scripts, thoroughly=True))
            with closing(look(backup)) as source:
                copy_checked(source, new)
        return _exchange(path, new, now)
    except OSError as error:
        raise PracticeFileError(
            f"{backup} could not be restored ({(error.strerror or str(error)).lower()}). Free "
            f"some space or check the folder {path.parent}, then try again."
        ) from error
    finally:
        new.unlink(missing_ok=True)
        lock.release()


def _insist_sound(contents: Contents) -> None:
    if contents.trouble:
        raise PracticeFileError(
            f"{contents.path} is damaged ({contents.trouble}), so it was not restored. Nothing "
            "was changed. Choose another backup."
        )


def _exchange(path: Path, new: Path, now: datetime) -> Path | None:
    """The name goes over in one step; the old file gets its other name before that.

    Its journal is moved last: until then it lies beside a file that has none, and would be set
    aside at the next opening.
    """
    aside = _aside(path, now) if path.exists() else None
    if aside:
        try:
            os.link(path, aside)
        except OSError:  # a disk without hard links
            path.replace(aside)
    new.replace(path)
    if has_journal(path):
        if aside:
            with_journals(path)[1].replace(with_journals(aside)[1])
        else:
            set_journal_aside(path, now)
    for left in with_journals(path)[1:]:
        left.unlink(missing_ok=True)
    return aside


def _aside(path: Path, now: datetime) -> Path:
    number, stamp = 1, f"{path.stem} {now:{STAMP}}"
    aside = path.with_name(f"{stamp} set aside{path.suffix}")
    while aside.exists():
        number += 1
        aside = path.with_name(f"{stamp} {number} set aside{path.suffix}")
    return aside
