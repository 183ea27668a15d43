"""Owner-only files and folders: a practice file holds health records.

On POSIX systems a folder gets the mode 0700 and a file 0600, whatever the umask is. SQLite gives
`-wal` and `-shm` the mode of the file they belong to, so a file must be private before it is
opened. Windows has no such modes: there a file in the user's own profile is readable by its owner
and by administrators, and one elsewhere by whom its folder allows.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

FILE_MODE, FOLDER_MODE = 0o600, 0o700
_OTHERS = 0o077


def make_private_folder(folder: Path) -> None:
    """Make a folder that its owner alone can enter, or make one that is there so."""
    folder.mkdir(mode=FOLDER_MODE, parents=True, exist_ok=True)
    _set_mode(folder, FOLDER_MODE)


def make_private_file(path: Path) -> None:
    """Make a new empty file that its owner alone can read; raises FileExistsError."""
    os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, FILE_MODE))


def make_private(paths: Iterable[Path]) -> None:
    """Make files readable by their owner alone; what is not there or not ours stays as it is."""
    for path in paths:
        _set_mode(path, FILE_MODE)


def readable_by_others(path: Path) -> bool:
    """Whether the mode lets others than the owner in; never so on Windows, which has none."""
    if sys.platform == "win32":
        return False
    try:
        return bool(path.stat().st_mode & _OTHERS)
    except OSError:
        return False


def _set_mode(path: Path, mode: int) -> None:
    if sys.platform != "win32":
        with suppress(OSError):
            if path.stat().st_mode & _OTHERS:
                path.chmod(mode)


def with_journals(path: Path) -> tuple[Path, ...]:
    """A database and the files that SQLite keeps beside it."""
    return tuple(path.with_name(path.name + end) for end in ("", "-wal", "-shm", "-journal"))
