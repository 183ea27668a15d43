"""What the window does once it is there: it gets ready for what may be wanted next.

Pages are made, and their modules imported, when they are first gone to. Most of that time is saved
by importing them in the meantime, one module a turn, so that what is typed has its turn too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from importlib import import_module
from pkgutil import walk_packages

from PySide6.QtCore import QObject, QTimer

import sennight.domain
from sennight.desktop import (
    clients,
    course,
    dispensary,
    intake,
    kit,
    materia_medica,
    parts,
    protocols,
    red_flags,
    remedies,
    shell,
)

BEGIN_MS = 300
"""The window is drawn and has the keyboard by then."""

PACKAGES = (
    *(sennight.domain, kit, parts, red_flags, intake),
    *(clients, course, protocols, remedies, materia_medica, dispensary, shell),
)
"""Lower layers first, so that each turn imports little."""


def module_steps() -> Iterator[Callable[[], object]]:
    """One step for each module of the pages that may be gone to."""
    for package in PACKAGES:
        for found in walk_packages(package.__path__, f"{package.__name__}."):
            yield partial(import_module, found.name)


class Later(QObject):
    """Does one step a turn, from a while after the window came up on."""

    def __init__(self, parent: QObject, steps: Iterable[Callable[[], object]]) -> None:
        super().__init__(parent)
        self._steps = iter(steps)
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._do_next)

    def start(self, begin_ms: int = BEGIN_MS) -> None:
        """Begin in a while."""
        QTimer.singleShot(begin_ms, self, lambda: self._timer.start(0))

    def _do_next(self) -> None:
        step = next(self._steps, None)
        if step is None:
            self._timer.stop()
        else:
            step()
