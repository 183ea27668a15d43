"""The check of every page of a practice file, off the way to the window.

It reads the whole file, which takes seconds for a large one. So a small file is checked when it is
opened, and a large one where it is due: after the program was killed, or where no backup of the
last week says that all was sound (a backup is only finished when it was). It then runs in the
background, and the first save waits for it.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path
from threading import Lock

from sennight.store.backups import complaints, newest_backup
from sennight.store.connecting import raw_connection
from sennight.store.looking import has_journal, journal, look
from sennight.store.translated_errors import damaged

AT_ONCE = 8_000_000
"""Up to so many bytes a file is checked when it is opened: some hundredths of a second."""

GOOD_FOR = timedelta(days=7)
"""How long after a finished backup a file that was closed is taken to be sound."""


def is_small(path: Path) -> bool:
    """Whether a file with its journal is checked when it is opened."""
    waiting = journal(path).stat().st_size if has_journal(path) else 0
    return path.stat().st_size + waiting <= AT_ONCE


def is_due(path: Path, now: datetime) -> bool:
    """Whether a large file is to be checked in the background."""
    newest = newest_backup(path)
    return has_journal(path) or newest is None or now - newest.when > GOOD_FOR


def refuse_damaged(path: Path) -> None:
    """Raise DamagedFileError where a page of a file that nobody has open is not sound."""
    with closing(look(path)) as connection:
        trouble = complaints(connection, "quick_check")
    if trouble:
        raise damaged(path, trouble)


class PageCheck:
    """The check of an open file; any thread may ask for it, and it runs once."""

    def __init__(self, path: Path, *, due: bool) -> None:
        self._path, self.due = path, due
        self._trouble = ""
        self._running, self._one = Lock(), Lock()
        self._connection: sqlite3.Connection | None = None
        self._stopped = False

    def run(self) -> None:
        """Check the file where that is due; raises DamagedFileError, now and ever after."""
        with self._one:
            if self.due and not self._stopped:
                self._trouble = self._look()
                self.due = False
        self.refuse()

    def refuse(self) -> None:
        """Raise DamagedFileError where a check has found the file damaged."""
        if self._trouble:
            raise damaged(self._path, self._trouble)

    def stop(self) -> None:
        """Let a check that is running go, since the file is being closed."""
        with self._running:
            self._stopped = True
            if self._connection is not None:
                self._connection.interrupt()

    def _look(self) -> str:
        with closing(raw_connection(self._path, any_thread=True)) as connection:
            with self._running:
                if self._stopped:
                    return ""
                self._connection = connection
            try:
                return complaints(connection, "quick_check")
            except sqlite3.OperationalError:
                if self._stopped:
                    return ""
                raise
            except sqlite3.DatabaseError as error:  # too damaged for the check to go on
                return str(error)
            finally:
                with self._running:
                    self._connection = None
