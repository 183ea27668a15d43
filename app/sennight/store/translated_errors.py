"""What SQLite's errors mean for the practitioner, in plain words."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from sennight.store.backup_names import backups_folder, list_backups
from sennight.store.errors import (
    DamagedFileError,
    PracticeFileError,
    UnreadableError,
    UnreadablePaperError,
)

_PRIMARY = 0xFF
"""Extended result codes carry the primary one in their lowest byte (sqlite.org/rescode.html)."""

_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
_WORDS = {
    sqlite3.SQLITE_FULL: "the disk is full; free some space and try again",
    sqlite3.SQLITE_READONLY: "it cannot be written to; check its permissions, or move it to a "
    "folder of your own",
    sqlite3.SQLITE_CANTOPEN: "it cannot be opened or written to; check the folder's permissions",
    sqlite3.SQLITE_PERM: "it cannot be opened; check its permissions",
    sqlite3.SQLITE_BUSY: "another program is using it; close that program and try again",
    sqlite3.SQLITE_LOCKED: "another part of the program is using it; try again",
    sqlite3.SQLITE_IOERR: "the disk cannot be read or written; check the disk",
}


def where_backups_are(path: Path) -> str:
    """A sentence that says where the backups of a file are, or that there are none."""
    folder = backups_folder(path)
    if not list_backups(path):
        return f"There is no backup of it in {folder}"
    return f"Its backups are in {folder}: restore the newest (sennight restore)"


def damaged(path: Path, why: str) -> DamagedFileError:
    """The error for a file that is damaged or not ours."""
    return DamagedFileError(
        f"{path} is damaged or is not a practice file ({why}). Nothing was changed. "
        f"{where_backups_are(path)}."
    )


def is_damage(error: BaseException | None) -> bool:
    """Whether SQLite says that what it read is damaged."""
    if not isinstance(error, sqlite3.Error):
        return False
    code = getattr(error, "sqlite_errorcode", None)
    # Python's own words where a text is no UTF-8; they hold the text, and no code of SQLite's.
    undecoded = code is None and isinstance(error, sqlite3.OperationalError)
    return undecoded or (code is not None and code & _PRIMARY in _DAMAGED)


def in_words(error: sqlite3.Error, path: Path) -> PracticeFileError | None:
    """What SQLite says, in plain words; None where it is not the file's or the disk's doing."""
    code = getattr(error, "sqlite_errorcode", 0) & _PRIMARY
    if is_damage(error):
        return damaged(path, str(error) if code else "a text in it cannot be read")
    if code not in _WORDS:
        return None
    return PracticeFileError(f"{path}: {_WORDS[code]}. Nothing was saved.")


@contextmanager
def translated_errors(path: Path) -> Iterator[None]:
    """Turn errors about the file, the disk or what can be written into PracticeFileError."""
    try:
        yield
    except UnicodeEncodeError as error:
        # Half of a character pair, which a paste can bring; the error itself holds the text.
        raise PracticeFileError(
            f"{path}: a text contains a damaged character, which cannot be saved. Nothing was "
            f"saved. "
            "Type that text again instead of pasting it."
        ) from error
    except UnicodeDecodeError:
        # SQLite's own tables are text too; the error holds the bytes, so it is not passed on.
        raise damaged(path, "a text in it cannot be read") from None
    except UnreadablePaperError as error:
        raise DamagedFileError(
            f"A paper that was given is damaged in {path}: {error}. The clients and courses are "
            f"not affected, and nothing was changed. {where_backups_are(path)}."
        ) from None
    except UnreadableError as error:
        raise damaged(path, str(error)) from None
    except DBAPIError as error:
        translated = in_words(error.orig, path) if isinstance(error.orig, sqlite3.Error) else None
        if translated is None:
            raise
        raise translated from (None if is_damage(error.orig) else error)
    except sqlite3.Error as error:
        translated = in_words(error, path)
        if translated is None:
            raise
        raise translated from (None if is_damage(error) else error)
