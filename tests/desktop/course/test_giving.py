"""Giving: a look at the papers before anything is written, the printer, and the keyboard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time, timedelta
from io import BytesIO
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from pypdf import PdfReader
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sennight.desktop.course.giving import dialog as dialog_module
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.giving.request import HandoutRequest
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.clients import Client
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
)
from sennight.domain.papers import PaperKind
from sennight.domain.take_home.choices import FOLDED
from sennight.practice.clients import add_client
from sennight.practice.consultations import add_consultation
from sennight.practice.course_reading import read_course
from sennight.practice.courses import add_course, course_entry
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import list_given, paper_content
from sennight.practice.publications import list_publications
from support import course_cases

NOW = datetime(2027, 3, 3, 9, tzinfo=ZoneInfo("Europe/London"))


@pytest.fixture
def asked(qtbot: QtBot, empty_practice: OpenPractice, theme: Theme) -> Iterator[GiveDialog]:
    client_id = add_client(empty_practice, Client("Una Example"))
    course_id = add_course(empty_practice, client_id, course_cases.full_course(), now=NOW)
    entry = course_entry(empty_practice, course_id)
    reading = read_course(entry.course, today=NOW.date())
    dialog = GiveDialog(HandoutRequest(empty_practice, course_id, reading, NOW), theme)
    qtbot.addWidget(dialog)
    dialog.show()
    yield dialog
    dialog.done(0)


def given(dialog: GiveDialog) -> list[PaperKind]:
    entry = course_entry(dialog.to.practice, dialog.to.course_id)
    return [PaperKind(paper.kind) for paper in list_given(dialog.to.practice, entry.client_id)]


def test_what_will_be_printed_is_seen_before_anything_is_kept(
    asked: GiveDialog, qtbot: QtBot
) -> None:
    papers = asked.papers
    papers.show_now()
    assert [papers.which.itemText(n) for n in range(papers.which.count())] == [
        "Handout",
        "Diary sheet",
    ]
    assert papers.pages == len(PdfReader(stream(papers.papers[0].content)).pages)
    first = papers.view.image
    assert first is not None
    assert first.height() > first.width()
    papers.after.click()
    qtbot.waitUntil(lambda: papers.count.text() == f"Page 2 of {papers.pages}")
    assert papers.view.image != first
    papers.which.setCurrentIndex(1)
    qtbot.waitUntil(lambda: papers.view.accessibleName().startswith("Diary sheet: Page 1"))
    assert given(asked) == []


def test_the_appointment_that_was_agreed_is_on_the_sheet_that_is_seen(
    qtbot: QtBot, empty_practice: OpenPractice, theme: Theme
) -> None:
    client_id = add_client(empty_practice, Client("Una Example"))
    course_id = add_course(empty_practice, client_id, course_cases.full_course(), now=NOW)
    agreed = Appointment(NOW.date() + timedelta(days=2), time(10, 30))
    seen = Consultation(NOW.date(), ConsultationKind.FOLLOW_UP, next=agreed)
    add_consultation(empty_practice, client_id, seen)
    reading = read_course(course_entry(empty_practice, course_id).course, today=NOW.date())
    dialog = GiveDialog(HandoutRequest(empty_practice, course_id, reading, NOW), theme)
    qtbot.addWidget(dialog)
    dialog.papers.show_now()
    first = PdfReader(stream(dialog.papers.papers[0].content)).pages[0].extract_text()
    assert "Friday 5 March at 10:30." in " ".join(first.split())
    dialog.done(0)


def test_a_change_is_seen_a_moment_later(asked: GiveDialog, qtbot: QtBot) -> None:
    asked.papers.show_now()
    asked.fields.parts[PaperKind.HANDOUT].setChecked(False)
    asked.fields.paper.pick("Letter")
    qtbot.waitUntil(lambda: asked.papers.which.count() == 1)
    (page, *_) = PdfReader(stream(asked.papers.papers[0].content)).pages
    assert tuple(page.mediabox[2:]) == (612, 792)
    for box in asked.fields.parts.values():
        box.setChecked(False)
    assert not asked.main_button.isEnabled()
    assert not asked.print_button.isEnabled()


def test_a_letter_that_the_font_lacks_is_told_in_place_of_the_page(
    asked: GiveDialog, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise ValueError("the font has no letter for it")

    monkeypatch.setattr(dialog_module, "printed_papers", fail)
    asked.papers.show_now()
    assert asked.papers.words.text() == "the font has no letter for it"
    assert asked.papers.view.image is None


def test_a_booklet_is_seen_as_it_is_printed(asked: GiveDialog) -> None:
    asked.fields.paper.pick(FOLDED)
    asked.papers.show_now()
    picture = asked.papers.view.image
    assert picture is not None
    assert picture.width() > picture.height()
    words = [label.text() for label in asked.left.findChildren(QLabel)]
    assert "Print on both sides, flipped on the short edge; then fold." in words


def test_what_is_printed_is_kept_first(
    asked: GiveDialog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = tmp_path / "printed.pdf"

    def accept(dialog: QPrintDialog) -> int:
        dialog.printer().setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        dialog.printer().setResolution(60)
        dialog.printer().setOutputFileName(str(made))
        return int(QPrintDialog.DialogCode.Accepted.value)

    monkeypatch.setattr(QPrintDialog, "exec", accept)
    asked.fields.parts[PaperKind.HANDOUT].setChecked(False)
    asked.print_button.click()
    assert sorted(given(asked)) == [PaperKind.DIARY, PaperKind.DIARY_GRID]
    (kept,) = (
        paper
        for paper in list_given(
            asked.to.practice, course_entry(asked.to.practice, asked.to.course_id).client_id
        )
        if paper.kind == PaperKind.DIARY
    )
    pages = len(PdfReader(stream(paper_content(asked.to.practice, kept.id))).pages)
    assert len(PdfReader(made).pages) == pages
    assert asked.status.text().startswith(f"{pages} pages were sent to the printer")
    assert list_publications(asked.to.practice, asked.to.course_id) == ()  # no calendar was given


def test_where_nothing_comes_of_what_is_ticked_nothing_can_be_saved(
    asked: GiveDialog, theme: Theme, tmp_path: Path
) -> None:
    """A diary sheet alone, when the course is over: there is no day that it could be for."""
    over = asked.to.reading.layout.days.end
    late = replace(asked.to.reading, today=over)
    now = datetime.combine(over, time(9), NOW.tzinfo)
    dialog = GiveDialog(replace(asked.to, reading=late, now=now), theme)
    dialog.folder.setText(str(tmp_path))
    for part, box in dialog.fields.parts.items():
        box.setChecked(part is PaperKind.DIARY)
    dialog.preview()
    assert not dialog.main_button.isEnabled()
    assert not dialog.print_button.isEnabled()
    assert dialog.summary_label.text() == "Nothing can be made of what is ticked."
    dialog.done(0)


def test_a_printer_that_is_not_chosen_leaves_nothing(
    asked: GiveDialog, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(QPrintDialog, "exec", lambda _: 0)
    asked.print_button.click()
    assert given(asked) == []


def test_all_that_is_announced_is_saved(asked: GiveDialog, tmp_path: Path) -> None:
    for box in asked.fields.parts.values():
        box.setChecked(True)
    asked.fields.email.setChecked(True)
    asked.folder.setText(str(tmp_path / "given"))
    announced = asked.summary_label.text().splitlines()[1:]
    asked.submit()
    assert sorted(path.name for path in asked.paths) == sorted(announced)
    assert len(announced) == 8
    assert {path.name for path in (tmp_path / "given").iterdir()} == set(announced)


def stream(data: bytes) -> BytesIO:

    return BytesIO(data)
