"""What npm installs: once, whole or not at all, and again where its lock has changed."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

import installing
import npm


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("shutil.which", lambda name: f"/nowhere/{name}")
    (tmp_path / "package-lock.json").write_text('{"version": 1}', "utf-8")
    return tmp_path


class Npm:
    """Stands in for npm: makes its folder anew, as it does, and fails if told."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.calls = 0
        self.fails = False
        monkeypatch.setattr(installing, "run", self)

    def __call__(
        self, command: list[str], folder: Path, _: dict[str, str]
    ) -> subprocess.CompletedProcess[str]:
        self.calls += 1
        (folder / "node_modules" / "sennight-made").unlink(missing_ok=True)
        (folder / "node_modules").mkdir(exist_ok=True)
        return subprocess.CompletedProcess(command, int(self.fails), stdout="no network")


def test_it_is_installed_once_and_again_for_another_lock(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stand_in = Npm(monkeypatch)
    assert not npm.is_ready(folder)
    assert npm.prepare(folder, {}) == npm.prepare(folder, {}) == ""
    assert npm.is_ready(folder)
    assert stand_in.calls == 1
    (folder / "package-lock.json").write_text('{"version": 2}', "utf-8")
    assert not npm.is_ready(folder)
    assert npm.prepare(folder, {}) == ""
    assert stand_in.calls == 2


def test_what_failed_half_way_is_not_ready(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stand_in = Npm(monkeypatch)
    stand_in.fails = True
    assert npm.prepare(folder, {}).endswith("no network")
    assert not npm.is_ready(folder)


def test_without_npm_it_is_said(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda _: None)
    assert npm.prepare(folder, {}).startswith("npm is not installed")
