"""The review page: how it goes at the left, the diary and last time at the right, then decide."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.course.actions import decision_specs, gate_spec, page_specs, review_specs
from sennight.desktop.course.review.charts import ReviewCharts
from sennight.desktop.course.review.fullness import FullnessModel, FullnessView
from sennight.desktop.course.review.shares import SharesTable
from sennight.desktop.course.review.since import SincePanel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import (
    Shortened,
    button,
    hairline,
    pressed_by_enter,
    restyle,
    text_label,
)
from sennight.desktop.kit.wrapped_row import WrappedRow
from sennight.domain.charts.review import Review
from sennight.domain.charts.review_words import how_it_goes
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.gate_words import gate_sentence
from sennight.practice.course_reading import CourseReading
from sennight.practice.reviewing import SinceGiven

LARGE = 125
"""From this size of text on the title is set smaller, so that it fits beside the buttons."""


class ReviewView(QWidget):
    """Shows a review; what is to be done is told by signals, and done by the course page."""

    closed = Signal()
    wanted = Signal(str)
    """The id of an action of the page: diary, scores, give, gate, or a kind of decision."""
    day_wanted = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.title = Shortened("", Role.TITLE)
        self.when = Shortened("", Role.QUIET)
        self.goes = text_label("", Role.STRONG, wrap=True)
        self.gates = text_label("", wrap=True)
        self.charts = ReviewCharts(theme)
        self.calendar = FullnessView(FullnessModel(self), theme)
        self.day = text_label("", Role.QUIET, wrap=True)
        self.shares = SharesTable(self)
        self.since = SincePanel()
        self.status = text_label("", Role.ALARM, wrap=True)
        self.status.hide()
        self.buttons: dict[str, QPushButton] = {}
        self.calendar.described.connect(self.day.setText)
        self.calendar.day_chosen.connect(self.day_wanted)
        self._lay_out()
        self.apply_theme(theme)

    def _lay_out(self) -> None:
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(self._head())
        self._layout.addWidget(hairline())
        halves = self._halves = QHBoxLayout()
        gate = QWidget()
        beside = QHBoxLayout(gate)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.gates, 1)
        spec = gate_spec()
        change = self._button(spec.id, spec.text, spec.keys[0], kind="link")
        beside.addWidget(change, 0, Qt.AlignmentFlag.AlignTop)
        left = (self.goes, gate, self.charts)
        heading = text_label(translate("Review", "Diary"), Role.HEADING)
        self.figures = text_label(translate("Review", "Taken, of what was due"), Role.HEADING)
        right = (heading, self.calendar, self.day, self.since, self.figures, self.shares)
        halves.addWidget(_scrolled(*left), 8)
        halves.addWidget(_scrolled(*right), 5)
        self._layout.addLayout(halves, 1)
        self._layout.addWidget(hairline())
        self._layout.addWidget(self.status)
        self._layout.addWidget(self._decisions())

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self.title)
        names.addWidget(self.when)
        head.addLayout(names, 1)
        back = button(
            translate("Review", "Back"),
            tip=translate("Review", "Back to the course (Escape)"),
        )
        back.clicked.connect(self.closed)
        head.addWidget(back)
        for spec in page_specs():
            kind = "main" if spec.id == "give" else ""
            head.addWidget(self._button(spec.id, spec.text, spec.keys[0], kind=kind))
        return head

    def _decisions(self) -> QWidget:
        """One button for each thing that can be decided, with the keys of the course page."""
        keys = {spec.id: spec.keys[0] for spec in decision_specs()}
        bar = QWidget()
        row = self._deciding = WrappedRow(bar)
        row.addWidget(text_label(translate("Review", "Decide:"), Role.STRONG))
        for spec in review_specs():
            row.addWidget(self._button(spec.id, spec.text, keys[spec.id]))
        return bar

    def _button(self, action: str, text: str, key: str, *, kind: str = "") -> QPushButton:
        made = button(text, kind=kind, tip=f"{text} ({key})")
        made.setShortcut(QKeySequence(key))
        made.clicked.connect(partial(self.wanted.emit, action))
        self.buttons[action] = made
        return made

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        self.theme, unit = theme, theme.unit
        self.title.setProperty("role", "title" if theme.scale < LARGE else "heading")
        restyle(self.title)
        self._layout.setContentsMargins(unit * 8, unit * 2, unit * 6, unit)
        self._layout.setSpacing(unit * 2)
        self._halves.setSpacing(unit * 6)
        self._deciding.setSpacing(unit * 2)
        self.charts.apply_theme(theme)
        self.calendar.apply_theme(theme)
        self.shares.apply_theme(theme)

    def show_review(self, reading: CourseReading, review: Review, since: SinceGiven) -> None:
        """Show a course as it stands today."""
        self.refuse("")
        text = translate("Review", "Review on {day}")
        self.when.setText(text.format(day=plain_date(reading.today)))
        none = translate("Review", "Nothing was rated twice yet.")
        self.goes.setText(how_it_goes(review) or none)
        gates = [gate_sentence(gate, reading.today) for gate in review.gates_now]
        none = translate("Review", "No gate waits in the phase that runs now.")
        self.gates.setText(" ".join(gates) or none)
        self.charts.show_review(review)
        self.calendar.show_review(review)
        self.shares.show_review(review, self.theme)
        self.figures.setVisible(review.report is not None)
        self.since.show_since(reading, since)

    def refuse(self, text: str) -> None:
        """Say why something could not be done."""
        self.status.setText(text)
        self.status.setVisible(bool(text))

    def take_focus(self) -> None:
        """Give the keyboard to the diary's days."""
        QTimer.singleShot(0, self.calendar, self.calendar.setFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape goes back to the course; Enter presses a button."""
        if pressed_by_enter(event, self.focusWidget()):
            return
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def _scrolled(*parts: QWidget) -> QScrollArea:
    """Parts beneath each other that scroll where they are too high."""
    area, inner = QScrollArea(), QWidget()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    column = QVBoxLayout(inner)
    column.setContentsMargins(0, 0, 8, 0)
    for part in parts:
        column.addWidget(part)
    column.addStretch(1)
    area.setWidget(inner)
    return area
