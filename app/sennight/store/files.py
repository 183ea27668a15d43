"""An open practice file: reading, writing, closing.

To open one means, in this order: is the place usable; is the file ours alone; is it there, sound,
a practice file and not newer than the program; then, if it is older, a checked backup and the
migration (`preparing`). Whatever fails, the file stays as it was.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Engine

from sennight.store.backup_names import backups_folder, list_backups
from sennight.store.backups import back_up, copy_checked, newest_backup
from sennight.store.connecting import connect_engine
from sennight.store.errors import BackupError
from sennight.store.holding import Hold
from sennight.store.locks import FileLock
from sennight.store.marking import mark_existing
from sennight.store.migrating import own_scripts
from sennight.store.page_check import PageCheck
from sennight.store.preparing import Beginning, bring_up_to_date, check_place
from sennight.store.private import make_private, make_private_folder, with_journals
from sennight.store.translated_errors import translated_errors
from sennight.store.unit import UnitOfWork, unit_of_work

Clock = Callable[[], datetime]


def utc_now() -> datetime:
    """The time, in UTC."""
    return datetime.now(UTC)


@dataclass(frozen=True, slots=True)
class PracticeFile:
    """An open practice file, ours alone until it is closed."""

    path: Path
    clock: Clock
    _engine: Engine = field(repr=False)
    _hold: Hold = field(repr=False)
    _check: PageCheck = field(repr=False)

    def reading(self) -> AbstractContextManager[UnitOfWork]:
        """A transaction that only reads."""
        return unit_of_work(self._engine, self.path, writes=False)

    @contextmanager
    def writing(self) -> Iterator[UnitOfWork]:
        """A transaction that writes: kept whole at the end of the block, or not at all.

        Raises LostFileError where the file under its name is no longer the one that was opened,
        DamagedFileError where its pages were found damaged. A check of them that is due is
        waited for.
        """
        self._hold.insist()
        self.check_pages()
        with unit_of_work(self._engine, self.path, writes=True) as unit:
            yield unit
        self._hold.saved()

    @contextmanager
    def noting(self) -> Iterator[UnitOfWork]:
        """A transaction that writes drafts alone, or what follows from records.

        It is no save: nothing read before has become old, and no backup is due for it. It does
        not wait for a check of the pages either, since words that were typed are lost meanwhile.
        """
        self._hold.insist()
        self._check.refuse()
        with unit_of_work(self._engine, self.path, writes=True) as unit:
            yield unit
        self._hold.wrote()

    def back_up(self, folder: Path | None = None) -> Path:
        """A checked copy, in the `backups` folder beside the file or another."""
        self._hold.insist()
        with self._hold.backing_up():
            return back_up(self.path, now=self.clock(), folder=folder)

    @property
    def saves(self) -> int:
        """How many transactions wrote since it was opened."""
        return self._hold.saves

    @property
    def check_due(self) -> bool:
        """Whether the pages are still to be checked."""
        return self._check.due

    def check_pages(self) -> None:
        """Check every page where that is due, in any thread; raises DamagedFileError."""
        with translated_errors(self.path):
            self._check.run()

    def stop_checking(self) -> None:
        """Let a check that runs in another thread go."""
        self._check.stop()

    def changed_since_backup(self) -> bool:
        """Whether something was saved that the newest backup does not hold."""
        return self._hold.changed_since(newest_backup(self.path))

    def save_copy(self, path: Path) -> None:
        """A checked copy of what is open, also where the file itself was deleted or replaced.

        Raises BackupError; a file of that name is never replaced.
        """
        if path.exists():
            raise BackupError(f"{path} is there already; choose another name for the copy")
        try:
            with self._engine.connect() as connection:
                source = connection.connection.driver_connection
                if not isinstance(source, sqlite3.Connection):
                    raise TypeError("the engine is SQLite's")
                copy_checked(source, path)
        except (OSError, sqlite3.Error) as error:
            raise BackupError(
                f"No copy could be made at {path} ({error}). Choose another folder."
            ) from error

    def close(self) -> None:
        """Close the file and let others have it; a second time does nothing."""
        self._check.stop()
        self._engine.dispose()
        self._hold.release(self.clock())


def open_file(
    path: Path,
    *,
    scripts: Path | None = None,
    clock: Clock = utc_now,
    beginning: Beginning = Beginning.WHERE_NOTHING_WAS,
) -> PracticeFile:
    """Open a practice file, a new one where there is none; raises PracticeFileError.

    Where there is none but something of an earlier one lies there, MissingFileError is raised,
    unless the practice is to begin anew.
    """
    path = path.resolve()
    check_place(path)
    lock = FileLock(path)
    try:
        with translated_errors(path):
            due = bring_up_to_date(path, scripts or own_scripts(), clock, beginning=beginning)
            mark_existing(path)
            _make_private(path)
        hold, check = Hold(path, lock), PageCheck(path, due=due)
        return PracticeFile(path, clock, connect_engine(path), hold, check)
    except BaseException:
        lock.release()
        raise


def _make_private(path: Path) -> None:
    """Let the owner alone read the file and its backups, as earlier versions did not."""
    make_private((*with_journals(path), *(backup.path for backup in list_backups(path))))
    if backups_folder(path).is_dir():
        make_private_folder(backups_folder(path))
