"""The folder that a course is written into: what is replaced there, left alone and told."""

from __future__ import annotations

from pathlib import Path

import pytest

from sennight.cli import DONE, STOPPED, WRONG
from support.command_line import course
from support.files import COURSES

KNEES = COURSES / "knees.toml"
SLEEP = COURSES / "sleep.toml"


def test_a_file_in_the_place_of_the_folder_is_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "out"
    place.write_text("mine")
    assert course(KNEES, "--out", place) == WRONG
    assert place.read_text() == "mine"
    assert "is a file; expected a folder" in capsys.readouterr().err


def test_other_files_in_the_folder_are_left_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    assert course(KNEES, "--out", tmp_path) == DONE
    assert course(SLEEP, "--out", tmp_path) == DONE
    assert (tmp_path / "notes.txt").read_text() == "mine"
    assert "adherence.csv in the folder is from an earlier run" in capsys.readouterr().err
    assert not [path for path in tmp_path.iterdir() if path.name.startswith(".")]


def test_a_folder_without_a_name_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        course(KNEES, "--out", "")
    assert stopped.value.code == WRONG
    assert "no folder is named; expected one, or . for this folder" in capsys.readouterr().err


def test_the_papers_of_another_course_in_the_folder_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert course(KNEES, "--out", tmp_path) == DONE
    assert course(KNEES, "--out", tmp_path) == DONE
    assert "another course" not in capsys.readouterr().err
    longer = tmp_path / "longer.toml"
    longer.write_text(KNEES.read_text().replace('"1 cup tds ac"', '"1 cup bd ac"', 1))
    assert course(longer, "--out", tmp_path) == DONE
    assert "another course" not in capsys.readouterr().err, "a changed course is the same one"
    assert course(SLEEP, "--out", tmp_path) == DONE
    told = capsys.readouterr().err
    assert f"note: {tmp_path} held the papers of another course (reminders.ics" in told


@pytest.mark.parametrize("name", ["handout.txt", "reminders.ics", "findings.csv"])
def test_no_output_replaces_the_course_file(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / name
    file.write_text(KNEES.read_text("utf-8"), encoding="utf-8")
    assert course(file, "--out", tmp_path) == WRONG
    assert f"{file} would be replaced" in capsys.readouterr().err
    assert file.read_text("utf-8") == KNEES.read_text("utf-8")
    assert list(tmp_path.iterdir()) == [file]


def test_papers_of_an_earlier_run_are_told_where_this_one_is_stopped(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "handout.pdf").write_bytes(b"older")
    file, out = tmp_path / "c.toml", tmp_path
    text = KNEES.read_text("utf-8")
    file.write_text(text.replace("[[course.accept]]", "[[course.discussed]]"), encoding="utf-8")
    assert course(file, "--out", out) == STOPPED
    told = capsys.readouterr().err
    assert "note: handout.pdf in the folder: from an earlier run, not to be given" in told
    assert (tmp_path / "handout.pdf").read_bytes() == b"older"


@pytest.mark.parametrize("name", ["handout.pdf", "reminders.ics", "reminders-phase-2.ics"])
def test_the_record_of_what_was_published_does_not_replace_a_paper(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert course(KNEES, "--out", tmp_path, "--published", tmp_path / name) == WRONG
    assert "expected another name" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
