"""Backups that are made by themselves, what is in one, and putting one back.

The window calls `back_up_if_changed` at closing and `back_up_if_due` every hour or so; both keep
the newest of seven days, eight weeks and twenty-four months, in the folder `backups` beside the
practice file, and the same in a second folder where one was chosen.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from sennight.practice.opening import OpenPractice
from sennight.store import restoring
from sennight.store.backup_names import BackupFile, backups_folder, list_backups
from sennight.store.backups import copy_to, newest_backup, thin_out
from sennight.store.errors import BackupError
from sennight.store.marking import mark_of
from sennight.store.migrating import own_scripts
from sennight.store.restoring import Contents

__all__ = [
    "BackedUp",
    "BackupFile",
    "Contents",
    "back_up",
    "back_up_if_changed",
    "back_up_if_due",
    "backup_age",
    "backup_is_late",
    "backups_of",
    "contents_of",
    "is_of_another",
    "restore_backup",
    "save_copy",
]

DUE, LATE = timedelta(days=1), timedelta(days=2)
"""After how long another backup is made, and is told to be missing."""


@dataclass(frozen=True, slots=True)
class BackedUp:
    """A finished, checked backup, and its copy in the second folder.

    `trouble` says why there is no such copy though a folder was chosen; the backup stands.
    """

    path: Path
    second: Path | None = None
    trouble: str = ""


def back_up(practice: OpenPractice, second: Path | None = None) -> BackedUp:
    """Make a checked backup now, and remove those that have grown too old.

    Raises BackupError where it cannot be made.
    """
    path = practice.path
    backup = practice.file.back_up()
    thin_out(path, backups_folder(path), made=backup.name)
    if second is None:
        return BackedUp(backup)
    try:
        copy = copy_to(backup, second)
        thin_out(path, second, made=backup.name)
    except BackupError as error:
        return BackedUp(backup, trouble=str(error))
    return BackedUp(backup, copy)


def back_up_if_due(
    practice: OpenPractice, second: Path | None = None, *, now: datetime
) -> BackedUp | None:
    """Make a backup where the newest is a day old or there is none; raises BackupError."""
    age = backup_age(practice.path, now=now)
    return None if age is not None and age < DUE else back_up(practice, second)


def back_up_if_changed(practice: OpenPractice, second: Path | None = None) -> BackedUp | None:
    """Make a backup where something was saved since the newest; raises BackupError."""
    return back_up(practice, second) if practice.file.changed_since_backup() else None


def backup_age(path: Path, *, now: datetime) -> timedelta | None:
    """How old the newest good backup of a practice file is; None where there is none.

    Only finished backups count, and those were checked. `now` is aware.
    """
    newest = newest_backup(path)
    return None if newest is None else now - newest.when


def backup_is_late(path: Path, *, now: datetime) -> bool:
    """Whether the practitioner should be told that the newest good backup is over two days old."""
    age = backup_age(path, now=now)
    return age is None or age > LATE


def backups_of(path: Path, second: Path | None = None) -> tuple[BackupFile, ...]:
    """The finished backups of a practice file, newest first, in both folders."""
    folders = (backups_folder(path), *([second] if second else []))
    return list_backups(path, *folders)


def contents_of(path: Path, *, thoroughly: bool = False) -> Contents:
    """What a backup or practice file holds; not a byte of it is changed.

    `thoroughly` looks at every page and checksum, which takes a while for large files. Raises
    PracticeFileError where it is no practice file, is newer than the program or cannot be read.
    """
    return restoring.look_into(path, own_scripts(), thoroughly=thoroughly)


def is_of_another(path: Path, backup: Path) -> bool:
    """Whether a backup was made of another practice; False where that cannot be told."""
    marks = {mark_of(path), mark_of(backup)} - {""}
    return len(marks) > 1


def restore_backup(path: Path, backup: Path, *, now: datetime) -> Path | None:
    """Put a backup in the place of a practice file, which must be closed.

    Returns where the file that was there is kept. Raises PracticeFileError where the backup is
    not sound or the practice file is open; then nothing was changed.
    """
    return restoring.restore(path, backup, own_scripts(), now=now)


def save_copy(practice: OpenPractice, path: Path) -> None:
    """Save what is open as a copy under another name, also where its own file was lost.

    Raises BackupError; a file of that name is never replaced.
    """
    practice.file.save_copy(path)
