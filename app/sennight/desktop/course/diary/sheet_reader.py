"""Photos read one after the other off the window's thread, with progress, until stopped."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from threading import Event

from PySide6.QtCore import QObject, QThreadPool, Signal

from sennight.desktop.kit.background import Job, JobSignals
from sennight.practice.sheet_pages import Grid, SeenPage, SheetFileError, Unread, pages_in


class SheetReader(QObject):
    """Reads photos; `seen` brings each page, `progressed` that `count` of
    `total` files are done.

    `refused` says why a file could not be opened. One page is read at a time: it takes half a
    second and 200 MB.
    """

    seen = Signal(object)
    refused = Signal(str)
    progressed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._signals = JobSignals()
        self._signals.done.connect(self._done)
        self._stopped = Event()
        self.count, self.total, self._run = 0, 0, 0

    @property
    def is_reading(self) -> bool:
        """Whether photos are still to be read."""
        return self.count < self.total

    def read(self, photos: Sequence[Path], grids: Sequence[Grid]) -> None:
        """Read photos behind those that are being read."""
        if not self.is_reading:
            self.count, self.total, self._stopped = 0, 0, Event()
            self._run += 1
        for photo in photos:
            self.total += 1
            work = partial(_pages, photo, grids, self._stopped.is_set)
            self._pool.start(Job(self._run, work, self._signals))
        self.progressed.emit()

    def stop(self) -> None:
        """Read no more; the page that is being read is finished and left out."""
        self._stopped.set()
        self._pool.clear()
        self.count = self.total
        self.progressed.emit()

    def finish(self) -> None:
        """Stop, and wait for the page that is being read: a second at most."""
        self.stop()
        self._pool.waitForDone()

    def _done(self, number: int, result: object) -> None:
        if self._stopped.is_set() or number != self._run:
            return
        self.count += 1
        match result:
            case list():
                for page in result:
                    self.seen.emit(page)
            case _:
                self.refused.emit(str(result))
        self.progressed.emit()


def _pages(
    photo: Path, grids: Sequence[Grid], is_stopped: Callable[[], bool]
) -> list[SeenPage | Unread] | str:
    """The pages of a file, or why it cannot be opened."""
    pages = list[SeenPage | Unread]()
    try:
        for page in pages_in(photo, grids):
            pages.append(page)
            if is_stopped():
                break
    except SheetFileError as error:
        return str(error)
    return pages
