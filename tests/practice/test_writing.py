from __future__ import annotations

import json
import os
import time
from pathlib import Path

import pytest

from sennight.practice.writing import (
    FolderError,
    Staging,
    free_path,
    settle,
    write_files,
    write_paths,
)


def left(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def test_files_are_written_and_others_left(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")
    (tmp_path / "c").write_bytes(b"mine")
    paths = write_files(tmp_path, {"a": b"new", "b": b"two"})
    assert paths == (tmp_path / "a", tmp_path / "b")
    assert left(tmp_path) == {"a": b"new", "b": b"two", "c": b"mine"}


def test_folders_are_made(tmp_path: Path) -> None:
    write_paths({tmp_path / "x" / "y" / "a": b"1", tmp_path / "z" / "b": b"2"})
    assert (tmp_path / "x" / "y" / "a").read_bytes() == b"1"


def test_nothing_is_written_where_one_file_cannot_be(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"old")
    (tmp_path / "b").mkdir()
    with pytest.raises(FolderError, match=r"b is a folder; expected a file"):
        write_files(tmp_path, {"a": b"new", "b": b"two"})
    assert left(tmp_path) == {"a": b"old"}


def test_a_full_disk_leaves_the_old_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "a").write_bytes(b"old")
    sync, times = os.fsync, iter(range(9))

    def full(handle: int) -> None:
        if next(times) == 2:
            raise OSError(28, "No space left on device")
        sync(handle)

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FolderError, match=r"cannot be written to \(no space left on device\)"):
        write_files(tmp_path, {"a": b"new", "b": b"two"})
    assert left(tmp_path) == {"a": b"old"}


def test_a_file_in_the_way_of_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(FolderError, match="out is a file; expected a folder"):
        write_files(tmp_path / "out", {"a": b"1"})
    with pytest.raises(FolderError, match="cannot be written to"):
        write_files(tmp_path / "out" / "deeper", {"a": b"1"})


def test_a_name_that_is_taken_gets_a_number(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    assert free_path(path, b"1") == path
    path.write_bytes(b"1")
    assert free_path(path, b"1") == path, "the very same bytes are no other file"
    assert free_path(path, b"2") == tmp_path / "a (2).pdf"
    (tmp_path / "a (2).pdf").mkdir()
    assert free_path(path, b"2") == tmp_path / "a (3).pdf"


def killed(folder: Path, *, naming: bool, pid: int = 4_194_304) -> Path:
    """What a program leaves that was killed with one file named and one not."""
    plan = folder / f".sennight-{pid}-abcd1234{'.naming' if naming else '.plan'}"
    rows = [[str(folder), f".sennight-{pid}-abcd1234-{n}", name] for n, name in enumerate("ab")]
    plan.write_text(json.dumps(rows))
    (folder / rows[1][1]).write_bytes(b"new")
    return plan


@pytest.mark.parametrize(("naming", "after"), [(True, {"a": b"new", "b": b"new"}), (False, {})])
def test_what_a_kill_left_is_ended_or_undone(
    tmp_path: Path, after: dict[str, bytes], *, naming: bool
) -> None:
    killed(tmp_path, naming=naming)
    if naming:
        (tmp_path / "a").write_bytes(b"new")
    settle(tmp_path)
    assert left(tmp_path) == after


def test_a_disk_that_is_not_connected_is_waited_for(tmp_path: Path) -> None:
    stick, plans = tmp_path / "stick", tmp_path / "plans"
    stick.mkdir()
    plans.mkdir()
    plan = killed(stick, naming=True).rename(plans / ".sennight-4194304-abcd1234.naming")
    away = stick.rename(tmp_path / "away")
    settle(plans)
    assert plan.exists()
    away.rename(stick)
    settle(plans)
    assert left(stick) == {"b": b"new"}
    assert not plan.exists()
    killed(stick, naming=True).rename(plan)
    stick.rename(away)
    os.utime(plan, (0, 0))
    settle(plans)
    assert not plan.exists(), "but not for ever"


def test_the_next_writing_into_a_folder_settles_it(tmp_path: Path) -> None:
    killed(tmp_path, naming=True)
    write_files(tmp_path, {"c": b"1"})
    assert left(tmp_path) == {"b": b"new", "c": b"1"}


def test_what_a_running_program_writes_is_left_to_it(tmp_path: Path) -> None:
    plan = killed(tmp_path, naming=True, pid=os.getpid())
    settle(tmp_path)
    assert plan.exists()
    long_ago = time.time() - 3600
    os.utime(plan, (long_ago, long_ago))
    settle(tmp_path)
    assert left(tmp_path) == {"b": b"new"}


@pytest.mark.parametrize(
    "rows",
    [
        "[[1, 2, 3]]",
        "{",
        '["x"]',
        '[["{folder}", "victim", "taken"]]',
        '[["{folder}", "../out/.sennight-1-x-0", "taken"]]',
        '[["{folder}", ".sennight-4194304-other-0", "taken"]]',
    ],
)
def test_a_plan_from_elsewhere_touches_nothing_else(tmp_path: Path, rows: str) -> None:
    """A folder may have been unpacked from anywhere."""
    (tmp_path / "victim").write_bytes(b"mine")
    (tmp_path / ".sennight-4194304-other-0").write_bytes(b"other")
    plan = tmp_path / ".sennight-4194304-abcd1234.naming"
    plan.write_text(rows.replace("{folder}", str(tmp_path)))
    settle(tmp_path)
    assert left(tmp_path) == {"victim": b"mine", ".sennight-4194304-other-0": b"other"}


def test_a_folder_for_plans_is_gone_when_all_is_written(tmp_path: Path) -> None:
    plans = tmp_path / "plans"
    with Staging(plans) as staging:
        staging.put({tmp_path / "a": b"1"})
        assert len(list(plans.iterdir())) == 1
    assert left(tmp_path) == {}, "what got no name goes"
    assert not plans.exists()
    assert write_paths({tmp_path / "a": b"1"}, plans=plans) == (tmp_path / "a",)
    assert not plans.exists()
