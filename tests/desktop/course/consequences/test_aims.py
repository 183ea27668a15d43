"""Choosing the actions that are wanted: what the sheet says would be missing, and what it does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.aims import AimsDialog, gaps_sentence
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.courses import Course
from sennight.practice.course_reading import read_course
from support import course_cases

Key = Qt.Key


def wanting(*aims: str) -> Course:
    course = course_cases.full_course(decided=False)
    return replace(course, protocol=replace(course.protocol, aims=aims))


@pytest.fixture
def sheet(qtbot: QtBot, theme: Theme) -> AimsDialog:
    assert theme
    made = AimsDialog(read_course(wanting("nutritive"), today=course_cases.TODAY), None)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


def test_an_action_is_found_by_its_name_and_said_to_be_missing(
    sheet: AimsDialog, qtbot: QtBot
) -> None:
    qtbot.keyClicks(sheet.field.entry, "antispasmodic")
    qtbot.keyClick(sheet.field.entry, Key.Key_Return)
    assert sheet.field.tags == ("nutritive", "antispasmodic")
    assert sheet.course.protocol.aims == ("nutritive", "antispasmodic")
    assert sheet.gaps_label.text().startswith("Not covered: antispasmodic in Loading")
    assert sheet.is_changed()


def test_an_action_is_taken_out_again(sheet: AimsDialog) -> None:
    sheet.field._lines["nutritive"].remove.click()
    assert not sheet.field.tags
    assert sheet.gaps_label.text() == "No action is wanted, so none is left uncovered."
    sheet.field.add("nutritive")
    sheet.field.add("nutritive")
    assert sheet.field.tags == ("nutritive",)
    assert not sheet.is_changed()


def test_a_word_that_is_not_chosen_is_told_and_stays(sheet: AimsDialog, qtbot: QtBot) -> None:
    qtbot.keyClicks(sheet.field.entry, "nourishing soups")
    sheet.submit()
    assert sheet.isVisible()
    assert sheet.row.is_wrong
    assert "“nourishing soups” is not chosen yet" in sheet.row.beneath.text()
    assert sheet.field.entry.text() == "nourishing soups"


def test_what_is_borne_everywhere_is_said_too() -> None:
    assert gaps_sentence(("nutritive",), ()) == "Every wanted action is covered in every phase."
