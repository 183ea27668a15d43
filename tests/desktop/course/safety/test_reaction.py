"""Recording a reaction: what it says, what it stops, what is remembered, the report."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.safety.reaction_dialog import ReactionDialog
from sennight.desktop.course.safety.report_dialog import ReportDialog
from sennight.domain.courses.courses import Stop
from sennight.practice.clients import client_entry
from sennight.practice.courses import course_entry
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.papers import PaperKind, list_given, paper_content
from support.next_dialog import in_next_dialog
from support.pdf_pages import page_texts
from support.sample_practice import TODAY
from support.willow_practice import Willow

Key = Qt.Key


@pytest.fixture
def sheet(controller: CourseController, qtbot: QtBot) -> ReactionDialog:
    made = ReactionDialog(controller.session, supplied_materia_medica().names)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


def test_it_says_in_a_sentence_what_it_does(sheet: ReactionDialog) -> None:
    assert sheet.effect_label.text() == ""
    sheet.herbs.boxes["willow-bark"].click()
    assert sheet.effect_label.text() == (
        "Willow tea stops from 27 January 2027 on. Willow bark will stay on "
        "Ishbel Marr’s record permanently: every course with it will show a finding to avoid."
    )


def test_the_herbs_are_those_of_the_remedy_and_one_alone_is_ticked(sheet: ReactionDialog) -> None:
    assert tuple(sheet.herbs.boxes) == ("willow-bark", "nettle-leaf")
    assert not sheet.herbs.ticked
    sheet.remedy.setCurrentIndex(1)
    assert sheet.herbs.ticked == ("nettle-leaf",)


@pytest.mark.parametrize(
    ("day", "says"),
    [
        ("28 January 2027", "in the future"),
        ("1 January 2027", "1 January 2027|2027-01-01"),
        ("soon", "Enter a date"),
        ("", "Enter a date"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(sheet: ReactionDialog, day: str, says: str) -> None:
    sheet.day.setText(day)
    sheet.submit()
    assert sheet.answer is None
    assert sheet.day_row.is_wrong
    assert any(part in sheet.day_row.beneath.text() for part in says.split("|"))
    assert sheet.herbs_row.is_wrong
    assert sheet.what_row.is_wrong


def test_a_reaction_stops_the_remedy_and_is_remembered(
    controller: CourseController,
    willow: Willow,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    path = tmp_path / "pdf.reaction"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))

    def fill(sheet: ReactionDialog) -> None:
        assert sheet.focusWidget() is sheet.remedy
        sheet.herbs.boxes["willow-bark"].setFocus()
        qtbot.keyClick(sheet.herbs.boxes["willow-bark"], Key.Key_Space)
        qtbot.keyClicks(sheet.what, "An itching rash on both arms, two hours after the second cup")
        in_next_dialog(look_and_save)
        sheet.main_button.click()

    def look_and_save(dialog: QWidget) -> None:
        assert isinstance(dialog, ReportDialog)
        dialog.preview.show_now()
        assert dialog.preview.view.image is not None
        press(dialog, "Save report…", then_leave)

    def then_leave() -> None:
        in_next_dialog(lambda dialog: press(dialog, "Close"))

    in_next_dialog(fill)
    controller.decide("reaction")
    course = course_entry(willow.practice, willow.course).course
    (stop,) = course.revisions
    assert isinstance(stop, Stop)
    assert (stop.remedy, stop.first) == ("willow", TODAY)
    assert controller.session.course == course
    (reaction,) = client_entry(willow.practice, willow.client).client.reactions
    assert (reaction.day, reaction.herbs) == (date(2027, 1, 27), ("willow-bark",))
    (kept,) = list_given(willow.practice, willow.client)
    assert (kept.kind, kept.course_id) == (PaperKind.REACTION_REPORT, willow.course)
    assert paper_content(willow.practice, kept.id) == path.read_bytes()
    text = " ".join(page_texts(path.read_bytes()))
    assert "Willow bark" in text
    assert "itching rash" in text
    assert "Ishbel" not in text


def press(dialog: QWidget, text: str, before: object = None) -> None:
    (found,) = (one for one in dialog.findChildren(QPushButton) if one.text() == text)
    if callable(before):
        before()
    found.click()
