"""Readers that are no Python packages: how each is run, or why the test is left out.

Where one is not installed its tests are skipped with a sentence, and fail where every test must
run (CI=true).
"""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from typing import NoReturn

import pytest

import machine

_NODE_FOLDER = Path(__file__).parent / "ical_js"
_LIBICAL = Path(__file__).parent / "libical" / "expand.py"


def ical_js_command() -> list[str]:
    """How ical.js is run: by node, from the folder that it is installed into here."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node is None or npm is None:
        _give_up("node and npm are not installed, so the calendar was not read with ical.js")
    if not (_NODE_FOLDER / "node_modules" / "ical.js").is_dir():
        done = subprocess.run(
            [npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund"],
            cwd=_NODE_FOLDER,
            capture_output=True,
            check=False,
            timeout=300,
        )
        if done.returncode:
            _give_up(f"ical.js could not be installed: {done.stderr.decode()[-500:]}")
    return [node, str(_NODE_FOLDER / "expand.mjs")]


def libical_command() -> list[str]:
    """How libical is run: by the system's own Python, whose packages hold its binding."""
    if not machine.has_libical():
        wanted = " and ".join(machine.LIBICAL)
        _give_up(f"{wanted} are not installed, so the calendar was not read with libical")
    return [machine.SYSTEM_PYTHON, str(_LIBICAL)]


def _give_up(why: str) -> NoReturn:
    if os.environ.get("CI") == "true":
        pytest.fail(why)
    pytest.skip(why)
