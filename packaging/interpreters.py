"""Finds the Pythons of this machine. Standard library only."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

MINORS = (11, 12, 13, 14)
"""The Pythons that the program is checked on: 3.11 and so on."""

OLDEST_PIP = {11: "22.3", 12: "23.2.1", 13: "24.2", 14: "25.2"}
"""The pip that the first release of each Python brings (Lib/ensurepip/__init__.py of 3.11.0 …)."""

_ASK = "import ensurepip, sys, venv; print(*sys.version_info[:2], sys.executable, sep='\\n')"


def find(minor: int) -> Path | None:
    """A Python 3.`minor` of this machine that can make environments; None where there is none."""
    for candidate in _candidates(minor):
        try:
            done = subprocess.run(
                [candidate, "-c", _ASK], capture_output=True, encoding="utf-8", check=False
            )
        except OSError:
            continue
        said = done.stdout.splitlines()
        if done.returncode == 0 and said[:2] == ["3", str(minor)]:
            return Path(said[2])
    return None


def _candidates(minor: int) -> Iterator[str]:
    """What may be such a Python: this one, those on the path, and those in the usual places."""
    name = f"python3.{minor}"
    if sys.version_info[:2] == (3, minor):
        yield sys.executable
    for candidate in (name, "python3", "python"):
        if found := shutil.which(candidate):
            yield found
    home = Path.home()
    pyenv = Path(os.environ.get("PYENV_ROOT") or home / ".pyenv")
    for folder, pattern in (
        (pyenv / "versions", f"3.{minor}.*/bin/{name}"),
        (home / ".local/share/uv/python", f"cpython-3.{minor}.*/bin/{name}"),
        (Path("/usr/bin"), name),
        (Path("/usr/local/bin"), name),
        (Path("/opt"), f"*/bin/{name}"),  # Homebrew's, among others
        (Path("/Library/Frameworks/Python.framework/Versions"), f"3.{minor}/bin/{name}"),
        (home / "AppData/Local/Programs/Python", f"Python3{minor}*/python.exe"),
        (Path("C:/Program Files"), f"Python3{minor}*/python.exe"),
    ):
        yield from (str(path) for path in sorted(folder.glob(pattern)))
