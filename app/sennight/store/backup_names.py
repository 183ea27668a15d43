"""The names of backups: `practice 2027-05-01 080000 5f0a4e0d.sennight`, with the time in UTC.

The eight figures are the practice's mark (`marking`): two practices of one name may keep their
backups in one folder. One made before a migration says so (`… before 0004.sennight`), so that it
is kept when the others grow old.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sennight.store.marking import mark_of

STAMP = "%Y-%m-%d %H%M%S"


@dataclass(frozen=True, slots=True)
class BackupFile:
    """A finished backup: it got its name when it was checked. `when` is in UTC."""

    path: Path
    when: datetime
    before_migration: bool = False


def backups_folder(path: Path) -> Path:
    """The folder of a practice file's backups, beside it."""
    return path.parent / "backups"


def free_name(folder: Path, path: Path, when: datetime, *, ending: str = "") -> Path:
    """A name for a copy of a practice file that none in the folder has."""
    mark, number = mark_of(path), 1
    stamp = f"{path.stem} {when.astimezone(UTC):{STAMP}}{mark and f' {mark}'}"
    final = folder / f"{stamp}{ending}{path.suffix}"
    while final.exists():
        number += 1
        final = folder / f"{stamp} {number}{ending}{path.suffix}"
    return final


def list_backups(path: Path, *folders: Path) -> tuple[BackupFile, ...]:
    """The finished backups of a practice file in these folders, newest first.

    In a folder that is not the file's own, those of another practice of the same name are left
    out; where the file is gone or damaged, nobody can tell them apart.
    """
    name = re.compile(
        rf"{re.escape(path.stem)} (?P<time>\d{{4}}-\d\d-\d\d \d{{6}})(?: (?P<mark>[0-9a-f]{{8}}))?"
        rf"(?: \d{{1,7}})?(?P<before> before \w+)?{re.escape(path.suffix)}"
    )
    mark, backups = mark_of(path), []
    for folder in dict.fromkeys(folders or (backups_folder(path),)):
        is_shared = bool(mark) and folder != backups_folder(path)
        for entry in folder.iterdir() if folder.is_dir() else ():
            match = name.fullmatch(entry.name)
            when = _time(match["time"]) if match else None
            if match and when and not (is_shared and match["mark"] != mark):
                backups.append(BackupFile(entry, when, before_migration=bool(match["before"])))
    return tuple(sorted(backups, key=lambda backup: (backup.when, backup.path.name), reverse=True))


def _time(stamp: str) -> datetime | None:
    try:
        return datetime.fromisoformat(stamp).replace(tzinfo=UTC)
    except ValueError:
        return None


DAYS, WEEKS, MONTHS = 7, 8, 24
"""Of how many days, weeks and months the newest backup is kept."""


def kept(backups: Sequence[BackupFile]) -> frozenset[BackupFile]:
    """The backups that stay: the newest of each of the last days, weeks and months that have any.

    Those made before a migration stay for good: they are what an older program can open.
    """
    for_good = {backup for backup in backups if backup.before_migration}
    ordinary = sorted(set(backups) - for_good, key=lambda backup: backup.when, reverse=True)
    newest = (
        _newest_of_each(ordinary, lambda backup: backup.when.date(), DAYS),
        _newest_of_each(ordinary, lambda backup: backup.when.isocalendar()[:2], WEEKS),
        _newest_of_each(ordinary, lambda backup: (backup.when.year, backup.when.month), MONTHS),
    )
    return frozenset(for_good.union(*newest))


def _newest_of_each(
    newest_first: Iterable[BackupFile], period: Callable[[BackupFile], Hashable], count: int
) -> list[BackupFile]:
    newest: dict[Hashable, BackupFile] = {}
    for backup in newest_first:
        newest.setdefault(period(backup), backup)
    return list(newest.values())[:count]


def part_of(final: Path) -> Path:
    """The name under which a copy is written before it gets its own."""
    return final.with_name(f"{final.name}.part")


def parts(path: Path, folder: Path) -> tuple[Path, ...]:
    """Copies of a practice file in a folder that a killed program left unfinished.

    In a folder that is not the file's own, another practice may be at one of the same name.
    """
    mark = "" if folder == backups_folder(path) else f" {mark_of(path)}"
    return tuple(
        entry
        for entry in (folder.iterdir() if folder.is_dir() else ())
        if entry.name.startswith(f"{path.stem} ")
        and mark in entry.name
        and entry.name.endswith(f"{path.suffix}.part")
    )
