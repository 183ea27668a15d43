"""New practice files as copies of one that was made before: copying takes a tenth of making."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import TypeVar

from sennight.practice.opening import OpenPractice, open_practice
from sennight.store.files import utc_now
from support.sample_practice import NOW, Sample, filled

Made = TypeVar("Made")

_FOLDER = tempfile.TemporaryDirectory(prefix="sennight-tests-")
"""Where the files to be copied lie; it goes when the process ends."""


def new_practice(path: Path, *, clock: Callable[[], datetime] = utc_now) -> OpenPractice:
    """An open practice with nothing in it, in a new file."""
    return open_practice(shutil.copyfile(_empty(), path), clock=clock)


def new_filled(
    path: Path, fill: Callable[[OpenPractice], Made], *, clock: Callable[[], datetime] = utc_now
) -> tuple[OpenPractice, Made]:
    """An open practice as `fill` left it, in a new file, and what `fill` gave back."""
    made, told = _filled(fill)
    return open_practice(shutil.copyfile(made, path), clock=clock), told


def new_sample(path: Path) -> Sample:
    """An open practice with the sample in it, in a new file; its clock stands still."""
    practice, sample = new_filled(path, filled, clock=lambda: NOW)
    return replace(sample, practice=practice)


@cache
def _empty() -> Path:
    path = Path(_FOLDER.name, "empty.sennight")
    open_practice(path).close()
    return path


@cache
def _filled(fill: Callable[[OpenPractice], Made]) -> tuple[Path, Made]:
    path = Path(mkdtemp(dir=_FOLDER.name), "filled.sennight")
    with new_practice(path, clock=lambda: NOW) as practice:
        return path, fill(practice)
