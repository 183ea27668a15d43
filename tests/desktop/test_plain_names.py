"""No name, note or reason is ever taken for markup, wherever the window shows it.

A course file and a practice file may come from a stranger. Qt shows a text that begins like HTML
as such, and an `<img>` in it reads a file or, on Windows, asks another computer. So every screen
is walked through on a practice in which all that people can type begins with one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date

import pytest
from PySide6.QtCore import QAbstractItemModel, QAbstractListModel, QEvent, QPoint, Qt
from PySide6.QtGui import QAction, QHelpEvent, QTextDocument
from PySide6.QtGui import Qt as GuiQt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QLabel,
    QTableView,
    QTextEdit,
    QToolTip,
    QWidget,
)
from pytestqt.qtbot import QtBot

from sennight.desktop import pictures
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.plain_text import plain_caption, plain_tip
from sennight.desktop.shell.appearance import Appearance
from sennight.desktop.shell.main_window import MainWindow
from sennight.desktop.shell.settings import Settings
from sennight.domain.courses.courses import Course
from sennight.domain.herbs.own_herbs import OwnHerb
from sennight.practice import demo
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import save_herb_note, save_own_herb

EVIL = "<img src='stolen.png'>&<b>"
TODAY = date(2027, 3, 3)
Role = Qt.ItemDataRole


def made_evil(value: object, *names: str) -> object:
    """The same with EVIL before every text that people type freely, through all it holds."""
    if isinstance(value, tuple):
        return tuple(made_evil(part, *names) for part in value)
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        now = getattr(value, field.name)
        is_free = field.name in names and isinstance(now, str)
        changed[field.name] = EVIL + now if is_free else made_evil(now, *names)
    return replace(value, **changed)


@pytest.fixture
def evil() -> demo.Demo:
    whole = demo.read_demo(TODAY)
    clients = []
    for client in whole.clients[:3]:
        course = made_evil(client.file.course, "name", "reason", "remedy_name", "what", "dose")
        assert isinstance(course, Course)
        file = replace(client.file, course=course)
        clients.append(replace(client, file=file, contact=EVIL, note=EVIL))
    card = replace(whole.card, name=EVIL, practitioner=EVIL, address=(EVIL,))
    return replace(whole, card=card, clients=tuple(clients))


def fill(practice: OpenPractice, evil: demo.Demo) -> None:
    for client in evil.clients:
        demo._add(practice, client, EVIL)
    save_own_herb(practice, OwnHerb("own-1", EVIL, latin=EVIL, family=EVIL, reference=EVIL))
    save_herb_note(practice, "meadowsweet", EVIL)


def taken_for_markup(text: str) -> bool:
    """Whether Qt would read a name in this text as markup."""
    if not GuiQt.mightBeRichText(text):
        return False
    shown = QTextDocument()
    shown.setHtml(text)
    return "<img" in text or (EVIL in text and EVIL not in shown.toPlainText())


def said(window: QWidget) -> Iterator[tuple[object, str]]:
    """All that could be shown as markup: labels, tips of widgets, actions, cells and headings."""
    for widget in (window, *window.findChildren(QWidget)):
        yield widget, widget.toolTip()
        if isinstance(widget, QLabel) and widget.textFormat() is not Qt.TextFormat.PlainText:
            yield widget, widget.text()
        if isinstance(widget, QAbstractItemView) and widget.model() is not None:
            yield from ((widget, text) for text in tips_of(widget.model()))
        if isinstance(widget, QTextEdit):
            assert not any(form.isImageFormat() for form in widget.document().allFormats())
    for action in window.findChildren(QAction):
        yield action, action.toolTip()


def tips_of(model: QAbstractItemModel) -> Iterator[str]:
    rows = min(model.rowCount(), 15)
    columns = 1 if isinstance(model, QAbstractListModel) else model.columnCount()
    for row in range(rows):
        for column in range(columns):
            yield str(model.data(model.index(row, column), Role.ToolTipRole) or "")
    for way, count in ((Qt.Orientation.Horizontal, columns), (Qt.Orientation.Vertical, rows)):
        for section in range(count):
            yield str(model.headerData(section, way, Role.ToolTipRole) or "")


def tips_over(view: QWidget) -> None:
    """Ask for a tip all over a widget that makes its own."""
    for x in range(0, view.width(), 60):
        for y in range(0, view.height(), 10):
            at = QPoint(x, y)
            QApplication.sendEvent(view, QHelpEvent(QEvent.Type.ToolTip, at, view.mapToGlobal(at)))


def test_no_name_is_markup_on_any_screen(
    qtbot: QtBot,
    empty_practice: OpenPractice,
    evil: demo.Demo,
    appearance: Appearance,
    settings: Settings,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    fill(empty_practice, evil)
    found: list[object] = []
    seen: list[str] = []
    showing: list[str] = []
    monkeypatch.setattr(QToolTip, "showText", lambda _at, text, *_: showing.append(text))

    def walk(window: QWidget) -> bytes:
        for _ in range(3):
            QApplication.processEvents()
        for timeline in window.findChildren(Timeline):
            if timeline.isVisible():
                tips_over(timeline)
        told = [*said(window), *((window, text) for text in showing)]
        showing.clear()
        seen.extend(text for _, text in told)
        assert "stolen.png" not in window.windowTitle(), "the system keeps titles of windows"
        found.extend((owner, text) for owner, text in told if taken_for_markup(text))
        return b""

    monkeypatch.setattr(pictures, "picture", walk)
    frame = MainWindow(empty_practice, appearance, settings, today=lambda: TODAY)
    qtbot.addWidget(frame, before_close_func=QWidget.hide)
    frame.show()
    for name, draw in pictures.screens(empty_practice, evil):
        draw(frame)
        assert found == [], name
    assert sum("stolen.png" in text for text in seen) > 50, "names were among what was looked at"


def test_a_tip_shows_a_text_letter_by_letter() -> None:
    for text in ("Una Example", EVIL, f"a < b\n{EVIL}", "&lt;", f"{EVIL}\ntwo  lines"):
        shown = QTextDocument()
        tip = plain_tip(text)
        if GuiQt.mightBeRichText(tip):
            shown.setHtml(tip)
        else:
            shown.setPlainText(tip)
        assert shown.toPlainText() == text
    assert plain_caption("Milk & honey") == "Milk && honey"


def test_the_walk_sees_a_name_that_is_markup(qtbot: QtBot) -> None:
    assert qtbot
    label = QLabel(EVIL)
    assert [text for _, text in said(label) if taken_for_markup(text)] == [EVIL]
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setToolTip(EVIL)
    assert [text for _, text in said(label) if taken_for_markup(text)] == [EVIL]
    label.setToolTip(plain_tip(EVIL))
    assert not any(taken_for_markup(text) for _, text in said(label))
    assert QTableView().model() is None
