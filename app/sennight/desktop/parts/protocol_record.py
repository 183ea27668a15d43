"""What became of the courses of a protocol: counted, to be read, and to pass on as a table."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, hairline, text_label
from sennight.domain.follow_up.over_clients import ProtocolRecord
from sennight.domain.follow_up.over_clients_words import CAUTION, Row, Topic, record_rows
from sennight.practice.opening import OpenPractice
from sennight.practice.protocol_records import (
    protocols_given,
    record_of_protocol,
    write_record,
)
from sennight.practice.writing import FolderError

NAME, COUNT, SHARE, FIGURES, COLUMNS = range(5)


def topic_words(topic: Topic) -> str:
    """The heading of a topic's rows."""
    return {
        Topic.COURSES: translate("ProtocolRecord", "Courses"),
        Topic.PHASES: translate("ProtocolRecord", "Phases"),
        Topic.TAKEN: translate("ProtocolRecord", "What was taken"),
        Topic.SCORES: translate("ProtocolRecord", "How scores changed"),
        Topic.FLARE_UPS: translate("ProtocolRecord", "Flare-ups"),
        Topic.STOPPED: translate("ProtocolRecord", "Remedies stopped"),
        Topic.REACTIONS: translate("ProtocolRecord", "Reactions"),
    }[topic]


class ProtocolRecordDialog(FormDialog):
    """A choice of protocol, and the rows of its record."""

    def __init__(
        self, practice: OpenPractice, today: date, parent: QWidget | None, *, name: str = ""
    ) -> None:
        super().__init__(
            parent,
            translate("ProtocolRecord", "Over all clients"),
            do=translate("ProtocolRecord", "Close"),
        )
        self._practice, self._today = practice, today
        self.record: ProtocolRecord | None = None
        self.leave_button.hide()
        self.choice = QComboBox()
        self.choice.setAccessibleName(self.tr("Protocol"))
        self.save_button = button(self.tr("Save a table to pass on…"))
        self.save_button.clicked.connect(self.save)
        self.table = QWidget()
        self.empty = text_label(self.tr("No course was given yet."), wrap=True)
        self._lay_out_body()
        given = protocols_given(practice)
        for protocol, count in given:
            told = self.tr("{name}  ({count})").format(name=protocol, count=count)
            self.choice.addItem(told, protocol)
        self.choice.setCurrentIndex(max(0, self.choice.findData(name)))
        self.choice.currentIndexChanged.connect(self.show_record)
        self.empty.setVisible(not given)
        self.choice.setVisible(bool(given))
        self.save_button.setEnabled(bool(given))
        self.show_record()

    def _lay_out_body(self) -> None:
        body, line = QWidget(), QHBoxLayout()
        self._rows = QVBoxLayout(body)
        self._rows.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.choice)
        line.addStretch(1)
        line.addWidget(self.save_button)
        self._rows.addLayout(line)
        self._rows.addWidget(text_label(self.tr(CAUTION), Role.QUIET, wrap=True))
        self._rows.addWidget(self.empty)
        self._rows.addWidget(self.table)
        self._rows.addStretch(1)
        self.set_body(body, columns=104, lines=38)

    def show_record(self) -> None:
        """Count the courses of the protocol that is chosen, and show what comes out."""
        name = self.choice.currentData()
        if name is None:
            return
        self.record = record_of_protocol(self._practice, name, self._today)
        table = _table(record_rows(self.record), self.fontMetrics().height())
        self._rows.replaceWidget(self.table, table)
        self.table.deleteLater()
        self.table = table

    def save(self) -> None:
        """Write what can be passed on, and say what was left out of it."""
        if self.record is None:
            return
        title = self.tr("A table to pass on")
        path = ask_where(self, title, f"{self.tr('over clients')}.csv", self.tr("Tables (*.csv)"))
        if path is None:
            return
        try:
            written = write_record(self._practice, self.record, path)
        except FolderError as error:
            message_dialog(self, self.tr("Could not be saved"), str(error)).exec()
            return
        told = self.tr(
            "Without names, dates, reasons, and without counts and figures of fewer than five "
            "courses: {path}"
        )
        message_dialog(self, self.tr("Saved"), told.format(path=written)).exec()


def _table(rows: tuple[Row, ...], gap: int) -> QWidget:
    """The rows under their topics, shares drawn; what was written down stands beneath its row."""
    table = QWidget()
    grid = QGridLayout(table)
    grid.setContentsMargins(0, gap // 2, 0, 0)
    grid.setHorizontalSpacing(gap * 2)
    topic, at = None, 0
    for row in rows:
        if row.topic is not topic:
            topic = row.topic
            grid.setRowMinimumHeight(at, gap * 2)
            heading = text_label(topic_words(topic), Role.STRONG)
            grid.addWidget(heading, at, 0, 1, COLUMNS, Qt.AlignmentFlag.AlignBottom)
            grid.addWidget(hairline(), at + 1, 0, 1, COLUMNS)
            at += 2
        for column, text in ((NAME, _name(row.name)), (COUNT, row.told_count)):
            grid.addWidget(text_label(text), at, column, Qt.AlignmentFlag.AlignTop)
        if row.of:
            grid.addWidget(ShareBar(row.count / row.of), at, SHARE)
        figures = text_label(row.figures, wrap=True)
        grid.addWidget(figures, at, FIGURES, Qt.AlignmentFlag.AlignTop)
        at += 1
        if row.words:
            grid.addWidget(text_label(row.words, Role.QUIET, wrap=True), at, SHARE, 1, 2)
            at += 1
    has_figures = any(row.figures for row in rows)
    grid.setColumnStretch(SHARE, 2)
    grid.setColumnStretch(FIGURES, 3 if has_figures else 0)
    return table


class ShareBar(QWidget):
    """How many of how many, as a part of a bar; the figures beside it say the same."""

    def __init__(self, share: float) -> None:
        super().__init__()
        self.share = share

    def sizeHint(self) -> QSize:
        """A line of text high."""
        line = self.fontMetrics().height()
        return QSize(line * 6, line)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - Qt's name
        """Draw it; where there is none the frame alone."""
        painter, palette = QPainter(self), self.palette()
        high = self.fontMetrics().height() // 2
        bar = QRect(0, (self.height() - high) // 2, self.width() - 1, high)
        painter.fillRect(bar, palette.midlight())
        part = QRect(bar.topLeft(), QSize(round(bar.width() * self.share), high))
        painter.fillRect(part, palette.placeholderText())
        painter.setPen(palette.placeholderText().color())
        painter.drawRect(bar.adjusted(0, 0, 0, -1))


def _name(name: str) -> str:
    return f"{name[:1].upper()}{name[1:]}"
