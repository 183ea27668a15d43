"""Both commands, for real and whole, with each Python of this machine.

It takes minutes, so it is no `test_` file: `check.py matrix set-up` runs it. Nothing is in pip's
cache, and pip's own file is misleading too.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import interpreters
from set_up.real_set_up import RealSetUp

MISLEADING = "[global]\nuser = true\nno-deps = false\n"
PLACES = (".config/pip/pip.conf", ".pip/pip.conf", "pip/pip.ini")
"""Where pip looks for its file below the home folder, on one system or another."""


@pytest.mark.timeout(1800)
@pytest.mark.parametrize("minor", interpreters.MINORS, ids=lambda minor: f"3.{minor}")
def test_both_commands(tmp_path: Path, minor: int) -> None:
    python = interpreters.find(minor)
    if python is None:
        pytest.skip(f"no Python 3.{minor} was found on this machine")
    fresh = RealSetUp(tmp_path, python=python, minor=minor)
    for place in PLACES:
        (fresh.home / place).parent.mkdir(parents=True, exist_ok=True)
        (fresh.home / place).write_text(MISLEADING, "utf-8")

    assert "No screen here" in fresh.run("start.py")
    output = fresh.clone / "demo-output"
    assert {".pdf", ".ics", ".csv"} <= {path.suffix for path in output.rglob("*")}
    assert len(list(output.rglob("*.png"))) > 10
    before = fresh.installed()
    assert "No screen here" not in fresh.run("start.py", "--version")  # warm: nothing is made
    assert fresh.installed() == before

    assert "format      passed" in fresh.run("check.py", "format")
    version, installed = fresh.installed()
    assert fresh.locked("requirements-dev.lock", version).items() <= installed.items()
    assert not fresh.astray.exists()
