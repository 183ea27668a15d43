"""What became of a protocol's courses, on screen and as a table to pass on."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sennight.desktop.parts import protocol_record
from sennight.desktop.parts.protocol_record import ProtocolRecordDialog
from sennight.domain.follow_up.diaries import Score
from sennight.practice.courses import course_entry
from sennight.practice.diaries import enter_scores
from sennight.practice.protocol_records import protocols_given
from sennight.practice.writing import FolderError
from support.sample_practice import TODAY, Sample


@pytest.fixture
def dialog(qtbot: QtBot, sample: Sample) -> ProtocolRecordDialog:
    start = course_entry(sample.practice, sample.course).course.start
    rated = [Score(start + timedelta(n), "pain", Fraction(8 - n)) for n in (0, 5)]
    enter_scores(sample.practice, sample.course, rated)
    made = ProtocolRecordDialog(sample.practice, TODAY, None)
    qtbot.addWidget(made)
    return made


def texts(dialog: ProtocolRecordDialog) -> list[str]:
    return [label.text() for label in dialog.table.findChildren(QLabel)]


def test_the_courses_of_a_protocol_are_counted(
    dialog: ProtocolRecordDialog, sample: Sample
) -> None:
    name = course_entry(sample.practice, sample.course).course.protocol.name
    assert dialog.choice.currentData() == name
    assert dict(protocols_given(sample.practice))[name] == 1
    said = texts(dialog)
    assert said[:4] == ["Courses", "Began", "1", ""]
    assert "Pain, last minus first" in said
    assert "−5" in said
    shares = [bar.share for bar in dialog.table.findChildren(protocol_record.ShareBar)]
    assert len(shares) > 3
    assert set(shares) == {0.0, 1.0}


def test_what_is_passed_on_tells_of_no_few(
    dialog: ProtocolRecordDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []

    class Told:
        def __init__(self, _parent: object, heading: str, text: str) -> None:
            told.extend((heading, text))

        def exec(self) -> None: ...

    monkeypatch.setattr(protocol_record, "message_dialog", Told)
    monkeypatch.setattr(protocol_record, "ask_where", lambda *_: None)
    dialog.save_button.click()
    assert told == []
    path = tmp_path / "over clients.csv"
    monkeypatch.setattr(protocol_record, "ask_where", lambda *_: path)
    dialog.save_button.click()
    assert told[0] == "Saved"
    lines = path.read_text("utf-8").splitlines()
    assert lines[:2] == ["topic,name,courses,figures", "courses,began,fewer than 5,"]
    assert not any("−5" in line for line in lines)
    assert lines[-1].startswith("note,")

    def full(*_: object) -> Path:
        raise FolderError("the disk is full")

    monkeypatch.setattr(protocol_record, "write_record", full)
    dialog.save_button.click()
    assert told[-1] == "the disk is full"
