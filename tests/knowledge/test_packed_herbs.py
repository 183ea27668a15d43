"""Herbs read fast: the same as from their files, and only as long as the files are the same."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from sennight.knowledge.materia_medica import MateriaMedicaError, read_materia_medica
from sennight.knowledge.packed_herbs import NAME, Packed, packed_text
from sennight.places import own_folder

FOLDER = own_folder("resources") / "materia_medica"
HERBS = ("chamomile", "ginkgo", "sage")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "herbs").mkdir()
    for name in (
        "burdens.toml",
        "children.toml",
        "general_safety.toml",
        *(f"herbs/{one}.toml" for one in HERBS),
    ):
        shutil.copy(FOLDER / name, tmp_path / name)
    (tmp_path / NAME).write_text(packed_text(tmp_path), encoding="utf-8")
    return tmp_path


def test_what_is_packed_is_what_the_files_say() -> None:
    """Where this fails: python packaging/pack_herbs.py."""
    assert (FOLDER / NAME).read_text(encoding="utf-8") == packed_text(FOLDER)


def test_a_record_is_the_same_either_way(folder: Path) -> None:
    packed = read_materia_medica(folder)
    (folder / NAME).unlink()
    plain = read_materia_medica(folder)
    assert dict(packed.herbs) == dict(plain.herbs)
    assert packed.headings == plain.headings
    assert packed.names == plain.names
    assert list(packed.herbs) == sorted(HERBS)


def test_a_record_is_read_when_it_is_asked_for(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = read_materia_medica(folder)
    assert "sage" in held.herbs
    assert held.names["sage"] == "Sage"
    seen: list[str] = []
    whole = Packed.read_record

    def read_record(line: Packed) -> dict[str, Any]:
        seen.append(line.read_heading().id)
        return whole(line)

    monkeypatch.setattr(Packed, "read_record", read_record)
    assert held.herbs["sage"] is held.herbs["sage"]
    assert seen == ["sage"]


def test_a_file_that_was_changed_is_read_itself(folder: Path) -> None:
    path = folder / "herbs/sage.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('name = "Sage"', 'name = "Sage leaf"'), encoding="utf-8")
    held = read_materia_medica(folder)
    assert held.names["sage"] == held.herbs["sage"].name == "Sage leaf"
    path.write_text(text.replace('family = "Lamiaceae"', ""), encoding="utf-8")
    with pytest.raises(MateriaMedicaError, match=r"sage\.toml: family: missing"):
        read_materia_medica(folder)


@pytest.mark.parametrize("damage", [b"", b"\xff\xfe", b"a\tb\n", b"nothing"])
def test_without_a_whole_packed_file_nothing_is_lost(folder: Path, damage: bytes) -> None:
    whole = dict(read_materia_medica(folder).herbs)
    (folder / NAME).write_bytes(damage)
    assert dict(read_materia_medica(folder).herbs) == whole
