"""Whether the file under a name is still the one that was opened.

A synchronising program replaces files under an open window, a cleaning one removes them. SQLite
goes on writing into the file it has open, which nobody finds again, or mixes both.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sennight.store.backup_names import STAMP
from sennight.store.errors import LostFileError
from sennight.store.looking import journal
from sennight.store.private import with_journals

_WHAT_TO_DO = (
    "Nothing was saved. What is open here is still readable: save a copy of it under another "
    "name first, then close the window and check which of the two is the right one."
)


@dataclass(frozen=True, slots=True)
class Identity:
    """A file by the disk's own number of it, which a name does not have."""

    device: int
    inode: int


def identity_of(path: Path) -> Identity | None:
    """The identity of the file that now has this name, None where there is none."""
    try:
        status = path.stat()
    except OSError:
        return None
    return Identity(status.st_dev, status.st_ino)


def insist_same(path: Path, opened: Identity | None) -> None:
    """Raise LostFileError unless the file of this name is the one that was opened."""
    try:
        status = path.stat()
    except OSError as error:
        raise LostFileError(
            f"{path} is no longer there: it was moved, renamed or deleted. {_WHAT_TO_DO}"
        ) from error
    if Identity(status.st_dev, status.st_ino) != opened:
        raise LostFileError(
            f"{path} was replaced by another file, perhaps by a program that synchronises "
            f"folders. {_WHAT_TO_DO}"
        )
    if status.st_size == 0:
        raise LostFileError(f"{path} was emptied by another program. {_WHAT_TO_DO}")


Signature = tuple[tuple[int, int], ...]


def signature(path: Path) -> Signature:
    """Sizes and times of a database and its journal; another one after any save."""
    states = []
    for file in with_journals(path)[:2]:
        try:
            state = file.stat()
        except OSError:
            states.append((0, 0))
        else:
            states.append((state.st_size, state.st_mtime_ns))
    return tuple(states)


def set_journal_aside(path: Path, now: datetime) -> None:
    """Keep a journal of an earlier file from being played into the one that took its place."""
    aside = path.with_name(f"{path.stem} {now:{STAMP}} set aside{path.suffix}-wal")
    journal(path).replace(aside)
    with_journals(path)[2].unlink(missing_ok=True)
