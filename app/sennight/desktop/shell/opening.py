"""Opening the practice, and what to do where that fails."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from sennight.desktop.kit.file_dialogs import ask_for_file
from sennight.desktop.kit.short_dialogs import message_dialog, pick_option
from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.restore_dialog import ask_for_backup, restored_words
from sennight.desktop.shell.settings import usual_path
from sennight.practice.backups import backups_of, restore_backup
from sennight.practice.opening import (
    Beginning,
    FileInUseError,
    MissingFileError,
    OpenPractice,
    PracticeFileError,
    open_practice,
    private_folder,
)


@dataclass(frozen=True, slots=True)
class Reopening:
    """The practice to open in place of the one that is open, after a backup is restored to it.

    It is the practitioner's own, which may not be begun yet, where the demo is left for it.
    """

    path: Path
    backup: Path | None = None
    is_own: bool = False


def opened(path: Path, *, known: bool = False, second: Path | None = None) -> OpenPractice | None:
    """The practice file, or what the user chooses where it cannot be opened.

    Where it is `known`, it was opened before, so that none is begun in its place. `second` is
    the second folder of its backups.
    """
    beginning = Beginning.NEVER if known else Beginning.WHERE_NOTHING_WAS
    while True:
        try:
            if path == usual_path():
                private_folder(path.parent)
            return open_practice(path, beginning=beginning)
        except PracticeFileError as error:
            answer = _Trouble(path, error, second).ask()
        if answer is None:
            return None
        path, beginning = answer


def restored(path: Path, backup: Path) -> str:
    """Put a backup in the place of a closed practice; what to say of it."""
    try:
        aside = restore_backup(path, backup, now=datetime.now(UTC))
    except PracticeFileError as error:
        message_dialog(
            None, translate("Opening", "The backup could not be restored"), str(error)
        ).exec()
        return ""
    return restored_words(path, aside)


class _Trouble:
    """A file that cannot be opened, and the ways on from there."""

    def __init__(self, path: Path, error: PracticeFileError, second: Path | None) -> None:
        self._path, self._error = path, error
        backups = () if isinstance(error, FileInUseError) else backups_of(path, second)
        self._backups = backups
        self._ways = {
            translate("Opening", "Restore a backup"): self._restore if backups else None,
            translate("Opening", "Open another file"): self._another,
            translate("Opening", "Create a new practice"): self._begin
            if isinstance(error, MissingFileError)
            else None,
        }

    def ask(self) -> tuple[Path, Beginning] | None:
        """The file to try instead and whether it may be begun; None to leave."""
        ways = {text: way for text, way in self._ways.items() if way is not None}
        picked = pick_option(
            None,
            (translate("Opening", "The practice cannot be opened"), str(self._error)),
            tuple(ways),
            stay=translate("Opening", "Quit"),
        )
        return None if picked is None else list(ways.values())[picked]()

    def _restore(self) -> tuple[Path, Beginning] | None:
        backup = ask_for_backup(None, self._backups)
        if backup is not None:
            restored(self._path, backup)
        return self._path, Beginning.NEVER

    def _begin(self) -> tuple[Path, Beginning]:
        return self._path, Beginning.ANEW

    def _another(self) -> tuple[Path, Beginning] | None:
        title = translate("Opening", "Open a practice")
        path = ask_for_file(None, title, self._path.parent)
        return (path, Beginning.WHERE_NOTHING_WAS) if path else None
