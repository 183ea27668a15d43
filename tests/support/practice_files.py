"""New practice files as copies of one that was made before: copying takes a tenth of making."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

from sennight.practice.opening import OpenPractice, open_practice
from sennight.store.files import utc_now
from support.sample_practice import NOW, Sample, filled

_FOLDER = tempfile.TemporaryDirectory(prefix="sennight-tests-")
"""Where the files to be copied lie; it goes when the process ends."""


def new_practice(path: Path, *, clock: Callable[[], datetime] = utc_now) -> OpenPractice:
    """An open practice with nothing in it, in a new file."""
    return open_practice(shutil.copyfile(_empty(), path), clock=clock)


def new_sample(path: Path) -> Sample:
    """An open practice with the sample in it, in a new file; its clock stands still."""
    made, sample = _sample()
    practice = open_practice(shutil.copyfile(made, path), clock=lambda: NOW)
    return replace(sample, practice=practice)


@cache
def _empty() -> Path:
    path = Path(_FOLDER.name, "empty.sennight")
    open_practice(path).close()
    return path


@cache
def _sample() -> tuple[Path, Sample]:
    path = Path(_FOLDER.name, "sample.sennight")
    with new_practice(path, clock=lambda: NOW) as practice:
        return path, filled(practice)
