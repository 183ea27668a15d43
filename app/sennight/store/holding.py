"""The hold on an open practice file: that it is still the same file, and still ours alone."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sennight.store.backup_names import BackupFile
from sennight.store.errors import FileInUseError, LostFileError
from sennight.store.identity import (
    Identity,
    Signature,
    identity_of,
    insist_same,
    set_journal_aside,
    signature,
)
from sennight.store.locks import FileLock
from sennight.store.looking import journal

_CLOSING = timedelta(minutes=10)
"""How long after its last backup a practice file may still be written to by being closed."""

_OPEN_AGAIN = "Nothing was saved. Close this window, then open the practice again."


class Hold:
    """What is compared before each save with how the file was when it was opened."""

    def __init__(self, path: Path, lock: FileLock) -> None:
        """Takes the lock over, which must be held, and the file that now has the name."""
        self._path, self._lock = path, lock
        self._opened = identity_of(path)
        self._left: Signature = signature(path)
        self._journal: Identity | None = None
        self._shared = False
        self.saves, self._backed_up = 0, 0
        self._changed_before: datetime | None = _changed(path)

    def insist(self) -> None:
        """Raise LostFileError where the file or the lock is not what it was."""
        insist_same(self._path, self._opened)
        if not self._shared and not self._lock.held():
            self._take_lock_again()
        if self._shared:
            raise LostFileError(
                f"{self._path} was changed in another window meanwhile, since its lock was "
                f"removed. {_OPEN_AGAIN}"
            )

    def saved(self) -> None:
        """Count a save of ours, and remember how it left the file."""
        self.wrote()
        self.saves += 1

    def wrote(self) -> None:
        """Remember how something written by us left the file."""
        self._left = signature(self._path)
        if self._journal is None:
            self._journal = identity_of(journal(self._path))

    @contextmanager
    def backing_up(self) -> Iterator[None]:
        """What was saved until now is in the backup that the block makes."""
        saves = self.saves
        yield
        self._backed_up, self._changed_before = saves, None

    def changed_since(self, newest: BackupFile | None) -> bool:
        """Whether something was saved since that backup, in this run or an earlier one."""
        earlier = self._changed_before
        return (
            newest is None
            or self.saves > self._backed_up
            or (earlier is not None and earlier > newest.when + _CLOSING)
        )

    def release(self, now: datetime) -> None:
        """Let others have the file, once all is closed; a second time does nothing.

        SQLite leaves its journal where the file was replaced meanwhile, and would play it into
        the one that took its place at the next opening.
        """
        ours = self._journal is not None and self._journal == identity_of(journal(self._path))
        if ours and identity_of(self._path) != self._opened:
            set_journal_aside(self._path, now)
        self._lock.release()

    def _take_lock_again(self) -> None:
        """The lock's file was removed, by a cleaning program perhaps; another may have come in."""
        try:
            self._lock.take_again(self._path)
        except FileInUseError as error:
            raise LostFileError(
                f"{self._path} was opened in another window meanwhile, since its lock was "
                f"removed. {_OPEN_AGAIN}"
            ) from error
        self._shared = signature(self._path) != self._left


def _changed(path: Path) -> datetime:
    """When the file or its journal was last written."""
    return datetime.fromtimestamp(max(time for _, time in signature(path)) / 1e9, UTC)
