"""Clones of this checkout, to try things out in. Standard library only."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import environment


class CloneError(Exception):
    """The checkout could not be cloned; the message says why."""


def clone_into(folder: Path) -> Path:
    """Clone the checkout; what is not committed yet is laid over the clone. The clone's folder.

    CloneError where that is not possible.
    """
    clone = folder / "sennight"
    root = environment.ROOT
    _git("clone", "--quiet", str(root), str(clone))
    changed = _git("ls-files", "-z", "--modified", "--others", "--exclude-standard")
    for name in filter(None, changed.split("\0")):
        if (root / name).exists():
            (clone / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(root / name, clone / name)
        else:
            (clone / name).unlink(missing_ok=True)
    return clone


def _git(*arguments: str) -> str:
    program = shutil.which("git")
    if program is None:
        raise CloneError("git is not installed, so the checkout cannot be cloned")
    done = subprocess.run(
        [program, *arguments],
        cwd=environment.ROOT,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    if done.returncode:
        raise CloneError(f"the checkout cannot be cloned: {done.stderr.strip()}")
    return done.stdout
