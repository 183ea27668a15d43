from __future__ import annotations

from pathlib import Path

import pytest

from sennight.practice.writing import FolderError, write_files, write_paths


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
    write = Path.write_bytes

    def full(path: Path, data: bytes) -> int:
        if data == b"two":
            write(path, data[:1])
            raise OSError(28, "No space left on device")
        return write(path, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(FolderError, match=r"cannot be written to \(no space left on device\)"):
        write_files(tmp_path, {"a": b"new", "b": b"two"})
    assert left(tmp_path) == {"a": b"old"}


def test_a_file_in_the_way_of_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"mine")
    with pytest.raises(FolderError, match="out is a file; expected a folder"):
        write_files(tmp_path / "out", {"a": b"1"})
    with pytest.raises(FolderError, match="cannot be written to"):
        write_files(tmp_path / "out" / "deeper", {"a": b"1"})
