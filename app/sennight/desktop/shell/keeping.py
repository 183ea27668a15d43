"""Keeps the practice backed up while the window is open, and says what the user should know."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from threading import Thread

from PySide6.QtCore import QObject, QTimer, Signal

from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.settings import Settings
from sennight.practice.backups import (
    BackedUp,
    back_up_if_changed,
    back_up_if_due,
    backup_age,
    backup_is_late,
)
from sennight.practice.opening import OpenPractice, PracticeFileError, check_pages

HOUR = 3_600_000
"""Milliseconds from one look whether a backup is due to the next."""


def utc_now() -> datetime:
    """The time, in UTC."""
    return datetime.now(UTC)


class Keeper(QObject):
    """Looks every hour whether a backup is due, and makes it beside the window's own work.

    `status_message` has what went wrong, `standing` what is told for as long as it is so: that
    the last good backup is over two days old, or nothing.
    """

    status_message = Signal(str)
    standing = Signal(str)
    _done = Signal(object)

    def __init__(
        self,
        practice: OpenPractice,
        settings: Settings,
        *,
        now: Callable[[], datetime] = utc_now,
    ) -> None:
        super().__init__()
        self._practice, self._settings, self._now = practice, settings, now
        self._thread: Thread | None = None
        self._busy = False
        self._timer = QTimer(self)
        self._timer.setInterval(HOUR)
        self._timer.timeout.connect(self.look)
        self._done.connect(self._tell)

    def start(self) -> None:
        """Look now and then every hour."""
        self._timer.start()
        self._tell_age()
        self.look()

    def look(self) -> None:
        """Make a backup in the background where one is due and none is being made."""
        if not self._busy:
            self._busy = True
            self._thread = Thread(target=self._back_up, name="backup")
            self._thread.start()

    def close(self) -> str:
        """Wait for a backup that is being made, and make one if anything changed since.

        What went wrong, or nothing; the practice must still be open.
        """
        self._timer.stop()
        self._practice.file.stop_checking()
        if self._thread is not None:
            self._thread.join()
        try:
            backup = back_up_if_changed(self._practice, self._settings.second_folder)
        except PracticeFileError as error:
            return str(error)
        return backup.trouble if backup else ""

    def _back_up(self) -> None:
        """In the thread: nothing but what is sent by the signal may leave it."""
        trouble = check_pages(self._practice)
        if trouble:
            self._done.emit(trouble)
            return
        try:
            backup = back_up_if_due(self._practice, self._settings.second_folder, now=self._now())
        except PracticeFileError as error:
            self._done.emit(str(error))
        else:
            self._done.emit(backup)

    def _tell(self, result: BackedUp | str | None) -> None:
        self._busy = False
        trouble = result if isinstance(result, str) else result.trouble if result else ""
        if trouble:
            self.status_message.emit(trouble)
        self._tell_age()

    def _tell_age(self) -> None:
        now = self._now()
        age = backup_age(self._practice.path, now=now)
        if age is None or not backup_is_late(self._practice.path, now=now):
            self.standing.emit("")
        else:
            text = translate("Keeping", "The last good backup is {count} days old.")
            self.standing.emit(text.format(count=age.days))
