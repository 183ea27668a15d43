"""Which tests count the lines of the domain that they go through, and counting while they run.

Counting takes as long again as a test. It begins when pytest does, and goes on for each call of a
counted test alone: not while tests are collected and set up, and not in a test that draws, since
a line that only a lucky draw goes through would be found missing on another day. Of many cases
that go the same ways some are enough.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol

import pytest
from hypothesis import is_hypothesis_test

UNCOUNTED = pytest.mark.uncounted
"""The test, or the case of one, runs as every other does; its lines are not counted.

`no_cover` says more: that a test measures time, and runs alone (step `speed`).
"""


class Counting(Protocol):
    """What pytest-cov counts with."""

    def pause(self) -> None:
        """Stop counting."""

    def resume(self) -> None:
        """Go on counting."""


def counting(config: pytest.Config) -> Counting | None:
    """What lines are counted with; None where they are not."""
    found: Counting | None = getattr(
        config.pluginmanager.getplugin("_cov"), "cov_controller", None
    )
    return found


def count_imports(package: str) -> None:
    """Import a whole package, so that the lines of its modules themselves are counted."""
    folders = importlib.import_module(package).__path__
    for module in pkgutil.walk_packages(folders, f"{package}."):
        importlib.import_module(module.name)


@contextmanager
def counted(item: pytest.Item) -> Iterator[None]:
    """Count the lines of a test that is to be counted."""
    counter = counting(item.config)
    if counter is None or not _is_counted(item):
        yield
        return
    counter.resume()
    try:
        yield
    finally:
        counter.pause()


def _is_counted(item: pytest.Item) -> bool:
    if item.get_closest_marker("uncounted"):
        return False
    return not (isinstance(item, pytest.Function) and is_hypothesis_test(item.obj))
