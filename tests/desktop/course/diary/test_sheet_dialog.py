"""Reading a sheet in the window: photos, unclear boxes by one key each, then the diary."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy
from pytestqt.qtbot import QtBot

from sennight.desktop.course.diary.sheet_answers import SheetAnswers
from sennight.desktop.course.diary.sheet_dialog import SheetDialog
from sennight.desktop.kit.theme import Theme
from sennight.domain.follow_up.consultations import Consultation, ConsultationKind, Part
from sennight.practice.consultations import (
    add_consultation,
    attachment_to_read,
    client_consultations,
)
from sennight.practice.given_sheets import given_sheets, keep_pictures
from sennight.practice.sheet_pages import BoxState, DoseSays
from support.given_sheet import GivenSheet, give_sheet, photo_of
from support.sample_practice import TODAY, Sample
from support.sheet_hands import Meant

NAMES = {"tea": "Joint tea", "drops": "Drops"}


@pytest.fixture
def given(sample: Sample, tmp_path: Path) -> GivenSheet:
    plan = Consultation(TODAY, ConsultationKind.FOLLOW_UP, (Part("Plan", "tea"),))
    add_consultation(sample.practice, sample.clients["efua"], plan)
    return give_sheet(sample, tmp_path)


@pytest.fixture
def dialog(sample: Sample, given: GivenSheet, theme: Theme, qtbot: QtBot) -> Iterator[SheetDialog]:
    assert given
    keep = partial(keep_pictures, sample.practice, today=TODAY)
    made = SheetDialog(given_sheets(sample.practice, sample.course), NAMES, theme, keep)
    qtbot.addWidget(made)
    yield made
    made.reader.finish()


def photographed(given: GivenSheet, path: Path) -> Path:
    path.write_bytes(photo_of(given, corrections=0.06).jpeg)
    return path


def read(dialog: SheetDialog, qtbot: QtBot, *photos: Path) -> None:
    dialog.read(list(photos))
    qtbot.waitUntil(lambda: not dialog.reader.is_reading, timeout=60_000)


def test_unclear_boxes_come_first_and_one_key_answers_each(
    dialog: SheetDialog, given: GivenSheet, sample: Sample, qtbot: QtBot, tmp_path: Path
) -> None:
    """What comes of it is counted here from what was drawn, with the answers that were given."""
    assert not dialog.main_button.isEnabled()
    photo = photographed(given, tmp_path / "kitchen.jpg")
    (tmp_path / "cat.png").write_text("no picture")
    read(dialog, qtbot, tmp_path / "cat.png", tmp_path / "gone.jpg", photo)
    troubles = dialog.asking.troubles.text()
    assert "cat.png: this is not a JPEG" in troubles
    assert "gone.jpg cannot be read" in troubles
    asked = dialog.answers.to_ask()
    assert len(asked) > 2
    assert dialog.here == asked[0]
    meant = photo_of(given, corrections=0.06).meant
    corrected = [n for n, m in enumerate(meant) if m is Meant.CORRECTED]
    assert [spot.place for spot in asked] == corrected
    qtbot.keyClick(dialog.view, Qt.Key.Key_M)
    assert dialog.here == asked[1]
    boxes = given.grid.pages[0].boxes
    left_open = next(n for n in corrected[1:] if isinstance(boxes[n].says, DoseSays))
    for spot in asked[1:]:
        is_skipped = spot.place == left_open
        qtbot.keyClick(dialog.view, Qt.Key.Key_S if is_skipped else Qt.Key.Key_E)
    assert dialog.answers.to_ask() == ()
    said = [m is Meant.MARKED or n == corrected[0] for n, m in enumerate(meant)]
    count: Counter[tuple[date, str]] = Counter()
    for box, is_marked in zip(boxes, said, strict=True):
        if isinstance(box.says, DoseSays):
            count[box.says.day, box.says.remedy] += is_marked
    skipped = boxes[left_open].says
    assert isinstance(skipped, DoseSays)
    taken = {(entry.day, entry.remedy): entry.doses for entry in dialog.reported().taken}
    assert (skipped.day, skipped.remedy) not in taken
    days = {day for day, _ in taken}
    del count[skipped.day, skipped.remedy]
    assert taken == {key: n for key, n in count.items() if key[0] in days}
    assert len(days) > 20
    dialog.keep.setChecked(True)
    dialog.submit()
    ((entry),) = client_consultations(sample.practice, sample.clients["efua"])
    (kept,) = entry.attachments
    assert attachment_to_read(sample.practice, kept.id).read_bytes().startswith(b"\x89PNG")


def test_any_box_can_be_put_right_and_a_draft_is_read_again(
    dialog: SheetDialog, given: GivenSheet, sample: Sample, qtbot: QtBot, tmp_path: Path
) -> None:
    read(dialog, qtbot, photographed(given, tmp_path / "kitchen.jpg"))
    first = dialog.here
    assert first is not None
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Left):
        qtbot.keyClick(dialog.view, key)
    here = dialog.here
    assert here is not None
    box = dialog.answers.box(here)
    other = BoxState.EMPTY if box.state is BoxState.MARKED else BoxState.MARKED
    dialog.say(other)
    assert dialog.answers.state(here) is other
    spy = QSignalSpy(dialog.answers.wanted)
    again = SheetAnswers(given_sheets(sample.practice, sample.course))
    again.put_draft_value(dialog.answers.draft_value())
    assert again.draft_value() == dialog.answers.draft_value()
    dialog.answers.put_draft_value(dialog.answers.draft_value())
    assert spy.count() == 1
    qtbot.waitUntil(lambda: not dialog.reader.is_reading, timeout=60_000)
    assert dialog.answers.state(here) is other
    page = dialog.answers.pages[here.code]
    differing = replace(page.boxes[0], state=BoxState.UNCLEAR)
    dialog.answers.add(replace(page, source="again", boxes=(differing, *page.boxes[1:])))
    assert dialog.answers.pages[here.code].boxes[0].state is BoxState.UNCLEAR
    assert "again: this page was already read" in dialog.asking.troubles.text()


def test_stopped_nothing_more_is_read(
    dialog: SheetDialog, given: GivenSheet, qtbot: QtBot, tmp_path: Path
) -> None:
    photos = [photographed(given, tmp_path / f"{n}.jpg") for n in range(3)]
    dialog.read(photos)
    assert dialog.progress.text() == "Reading file 1 of 3…"
    dialog.stop.click()
    dialog.reader.finish()
    qtbot.wait(1)
    assert not dialog.answers.pages
    assert not dialog.main_button.isEnabled()


def test_without_a_sheet_that_was_given_it_says_so(
    sample: Sample, theme: Theme, qtbot: QtBot
) -> None:
    sheets = given_sheets(sample.practice, sample.course)
    dialog = SheetDialog(sheets, NAMES, theme, lambda *_: None)
    qtbot.addWidget(dialog)
    assert not dialog.add.isEnabled()
    assert dialog.progress.text().startswith("No diary sheet was given for this course.")
    assert not dialog.keep.isEnabled()
