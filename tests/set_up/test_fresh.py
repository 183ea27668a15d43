"""Both commands, for real, in a clean clone: what a stranger does first.

The environment's pip is the oldest that this Python ever brought. `every_python.py` does the same
with every Python of the machine, without pip's cache and with the demo: `check.py matrix set-up`.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import interpreters
from set_up.real_set_up import RealSetUp


@pytest.mark.timeout(900)
def test_both_commands_set_a_clean_clone_up(tmp_path: Path) -> None:
    minor = sys.version_info.minor
    python = Path(getattr(sys, "_base_executable", sys.executable))
    fresh = RealSetUp(tmp_path, python=python, minor=minor)
    variables = {"PIP_COMPILE": "false"}  # a quarter of the time, for modules that nobody imports
    if cache := pip_cache():
        variables["PIP_CACHE_DIR"] = cache

    assert fresh.run("start.py", "--version", **variables).splitlines()[-1].startswith("sennight ")
    version, installed = fresh.installed()
    assert installed["pip"] == interpreters.OLDEST_PIP[minor]
    locked = fresh.locked("requirements.lock", version)
    assert locked.items() <= installed.items()

    assert "format      passed" in fresh.run("check.py", "format", **variables)
    _, installed = fresh.installed()
    locked = fresh.locked("requirements-dev.lock", version)
    assert locked.items() <= installed.items()
    assert set(installed) - set(locked) <= {"pip", "setuptools", "sennight"}
    assert not fresh.astray.exists()


def pip_cache() -> str:
    """The folder that pip keeps what it fetched in, so that this fetches nothing twice."""
    command = [sys.executable, "-m", "pip", "cache", "dir"]
    return subprocess.run(
        command, capture_output=True, encoding="utf-8", check=False
    ).stdout.strip()
