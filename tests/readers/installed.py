"""Readers that are no Python packages: how each is run, or why the test is left out.

Where one is not installed its tests are skipped with a sentence, and fail where every test must
run (CI=true).
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path
from typing import NoReturn

import pytest

import environment
import machine
import npm

_LIBICAL = Path(__file__).parent / "libical" / "expand.py"


def ical_js_command(script: str = "expand.mjs") -> list[str]:
    """How ical.js is run: by node, from the folder that the set-up installed it into."""
    node = shutil.which("node")
    if node is None:
        _give_up("node is not installed, so the calendar was not read with ical.js")
    if not npm.is_ready(environment.READERS):
        _give_up(
            "ical.js is not installed, so the calendar was not read with it: "
            "`python3 packaging/check.py format` installs it"
        )
    return [node, str(environment.READERS / script)]


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
