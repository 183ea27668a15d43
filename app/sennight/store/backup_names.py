"""The names of backups: `practice 2027-05-01 080000.sennight`, with the time in UTC.

One made before a migration says so (`… 080000 before 0004.sennight`), so that it is kept when the
others grow old.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

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
    stamp, number = f"{path.stem} {when.astimezone(UTC):{STAMP}}", 1
    final = folder / f"{stamp}{ending}{path.suffix}"
    while final.exists():
        number += 1
        final = folder / f"{stamp} {number}{ending}{path.suffix}"
    return final


def list_backups(path: Path, *folders: Path) -> tuple[BackupFile, ...]:
    """The finished backups of a practice file in these folders, newest first."""
    name = re.compile(
        rf"{re.escape(path.stem)} (\d{{4}}-\d\d-\d\d \d{{6}})(?: \d+)?( before \w+)?"
        rf"{re.escape(path.suffix)}"
    )
    backups = []
    for folder in dict.fromkeys(folders or (backups_folder(path),)):
        for entry in folder.iterdir() if folder.is_dir() else ():
            match = name.fullmatch(entry.name)
            when = _time(match[1]) if match else None
            if match and when:
                backups.append(BackupFile(entry, when, before_migration=match[2] is not None))
    return tuple(sorted(backups, key=lambda backup: (backup.when, backup.path.name), reverse=True))


def _time(stamp: str) -> datetime | None:
    try:
        return datetime.strptime(stamp, STAMP).replace(tzinfo=UTC)
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
    """Copies of a practice file in a folder that a killed program left unfinished."""
    return tuple(
        entry
        for entry in (folder.iterdir() if folder.is_dir() else ())
        if entry.name.startswith(f"{path.stem} ") and entry.name.endswith(f"{path.suffix}.part")
    )
