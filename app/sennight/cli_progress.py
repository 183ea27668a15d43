"""How far a command got, for whoever waits at a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

WAIT = 0.5
"""Seconds before anything is told: what is done by then needs no words."""
AGAIN = 0.2
"""Seconds between two times that it is told."""


@contextmanager
def progress(doing: str) -> Iterator[Progress]:
    """Tells within the block how far it got, where the terminal sees it; cleared at its end."""
    shown = Progress(doing)
    try:
        yield shown
    finally:
        shown.clear()


class Progress:
    """One line of a terminal that is written over; nothing where errors go elsewhere."""

    def __init__(self, doing: str) -> None:
        self._doing, self._width = doing, 0
        self._next = time.monotonic() + WAIT

    def __call__(self, done: int, of: int) -> None:
        """Tell how much of how much is done."""
        now = time.monotonic()
        if now < self._next or not _is_seen():
            return
        self._next = now + AGAIN
        self._show(f"{self._doing}: {done * 100 // max(of, 1)} %   (Ctrl+C stops)")

    def clear(self) -> None:
        """Leave nothing of it behind."""
        if self._width:
            self._show("")
            print("\r", end="", file=sys.stderr, flush=True)
            self._width = 0

    def _show(self, text: str) -> None:
        print(f"\r{text.ljust(self._width)}", end="", file=sys.stderr, flush=True)
        self._width = max(self._width, len(text))


def _is_seen() -> bool:
    """Whether somebody sees what is written over: a terminal does, a file keeps all of it."""
    return sys.stderr.isatty()
