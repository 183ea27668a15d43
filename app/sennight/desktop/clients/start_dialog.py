"""The dialog in which a course is started from a protocol; it says first what it will do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QVBoxLayout, QWidget

from sennight.desktop.clients.protocol_words import protocol_words
from sennight.desktop.clients.standing import course_sentence
from sennight.desktop.dialogs import Sheet
from sennight.desktop.forms import Form, TypedField, take
from sennight.desktop.reading import ReadingError, read_date
from sennight.desktop.theme import Role
from sennight.desktop.widgets import words
from sennight.domain.clients import Client
from sennight.domain.courses import Course
from sennight.domain.plain_words import plain_date
from sennight.domain.plan import LayoutError
from sennight.domain.stretches import Layout, lay_out
from sennight.practice.protocols import ShelfProtocol


@dataclass(frozen=True, slots=True)
class Start:
    """What was chosen: a protocol of the shelf, the first day and, if given, the last."""

    protocol_id: str
    first: date
    until: date | None


class PhasesView(QWidget):
    """A protocol's phases in words, beneath each other."""

    def __init__(self) -> None:
        super().__init__()
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)

    def show_protocol(self, shelf: ShelfProtocol, client: Client) -> None:
        """Show another protocol, its directions said for that client's day."""
        while (item := self._layout.takeAt(0)) is not None:
            if (old := item.widget()) is not None:
                old.hide()
                old.deleteLater()
        names = {remedy.id: remedy.name for remedy in shelf.remedies}
        for phase in protocol_words(shelf.protocol, names, client.day):
            self._layout.addWidget(words(phase.heading, Role.STRONG, wrap=True))
            for line in phase.lines:
                self._layout.addWidget(words(line, Role.QUIET, wrap=True))
            self._layout.addSpacing(self.fontMetrics().height() // 2)
        self._layout.addStretch(1)


class StartDialog(Sheet):
    """Asks for a protocol and a first day; `answer` has them once it was accepted."""

    def __init__(
        self,
        parent: QWidget | None,
        client: Client,
        shelf: Sequence[ShelfProtocol],
        *,
        today: date,
    ) -> None:
        title = self.tr("Start a course for {name}").format(name=client.name)
        super().__init__(parent, title, do=self.tr("Start the course"))
        self._client, self._shelf = client, tuple(shelf)
        self.answer: Start | None = None
        self._make_choice()
        self._make_days(_next_monday(today))
        self.set_body(self._columns(), columns=110, lines=34)
        self.protocols.currentRowChanged.connect(self._choose)
        self.first.textEdited.connect(self._tell)
        self.until.textEdited.connect(self._tell)
        self.protocols.setCurrentRow(0)
        self.protocols.setFocus(Qt.FocusReason.OtherFocusReason)

    # Layout

    def _make_choice(self) -> None:
        self.protocols = QListWidget()
        self.protocols.setAccessibleName(self.tr("Protocols"))
        self.protocols.addItems([one.protocol.name for one in self._shelf])
        self.phases = PhasesView()

    def _make_days(self, first: date) -> None:
        self.first, self.until = TypedField(read_date), TypedField(read_date)
        self.first.setText(plain_date(first))
        self.sentence = words("", wrap=True)
        self.sentence.setAccessibleName(self.tr("What this does"))
        self._days = Form()
        self._first_row, self._until_row = self._days.line(
            (self.tr("First day"), self.first, ""),
            (self.tr("Last day of an open phase"), self.until, ""),
        )

    def _columns(self) -> QWidget:
        body = QWidget()
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(words(self.tr("Protocols"), Role.QUIET))
        left.addWidget(self.protocols, 1)
        right.addWidget(self.phases, 1)
        right.addWidget(self._days)
        right.addWidget(self.sentence)
        layout = QHBoxLayout(body)
        layout.setContentsMargins(0, 0, self.fontMetrics().height(), 0)
        layout.setSpacing(self.fontMetrics().height() * 2)
        layout.addLayout(left, 2)
        layout.addLayout(right, 5)
        return body

    # Behaviour

    @property
    def _chosen(self) -> ShelfProtocol:
        return self._shelf[max(0, self.protocols.currentRow())]

    def _choose(self) -> None:
        self.phases.show_protocol(self._chosen, self._client)
        self._until_row.setVisible(self._is_open)
        self._tell()

    @property
    def _is_open(self) -> bool:
        return any(phase.length is None for phase in self._chosen.protocol.sequence)

    def _tell(self) -> None:
        """Say what starting would do, as far as the days can be read yet."""
        for row in (self._first_row, self._until_row):
            row.explain("")
        try:
            layout = self._layout_of(self.first.value(), self._until())
        except (ReadingError, LayoutError):
            layout = None
        known = layout is not None
        self.sentence.setText(
            course_sentence(self._chosen.protocol.name, layout) if layout else ""
        )
        self.sentence.setVisible(known)

    def _until(self) -> date | None:
        return self.until.value() if self._is_open else None

    def _layout_of(self, first: date | None, until: date | None) -> Layout | None:
        """The course as it would be laid out; None without a first day."""
        if first is None:
            return None
        shelf = self._chosen
        return lay_out(Course("", self._client, shelf.remedies, shelf.protocol, first, until))

    def carry_on(self) -> None:
        """Accept with what was chosen, or show at its field what is wrong."""
        first = take(self._first_row, self.first)
        until = take(self._until_row, self.until) if self._is_open else None
        if first is None and not self._first_row.is_wrong:
            self._first_row.wrong(self.tr("A first day is needed, such as 4 January 2027"))
        if self._days.to_first_wrong() or first is None:
            return
        try:
            self._layout_of(first, until)
        except LayoutError as error:
            row = self._until_row if self._is_open else self._first_row
            row.wrong(str(error))
            self._days.to_first_wrong()
            return
        self.answer = Start(self._chosen.id, first, until)
        self.accept()


def _next_monday(today: date) -> date:
    """The Monday after a day; weeks of a course then lie as those of the calendar."""
    return today + timedelta(days=7 - today.weekday())
