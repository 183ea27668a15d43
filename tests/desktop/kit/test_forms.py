"""Forms: rows that share a line where they fit."""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QApplication, QLineEdit, QPlainTextEdit
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm, FieldRow
from sennight.desktop.kit.prose import MOST_IN_PROSE
from sennight.desktop.kit.theme import Theme

LONG = "One reminder for doses within so many minutes of each other"


def test_rows_share_a_line_where_they_fit_and_are_never_cut(qtbot: QtBot, theme: Theme) -> None:
    form = FieldForm()
    qtbot.addWidget(form)
    one, other = form.line((LONG, QLineEdit()), (LONG, QLineEdit()))
    label = one.label.sizeHint().width()
    form.show()
    for width, shared in ((label * 3, True), (round(label * 1.2), False), (label * 3, True)):
        form.resize(width, 30 * theme.line)
        QCoreApplication.processEvents()
        assert (one.y() == other.y()) is shared
        assert one.label.width() >= label
        assert other.mapTo(form, other.rect().bottomRight()).x() <= width
    form.hide()


def test_a_dialog_is_wide_enough_for_its_body(qtbot: QtBot, theme: Theme) -> None:
    sheet, form = FormDialog(None, "Handout and reminders…", do="Write"), FieldForm()
    qtbot.addWidget(sheet)
    form.row(LONG, QLineEdit())
    sheet.set_body(form, columns=10, lines=20)
    sheet.show()
    QCoreApplication.processEvents()
    row = form.rows[0]
    assert row.label.width() >= row.label.sizeHint().width()
    assert row.mapTo(sheet, row.rect().bottomRight()).x() <= sheet.width() - theme.unit
    sheet.hide()


def test_a_field_of_one_line_says_where_it_ends(qtbot: QtBot, theme: Theme) -> None:
    """A name of thousands of letters fits onto no paper; what is pasted is not cut in silence."""
    assert theme
    form, field = FieldForm(), QLineEdit()
    qtbot.addWidget(form)
    row = form.row("Name", field)
    QApplication.clipboard().setText("x" * 500)
    field.paste()
    assert field.text() == "x" * 200
    assert row.is_wrong
    assert row.beneath.text() == "At most 200 letters fit here; the rest was left out."


def test_of_a_text_that_is_too_long_the_end_of_what_came_is_left_out(qtbot: QtBot) -> None:
    row = FieldRow("What", field := QPlainTextEdit())
    qtbot.addWidget(row)
    row.show()
    field.setPlainText("x" * 6000)  # as a record of an earlier version may hold
    assert len(field.toPlainText()) == 6000
    field.setPlainText("head tail")
    field.setFocus()
    qtbot.waitUntil(field.hasFocus)
    cursor = field.textCursor()
    cursor.setPosition(5)
    cursor.insertText("\N{HERB}" + "y" * 6000)
    text = field.toPlainText()
    assert text.startswith("head \N{HERB}yyy")
    assert text.endswith("yyytail")
    assert len(text.encode("utf-16-le")) == 2 * MOST_IN_PROSE
    assert row.beneath.text() == "At most 5000 letters fit here; the rest was left out."
    qtbot.keyClicks(field, "z")
    assert field.toPlainText() == text
