"""Installs what tests read calendars back with and is no Python package, by npm.

Standard library only. It is fetched once, at set-up; a test never fetches anything.
"""

from __future__ import annotations

import hashlib
import shutil
from pathlib import Path

import installing

OPTIONS = ["--ignore-scripts", "--no-audit", "--no-fund", "--fetch-retries=1"]


def is_ready(folder: Path) -> bool:
    """Whether the folder holds the packages that its lock names."""
    try:
        return _mark(folder).read_text("utf-8") == _wanted(folder)
    except OSError:
        return False


def prepare(folder: Path, variables: dict[str, str]) -> str:
    """Install the packages that the folder's lock names, if they are not there.

    A sentence where that was not possible: the tests that need them are then skipped.
    """
    if is_ready(folder):
        return ""
    command = shutil.which("npm")
    if command is None:
        return "npm is not installed, so no calendar will be read with ical.js."
    done = installing.run([command, "ci", *OPTIONS], folder, variables)
    if done.returncode:
        return (
            f"ical.js could not be installed, so no calendar will be read with it.\n{done.stdout}"
        )
    _mark(folder).write_text(_wanted(folder), "utf-8")  # last: npm empties its folder first
    return ""


def _mark(folder: Path) -> Path:
    return folder / "node_modules" / "sennight-made"


def _wanted(folder: Path) -> str:
    return hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
