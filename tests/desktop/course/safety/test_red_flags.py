"""Red flags: asking, the banner on folder and course, and the letter."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.theme import Theme
from sennight.desktop.red_flags.flags_dialog import RedFlagsDialog
from sennight.desktop.red_flags.referral_dialog import ReferralDialog
from sennight.practice.papers import PaperKind, list_given, paper_content
from sennight.practice.red_flags import RedFlagCheck, list_checks, record_check, red_flags
from support.next_dialog import in_next_dialog
from support.pdf_pages import page_texts
from support.sample_practice import NOW, TODAY
from support.willow_practice import Willow

Key = Qt.Key
HOT = "hot-joint"


@pytest.fixture
def sheet(qtbot: QtBot, theme: Theme) -> RedFlagsDialog:
    assert theme
    made = RedFlagsDialog("Ishbel Marr", today=TODAY)
    qtbot.addWidget(made, before_close_func=QWidget.hide)
    made.show()
    return made


@pytest.fixture
def folder(qtbot: QtBot, willow: Willow, theme: Theme) -> FolderPage:
    made = FolderPage(willow.practice, theme, lambda: NOW)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.open(willow.client)
    made.show()
    return made


def test_every_flag_is_asked_for_with_its_action(sheet: RedFlagsDialog) -> None:
    assert [line.flag for line in sheet.lines] == list(red_flags())
    line = sheet.lines[0]
    assert not line.action.isVisible()
    line.box.click()
    assert line.action.isVisible()
    assert line.action.text() == line.flag.action
    assert line.flag.action in sheet.message.text()


def test_keys_step_and_tick(sheet: RedFlagsDialog, qtbot: QtBot) -> None:
    qtbot.keyClick(sheet.lines[0].box, Key.Key_Down)
    assert sheet.focusWidget() is sheet.lines[1].box
    qtbot.keyClick(sheet.lines[1].box, Key.Key_Space)
    qtbot.keyClick(sheet.lines[1].box, Key.Key_Up)
    qtbot.keyClick(sheet.lines[0].box, Key.Key_Return)
    assert sheet.answer == RedFlagCheck(TODAY, (sheet.lines[1].flag.id,))


def test_a_click_on_the_words_ticks(sheet: RedFlagsDialog, qtbot: QtBot) -> None:
    qtbot.mouseClick(sheet.lines[2].sign, Qt.MouseButton.LeftButton)
    assert sheet.ticked == (sheet.lines[2].flag.id,)


def test_the_most_urgent_advice_is_told(sheet: RedFlagsDialog) -> None:
    by_id = {line.flag.id: line for line in sheet.lines}
    by_id["urinary"].box.click()
    by_id["cauda-equina"].box.click()
    assert sheet.message.text().startswith("2 signs. Emergency")


def test_nothing_ticked_is_an_answer_that_excludes_nothing(sheet: RedFlagsDialog) -> None:
    assert "does not rule anything out" in sheet.message.text()
    sheet.submit()
    assert sheet.answer == RedFlagCheck(TODAY, ())


@pytest.mark.parametrize("typed", ["", "soon", "28 January 2027"])
def test_a_day_that_cannot_be_is_told(sheet: RedFlagsDialog, typed: str) -> None:
    sheet.day.setText(typed)
    sheet.submit()
    assert sheet.answer is None
    assert sheet.day_row.is_wrong


def test_a_flag_stands_first_on_folder_and_course_until_it_is_gone(
    folder: FolderPage, page: CoursePage, willow: Willow
) -> None:
    assert folder.strip.flags.text() == "Not asked yet"
    assert not folder.banner.isVisible()
    in_next_dialog(lambda sheet: tick(sheet, HOT))
    folder.ask_for_flags()
    assert list_checks(willow.practice, willow.client) == (RedFlagCheck(TODAY, (HOT,)),)
    assert folder.banner.isVisible()
    assert folder.strip.flags.text() == "Found on 27 January 2027"
    assert folder.banner.y() < folder.title.y()
    assert folder.banner.message.text().startswith(
        "Red flags on 27 January 2027. Same-day assessment in"
    )
    page.open(willow.course)
    assert page.controller is not None
    assert not page.controller.banner.isHidden()
    layout = page.controller.layout()
    assert layout is not None
    assert layout.indexOf(page.controller.banner) < layout.indexOf(page.controller.view)
    in_next_dialog(lambda sheet: clear(sheet, HOT))
    page.controller.decide("flags")
    assert page.controller.banner.isHidden()
    assert list_checks(willow.practice, willow.client)[-1].cleared == "joint drained, no germ"
    folder.open(willow.client)
    assert not folder.banner.isVisible()
    assert folder.strip.flags.text() == "None on 27 January 2027"


def clear(sheet: RedFlagsDialog, flag: str) -> None:
    """A sign that was recorded goes only with a word why."""
    assert sheet.reason_row.isHidden()
    tick(sheet, flag)
    assert sheet.reason_row.is_wrong
    sheet.reason.setText("joint drained, no germ")
    sheet.main_button.click()


def tick(sheet: RedFlagsDialog, flag: str) -> None:
    (line,) = (one for one in sheet.lines if one.flag.id == flag)
    line.box.click()
    sheet.main_button.click()


def test_the_letter_is_written_with_the_practitioners_words(
    controller: CourseController,
    willow: Willow,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    record_check(willow.practice, willow.client, RedFlagCheck(date(2027, 1, 26), (HOT,)), now=NOW)
    controller.banner.show_client(willow.client)
    path = tmp_path / "letter.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))

    def write(sheet: QWidget) -> None:
        qtbot.keyClicks(sheet.focusWidget(), "Please see her today.")
        in_next_dialog(close)
        sheet.submit()  # type: ignore[attr-defined]

    def close(dialog: QWidget) -> None:
        (found,) = (one for one in dialog.findChildren(QPushButton) if one.text() == "Close")
        found.click()

    in_next_dialog(write)
    controller.banner.letter.click()
    (kept,) = list_given(willow.practice, willow.client)
    assert (kept.kind, kept.course_id) == (PaperKind.REFERRAL, None)
    assert paper_content(willow.practice, kept.id) == path.read_bytes()
    text = " ".join(page_texts(path.read_bytes()))
    assert "Ishbel Marr" in text
    assert "Please see her today." in text
    assert "hot, swollen" in text


def test_the_letter_is_looked_at_and_printed_with_the_same_words(
    controller: CourseController,
    willow: Willow,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    record_check(willow.practice, willow.client, RedFlagCheck(date(2027, 1, 26), (HOT,)), now=NOW)
    controller.banner.show_client(willow.client)
    path = tmp_path / "printed.pdf"

    def accept(dialog: QPrintDialog) -> int:
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setResolution(60)
        dialog.printer().setOutputFileName(str(path))
        return int(QPrintDialog.DialogCode.Accepted.value)

    def look_and_print(sheet: QWidget) -> None:
        assert isinstance(sheet, ReferralDialog)
        sheet.note.setPlainText("Please see her today.")
        sheet.preview.show_now()
        assert sheet.preview.view.image is not None
        assert sheet.preview.count.text() == f"Page 1 of {sheet.preview.pages}"
        (shown,) = sheet.preview.papers
        seen.append(shown.content)
        sheet.print_button.click()

    seen: list[bytes] = []
    monkeypatch.setattr(QPrintDialog, "exec", accept)
    in_next_dialog(look_and_print)
    controller.banner.letter.click()
    (kept,) = list_given(willow.practice, willow.client)
    assert [paper_content(willow.practice, kept.id)] == seen
    assert "Please see her today." in " ".join(page_texts(seen[0]))
    assert len(PdfReader(path).pages) == len(PdfReader(BytesIO(seen[0])).pages)


def test_what_needs_a_doctor_at_once_stops_giving_until_it_is_gone(
    controller: CourseController,
) -> None:
    """No reason is asked for; the dialog leads to asking again."""
    now = "cauda-equina"
    in_next_dialog(lambda sheet: tick(sheet, now))
    controller.banner.ask()
    assert f"flag.{now}" in [one.id for one in controller.session.reading.safety.unaccepted]
    told: list[str] = []

    def leave(dialog: QWidget) -> None:
        told.append(dialog.accessibleName())
        dialog.close()

    in_next_dialog(leave)
    controller.safety.go_ahead(f"flag.{now}")
    in_next_dialog(leave)
    controller.give()
    assert told == ["Nothing can be given while this stands", "This course has not been given yet"]
    assert controller.session.course.accepts == ()
    in_next_dialog(lambda sheet: clear(sheet, now))
    controller.banner.ask()
    assert f"flag.{now}" not in [one.id for one in controller.session.reading.safety.unaccepted]
