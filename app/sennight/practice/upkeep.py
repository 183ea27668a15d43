"""How a practice file is: where it lies, how large it is, whether it is sound and backed up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from sennight import __version__
from sennight.practice.backups import LATE, contents_of
from sennight.store.backup_names import BackupFile, backups_folder, list_backups
from sennight.store.damage import newest_whole
from sennight.store.migrating import newest_schema, own_scripts
from sennight.store.private import readable_by_others, with_journals
from sennight.store.restoring import Contents

__all__ = ["BackupsHeld", "PracticeHealth", "practice_health"]


@dataclass(frozen=True, slots=True)
class BackupsHeld:
    """The finished backups in one folder, newest first."""

    folder: Path
    files: tuple[BackupFile, ...]

    @property
    def newest(self) -> BackupFile | None:
        """The newest of them."""
        return self.files[0] if self.files else None


@dataclass(frozen=True, slots=True)
class PracticeHealth:
    """All that a practitioner may want to know of their practice file; sizes are in bytes.

    `journal` is the size of the saves that wait beside the file. `whole_in` gives, for each
    damaged course, the newest backup that holds it whole. `age` is that of the newest backup
    beside the file. Where it was not `checked`, damage would not have been found.
    """

    contents: Contents
    journal: int
    newest_schema: str
    program: str
    private: bool
    backups: BackupsHeld
    second: BackupsHeld | None
    age: timedelta | None
    checked: bool
    whole_in: tuple[tuple[str, Path | None], ...]

    @property
    def sound(self) -> bool:
        """Whether no page, course, given paper or consultation is damaged."""
        held = self.contents
        papers = held.damaged_givings or held.damaged_consultations
        return not (held.trouble or held.damaged_courses or papers)

    @property
    def backed_up(self) -> bool:
        """Whether the newest backup is at most two days old."""
        return self.age is not None and self.age <= LATE


def practice_health(
    path: Path, *, now: datetime, second: Path | None = None, thoroughly: bool = True
) -> PracticeHealth:
    """Examine a practice file, open or not; nothing is changed.

    `thoroughly` looks at every page and checksum, which takes a while for a large file, so a
    window calls that in a thread; without it nothing is known of damage. `now` is aware. Raises
    PracticeFileError where it is no practice file, newer than the program, or cannot be read.
    """
    contents = contents_of(path, thoroughly=thoroughly)
    backups = BackupsHeld(backups_folder(path), list_backups(path))
    journal = with_journals(path)[1]
    return PracticeHealth(
        contents=contents,
        journal=journal.stat().st_size if journal.exists() else 0,
        newest_schema=newest_schema(own_scripts()),
        program=__version__,
        private=not any(
            map(readable_by_others, (path, *(backup.path for backup in backups.files)))
        ),
        backups=backups,
        second=BackupsHeld(second, list_backups(path, second)) if second else None,
        age=now - backups.newest.when if backups.newest else None,
        checked=thoroughly,
        whole_in=tuple(
            (course_id, newest_whole(path, course_id)) for course_id in contents.damaged_courses
        ),
    )
