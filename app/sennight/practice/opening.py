"""Opening, closing and backing up a practice file."""

from __future__ import annotations

from pathlib import Path
from types import TracebackType

from sennight.practice.work_folder import clear_work
from sennight.store.errors import (
    BackupError,
    DamagedCourseError,
    DamagedFileError,
    FileInUseError,
    LostFileError,
    MissingFileError,
    MissingRecordError,
    NewerFileError,
    PracticeFileError,
)
from sennight.store.files import Clock, PracticeFile, open_file, utc_now
from sennight.store.preparing import Beginning
from sennight.store.private import make_private_folder

__all__ = [
    "BackupError",
    "Beginning",
    "DamagedCourseError",
    "DamagedFileError",
    "FileInUseError",
    "LostFileError",
    "MissingFileError",
    "MissingRecordError",
    "NewerFileError",
    "OpenPractice",
    "PracticeFileError",
    "back_up_practice",
    "check_pages",
    "open_practice",
    "private_folder",
]


class OpenPractice:
    """An open practice file; a context manager that closes it at the end of the block."""

    def __init__(self, file: PracticeFile) -> None:
        self.file = file
        self._closed = False

    @property
    def path(self) -> Path:
        """Where the practice file is."""
        return self.file.path

    @property
    def changes(self) -> int:
        """How many saves were made since it was opened: what was read before one is old."""
        return self.file.saves

    def close(self) -> None:
        """Close the file and let others have it; a second time does nothing."""
        if not self._closed:
            self._closed = True
            clear_work(self.path)
        self.file.close()

    def __enter__(self) -> OpenPractice:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def open_practice(
    path: Path,
    *,
    clock: Clock = utc_now,
    beginning: Beginning = Beginning.WHERE_NOTHING_WAS,
) -> OpenPractice:
    """Open a practice file, a new one where there is none.

    Where there is none, or an empty one, but backups or a journal of an earlier one lie beside
    it, MissingFileError is raised; so it is where the file is known and a practice may never
    begin there. ANEW is the practitioner's own answer that one is to begin.

    An older file is backed up and brought up to date. Raises PracticeFileError (NewerFileError,
    DamagedFileError, FileInUseError, BackupError), whose message says what to do; the file is
    then as it was. `clock` gives the time that records are stamped with. Papers whose writing was
    cut off by a kill are then written whole or not there at all.
    """
    file = open_file(path, clock=clock, beginning=beginning)
    clear_work(file.path)
    return OpenPractice(file)


def check_pages(practice: OpenPractice) -> str:
    """Check every page of an open file where that is due; what is wrong, or nothing.

    A large file is checked after the program was killed and once a week, and the first save
    waits for it. It takes seconds, so the window calls this in a thread once it stands; where
    the file is damaged every save is refused in the same words.
    """
    try:
        practice.file.check_pages()
    except PracticeFileError as error:
        return str(error)
    return ""


def private_folder(folder: Path) -> Path:
    """The folder, made if need be, with its owner alone let in; raises PracticeFileError."""
    try:
        make_private_folder(folder)
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise PracticeFileError(
            f"the folder {folder} cannot be made ({why}); check the folders above it, or name a "
            "practice file elsewhere"
        ) from error
    return folder


def back_up_practice(practice: OpenPractice, folder: Path | None = None) -> Path:
    """A checked copy of the practice file, in the `backups` folder beside it or another."""
    return practice.file.back_up(folder)
