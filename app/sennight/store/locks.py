"""The lock that keeps a second window or program off a practice file.

It is the operating system's lock on a small file beside the practice file, so it goes when the
process does, however that ends. (A lock on the practice file itself would meddle with
SQLite's own.) The small file goes too when the practice file is closed.
"""

from __future__ import annotations

import errno
import os
import sys
from contextlib import suppress
from pathlib import Path

from sennight.store.errors import FileInUseError, PracticeFileError

if sys.platform == "win32":
    import msvcrt

    def _hold(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _hold(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


_HELD = (errno.EACCES, errno.EAGAIN, errno.EWOULDBLOCK, errno.EDEADLK)
"""How the systems say that another has the lock."""


class FileLock:
    """The lock on one practice file, held from creation to `release`."""

    def __init__(self, path: Path) -> None:
        """Raises FileInUseError where another holds it, PracticeFileError where it cannot be."""
        self._beside = path.with_name(f"{path.name}.lock")
        self._handle: int | None = None
        while self._handle is None:
            self._handle = self._try(path)

    def _try(self, path: Path) -> int | None:
        """A handle that holds the lock; None where the file was removed meanwhile."""
        try:
            handle = os.open(self._beside, os.O_RDWR | os.O_CREAT, 0o600)
        except OSError as error:
            raise PracticeFileError(
                f"{path.parent} cannot be written to ({error.strerror}); "
                "choose a folder of your own for the practice file"
            ) from error
        try:
            _hold(handle)
        except OSError as error:
            os.close(handle)
            if error.errno not in _HELD:
                raise PracticeFileError(
                    f"{path.parent} is on a disk that cannot lock files ({error.strerror}); keep "
                    "the practice file on a disk of this computer"
                ) from error
            raise FileInUseError(
                f"{path} is already open in another window or on another computer. "
                "Close it there, then open it here."
            ) from error
        if self._is_still(handle):
            return handle
        os.close(handle)
        return None

    def _is_still(self, handle: int) -> bool:
        """Whether the locked file is the one that others see under its name."""
        try:
            return os.path.samestat(os.fstat(handle), self._beside.stat())
        except FileNotFoundError:
            return False

    def held(self) -> bool:
        """Whether the lock is held and still the one that others see."""
        return self._handle is not None and self._is_still(self._handle)

    def take_again(self, path: Path) -> None:
        """Take the lock anew where its file was removed or replaced; raises as at first."""
        lost, self._handle = self._handle, None
        if lost is not None:
            os.close(lost)
        while self._handle is None:
            self._handle = self._try(path)

    def release(self) -> None:
        """Let go; a second time does nothing."""
        if self._handle is None:
            return
        handle, self._handle = self._handle, None
        with suppress(OSError):
            self._beside.unlink()
        os.close(handle)
        with suppress(OSError):
            if sys.platform == "win32":
                self._beside.unlink()
