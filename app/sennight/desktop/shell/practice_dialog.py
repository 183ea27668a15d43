"""“This practice”: where the file is and how it is, backups, another practice."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLabel, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_for_file, ask_for_folder
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import button, text_label
from sennight.desktop.kit.wrapped_row import WrappedRow
from sennight.desktop.shell.health_words import health_rows
from sennight.desktop.shell.opening import Reopening
from sennight.desktop.shell.restore_dialog import ask_for_backup
from sennight.desktop.shell.settings import Settings
from sennight.practice.backups import back_up, backups_of
from sennight.practice.opening import OpenPractice, PracticeFileError
from sennight.practice.upkeep import PracticeHealth, practice_health


class PracticeDialog(FormDialog):
    """Shows how the practice is; `reopening` is set where another file or a backup is wanted.

    Every page is looked at in the background, so that a large practice does not keep it waiting.
    """

    _checked = Signal(object)

    def __init__(self, parent: QWidget | None, practice: OpenPractice, settings: Settings) -> None:
        super().__init__(parent, self.tr("This practice"), do=self.tr("Close"))
        self._practice, self._settings = practice, settings
        self.reopening: Reopening | None = None
        self.leave_button.hide()
        self._make_body()
        self._make_foot()
        self._checked.connect(self._show)
        self._load()

    def _make_body(self) -> None:
        body = QWidget()
        self._form = QFormLayout(body)
        self._form.setContentsMargins(0, 0, 0, 0)
        self._form.setHorizontalSpacing(self.fontMetrics().height())
        self.labels: dict[str, QLabel] = {}
        self.set_body(body, columns=98, lines=28)

    def _make_foot(self) -> None:
        doing: tuple[tuple[str, Callable[[], object]], ...] = (
            (self.tr("Back up now"), self.back_up),
            (self.tr("Restore a backup…"), self.restore),
            (self.tr("Second backup folder…"), self.choose_folder),
            (self.tr("Open another practice…"), self.open_another),
        )
        row = WrappedRow()
        row.setSpacing(self.fontMetrics().height() // 2)
        for text, do in doing:
            foot_button = button(text)
            foot_button.clicked.connect(do)
            row.addWidget(foot_button)
        self.foot.addLayout(row)

    def _load(self) -> None:
        """Show what is known at once, and look at every page in the background."""
        try:
            self._show(self._health(thoroughly=False))
        except PracticeFileError as error:
            self._show(error)
            return
        self._thread = Thread(target=self._check, name="health")
        self._thread.start()

    def _health(self, *, thoroughly: bool) -> PracticeHealth:
        return practice_health(
            self._practice.path,
            now=datetime.now(UTC),
            second=self._settings.second_folder,
            thoroughly=thoroughly,
        )

    def _check(self) -> None:
        try:
            self._checked.emit(self._health(thoroughly=True))
        except PracticeFileError as error:
            self._checked.emit(error)

    def _show(self, health: PracticeHealth | PracticeFileError) -> None:
        if isinstance(health, PracticeFileError):
            rows: tuple[tuple[str, str], ...] = ((self.tr("Damage"), str(health)),)
        else:
            rows = health_rows(health)
        for name, text in rows:
            if name not in self.labels:
                self.labels[name] = text_label("", wrap=True)
                self._form.addRow(text_label(name, Role.QUIET), self.labels[name])
            self.labels[name].setText(text)

    # What can be done

    def back_up(self) -> None:
        """Make a backup now, and tell where it is."""
        try:
            backup = back_up(self._practice, self._settings.second_folder)
        except PracticeFileError as error:
            message_dialog(self, self.tr("No backup could be made"), str(error)).exec()
            return
        text = self.tr("It was opened and compared with the practice: {path}").format(
            path=backup.path
        )
        message_dialog(self, self.tr("The backup is made"), backup.trouble or text).exec()
        self._load_again()

    def restore(self) -> None:
        """Ask for a backup; it is restored once the practice is closed."""
        backups = backups_of(self._practice.path, self._settings.second_folder)
        if not backups:
            text = self.tr("One is made when the program closes and once a day.")
            message_dialog(self, self.tr("There is no backup yet"), text).exec()
            return
        chosen = ask_for_backup(self, backups)
        if chosen is not None:
            self._leave_for(Reopening(self._practice.path, chosen))

    def choose_folder(self) -> None:
        """Ask for the folder that each backup is copied to."""
        now = self._settings.second_folder or Path.home()
        folder = ask_for_folder(self, self.tr("Second backup folder"), str(now))
        if folder:
            self._settings.second_folder = folder
            self._settings.flush()
            self._load_again()

    def open_another(self) -> None:
        """Ask for another practice file."""
        path = ask_for_file(self, self.tr("Open a practice"), self._practice.path.parent)
        if path:
            self._leave_for(Reopening(path))

    def _leave_for(self, reopening: Reopening) -> None:
        self.reopening = reopening
        self.accept()

    def _load_again(self) -> None:
        self._thread.join()
        self._load()

    def done(self, result: int) -> None:
        """Leave, once the background has let the file go."""
        thread = getattr(self, "_thread", None)
        if thread is not None:
            thread.join()
        super().done(result)
