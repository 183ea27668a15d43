"""The hold on an open practice file: that it is still the same file, and still ours alone."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

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
        """Remember how a save of ours left the file."""
        self._left = signature(self._path)
        if self._journal is None:
            self._journal = identity_of(journal(self._path))

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
