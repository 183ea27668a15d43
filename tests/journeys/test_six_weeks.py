"""A follow-up of six weeks by the keyboard alone, every act counted.

Once the gate is met: diary and scores are keyed in, the course moves on, and the client gets a
new sheet and calendar, which the phone then agrees with. Once the scores got worse: the page says
so and proposes nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from readers.phone import Phone
from sennight.desktop.course.decisions.timing import MoveOn
from sennight.desktop.course.diary.diary import DiaryDialog
from sennight.desktop.course.diary.scores import ScoresDialog
from sennight.desktop.course.giving import dialog as give_dialog
from sennight.desktop.course.giving.dialog import GiveDialog
from sennight.desktop.course.review.main import ReviewMain
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Scheme, Settings
from sennight.domain.courses.courses import Advance
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.schedule.doses import doses
from sennight.practice.courses import course_entry, save_course, start_course
from sennight.practice.diaries import diary, scores
from sennight.practice.given_papers import GiveChoices
from sennight.practice.giving import give
from support.hands import Hands
from support.pages import clients_of, controller_of
from support.practice_files import new_sample
from support.sample_practice import Sample

Key = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier
SHIFTED = CTRL | Qt.KeyboardModifier.ShiftModifier
START, TODAY = date(2027, 1, 4), date(2027, 2, 15)
BEGUN = datetime(2027, 1, 4, 8, tzinfo=UTC)
MOST = 60
"""So many acts are allowed, letters and figures included."""


@pytest.fixture
def sample(tmp_path: Path) -> Iterator[Sample]:
    """Twelve weeks of loading behind a gate, six of them gone by; nothing reported yet."""
    made = new_sample(tmp_path / "practice.sennight")
    practice = made.practice
    course = start_course(
        practice, made.clients["noor"], made.protocols["joints"], START, now=BEGUN
    )
    entry = course_entry(practice, course)
    loading, *rest = entry.course.protocol.phases
    loading = replace(loading, length=Length(12, CalendarUnit.WEEKS), gate=Gate("pain", 30))
    changed = replace(entry.course.protocol, phases=(loading, *rest))
    save_course(practice, entry, replace(entry.course, protocol=changed), now=BEGUN)
    yield replace(made, course=course)
    practice.close()


@pytest.fixture
def frame(
    sample: Sample, tmp_path: Path, qapp: QApplication, qtbot: QtBot
) -> Iterator[MainWindow]:
    settings = Settings(tmp_path / "settings.ini")
    settings.scheme = Scheme.LIGHT
    made = MainWindow(sample.practice, Appearance(qapp, settings), settings, today=lambda: TODAY)
    made.resize(1280, 800)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    yield made
    made.close()
    made.deleteLater()
    QCoreApplication.sendPostedEvents(made, QEvent.Type.DeferredDelete)


def report(hands: Hands, pain: tuple[str, ...]) -> None:
    """Six weeks of the diary at one key a week; a rating at the start, then one a week."""

    def fill(dialog: DiaryDialog) -> None:
        hands.press(Key.Key_W, times=6)
        hands.press(Key.Key_Return, CTRL)
        assert not dialog.isVisible()

    def rate(dialog: ScoresDialog) -> None:
        hands.press(Key.Key_Home, CTRL)
        for n, value in enumerate(pain):
            if n:
                hands.press(Key.Key_W)
            hands.type(value)
        hands.press(Key.Key_Return, CTRL)
        assert not dialog.isVisible()

    hands.press_for_dialog(fill, Key.Key_E, CTRL)
    hands.press_for_dialog(rate, Key.Key_R, CTRL)


def to_the_review(hands: Hands, frame: MainWindow, qtbot: QtBot) -> ReviewMain:
    """From wherever the window is: find the client, open the course, then its review."""
    hands.press(Key.Key_F, CTRL)
    hands.type("noor")
    hands.press(Key.Key_Return)
    qtbot.waitUntil(clients_of(frame).folder.rows.hasFocus)
    hands.press(Key.Key_Return)
    hands.press(Key.Key_D, CTRL)
    qtbot.waitUntil(lambda: controller_of(frame).review.is_open)
    parts = controller_of(frame).review.parts
    assert parts is not None
    qtbot.waitUntil(parts[1].calendar.hasFocus)
    return parts[0]


def aside_words(frame: MainWindow) -> str:
    """What the right side of the review says of last time."""
    parts = controller_of(frame).review.parts
    assert parts is not None
    return parts[1].since.told.text()


def acts(hands: Hands) -> int:
    return hands.pressed + hands.clicked + hands.typed


def shown_from(phone: Phone, day: date) -> list[tuple[date, str]]:
    """What the phone rings for from a day on: the day and the time, once each."""
    found = [when for when, *_ in phone.shown() if isinstance(when, datetime)]
    return sorted({(at.date(), f"{at:%H:%M}") for at in found if at.date() >= day})


def test_six_weeks_well_kept_the_gate_met_and_the_course_moves_on(
    sample: Sample,
    frame: MainWindow,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    practice, course_id, phone = sample.practice, sample.course, Phone()
    folder = tmp_path / "given"
    monkeypatch.setattr(give_dialog, "documents_folder", lambda: folder)
    choices = GiveChoices(ReminderChoices())
    first = give(practice, course_id, tmp_path / "first", now=BEGUN, today=START, choices=choices)
    for path in first:
        if path.suffix == ".ics":
            phone.read(path.read_bytes())
    hands = Hands()
    page = to_the_review(hands, frame, qtbot)
    report(hands, ("7", "7", "6", "6", "5", "5", "4.5"))
    assert page.goes.text() == "Better: pain (7 to 4.5)."
    assert "Met: it fell by 35.7 %" in page.gates.text()
    assert "(100 %)" in page.charts.taken.text()
    assert len(diary(practice, course_id)) == 84
    assert len(scores(practice, course_id)) == 7

    def move_on(dialog: MoveOn) -> None:
        hands.press(Key.Key_Return, CTRL)
        assert not dialog.isVisible()

    hands.press_for_dialog(move_on, Key.Key_M, SHIFTED)
    course = course_entry(practice, course_id).course
    assert course.revisions == (Advance(on=TODAY, to="maintenance", first=TODAY),)

    def save(dialog: GiveDialog) -> None:
        hands.press(Key.Key_Return)
        assert dialog.is_done
        dialog.reject()

    hands.press_for_dialog(save, Key.Key_P, CTRL)
    last = aside_words(frame)
    assert "Given on" in last
    assert "handout, diary sheet and calendar file." in last
    assert "Maintenance begins on 15 February 2027" in last
    given = {path.name: path.suffix for path in folder.iterdir()}
    assert sorted(given.values()) == [".ics", ".json", ".pdf", ".pdf"]
    for name, suffix in given.items():
        if suffix == ".ics":
            phone.read((folder / name).read_bytes())
    due = {(dose.date, f"{dose.time:%H:%M}") for dose in doses(lay_out(course))}
    tomorrow = TODAY + timedelta(1)
    assert shown_from(phone, tomorrow) == sorted(at for at in due if at[0] >= tomorrow)
    assert acts(hands) <= MOST, (hands.pressed, hands.clicked, hands.typed)


def test_six_weeks_in_which_it_got_worse(frame: MainWindow, sample: Sample, qtbot: QtBot) -> None:
    hands = Hands()
    page = to_the_review(hands, frame, qtbot)
    report(hands, ("5", "5", "6", "7", "7", "8", "8"))
    assert page.goes.text() == "Worse: pain (5 to 8)."
    said = " ".join(
        label.text()
        for part in controller_of(frame).review.parts or ()
        for label in part.findChildren(QLabel)
        if label.isVisibleTo(part)
    )
    assert "Not met: it rose by 60 %" in said
    assert "Worse, by enough to matter." in said
    for word in ("better", "well done", "good", "great", "met:", "keep", "success", "improve"):
        assert word not in said.lower().replace("not met:", ""), word
    assert len(scores(sample.practice, sample.course)) == 7
    assert acts(hands) <= MOST, (hands.pressed, hands.clicked, hands.typed)
