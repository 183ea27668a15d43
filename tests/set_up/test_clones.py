"""A clone holds the checkout as it stands, with what is not committed yet."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

import clones
import environment

GIT = shutil.which("git") or ""


@pytest.fixture
def checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    if not GIT:
        pytest.skip("git is not installed, so nothing was cloned")
    root = tmp_path / "checkout"
    root.mkdir()
    monkeypatch.setattr(environment, "ROOT", root)
    for name in ("changed", "removed", "kept"):
        (root / name).write_text("first", "utf-8")
    (root / ".gitignore").write_text("ignored\n", "utf-8")
    somebody = ["-c", "user.name=Test", "-c", "user.email=test@example.org"]
    for command in (["init", "--quiet"], ["add", "."], [*somebody, "commit", "-qm", "first"]):
        subprocess.run([GIT, *command], cwd=root, check=True)
    return root


def test_what_is_not_committed_lies_over_the_clone(checkout: Path, tmp_path: Path) -> None:
    (checkout / "changed").write_text("second", "utf-8")
    (checkout / "removed").unlink()
    (checkout / "ignored").touch()
    (checkout / "folder").mkdir()
    (checkout / "folder" / "new").write_text("new", "utf-8")
    clone = clones.clone_into(tmp_path)
    held = {
        path.relative_to(clone).as_posix(): path.read_text("utf-8")
        for path in clone.rglob("*")
        if path.is_file() and ".git" not in path.parts
    }
    assert held == {
        ".gitignore": "ignored\n",
        "changed": "second",
        "kept": "first",
        "folder/new": "new",
    }


def test_a_folder_that_is_no_checkout_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    with pytest.raises(clones.CloneError, match="cannot be cloned"):
        clones.clone_into(tmp_path / "elsewhere")
