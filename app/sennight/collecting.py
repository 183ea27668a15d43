"""When the garbage collector runs: not while the program starts, and never over what it holds.

Starting makes some hundred thousand objects that live as long as the program. Looking through
them again and again costs a fifth of a second at the start, and later stops the window for a
tenth of a second at each full collection.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

SELDOM = 10_000, 10, 10
"""How many new objects are collected among, for a tenth of the usual cost of an edit."""


@contextmanager
def collecting_later() -> Iterator[None]:
    """Collect nothing within this block; afterwards as before."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def leave_what_is_there() -> None:
    """Let nothing be looked through any more: the program ends, and all of it goes at once."""
    gc.freeze()


def keep_what_is_there() -> None:
    """Collect once, take what is left for good, and collect from now on what comes after.

    What was taken before is looked through once more: another practice may have been opened. It
    takes a tenth of a second, so it is done when the window is there and nothing else is.
    """
    gc.unfreeze()
    gc.collect()
    gc.freeze()
    gc.set_threshold(*SELDOM)
    gc.enable()
