"""The left side of the review: how it goes, the charts, and what can be decided."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.course.actions import decision_specs, gate_spec, review_specs
from sennight.desktop.course.review.charts import ReviewCharts
from sennight.desktop.course.review.parts import ReviewPart, scrolled
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, hairline, text_label
from sennight.desktop.kit.wrapped_row import WrappedRow
from sennight.domain.charts.review import Review
from sennight.domain.charts.review_words import how_it_goes
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.gate_words import gate_sentence


class ReviewMain(ReviewPart):
    """What is to be done is `wanted`, by its id: the gate, or a kind of decision."""

    wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.heading = text_label("", Role.HEADING)
        self.goes = text_label("", Role.STRONG, wrap=True)
        self.gates = text_label("", wrap=True)
        self.charts = ReviewCharts(theme)
        self.status = text_label("", Role.ALARM, wrap=True)
        self.status.hide()
        self.buttons: dict[str, QPushButton] = {}
        self._lay_out()
        self.apply_theme(theme)

    def _lay_out(self) -> None:
        self._layout = QVBoxLayout(self)
        self._layout.addLayout(self._head())
        self._gate_row = self._gate()
        self._scrolled = scrolled(self.goes, self._gate_row, self.charts)
        self._layout.addWidget(self._scrolled, 1)
        self._layout.addWidget(hairline())
        self._layout.addWidget(self.status)
        self._layout.addWidget(self._decisions())

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.addWidget(self.heading, 1)
        back = button(
            translate("Review", "Back to the course"),
            kind="link",
            tip=translate("Review", "Escape does it too"),
        )
        back.clicked.connect(self.closed)
        self.buttons["back"] = back
        head.addWidget(back)
        return head

    def _gate(self) -> QWidget:
        """The gate's sentence, and beside it what changes the gate."""
        gate, spec = QWidget(), gate_spec()
        beside = QHBoxLayout(gate)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.gates, 1)
        change = self._button(spec.id, spec.text, f"{spec.tip} ({spec.keys[0]})", kind="link")
        change.setShortcut(QKeySequence(spec.keys[0]))
        beside.addWidget(change, 0, Qt.AlignmentFlag.AlignTop)
        return gate

    def _decisions(self) -> QWidget:
        """One button for each thing that can be decided; the keys are those of the head's menu."""
        bar, specs = QWidget(), {spec.id: spec for spec in decision_specs()}
        row = self._deciding = WrappedRow(bar)
        row.addWidget(text_label(translate("Review", "Decide:"), Role.STRONG))
        for spec in review_specs():
            decision = specs[spec.id]
            tip = f"{decision.text} ({decision.keys[0]})"
            decide = self._button(spec.id, spec.text, tip)
            decide.setProperty("head", "true")
            row.addWidget(decide)
        return bar

    def _button(self, action: str, text: str, tip: str, *, kind: str = "") -> QPushButton:
        made = button(text, kind=kind, tip=tip)
        made.clicked.connect(partial(self.wanted.emit, action))
        self.buttons[action] = made
        return made

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        self._layout.setContentsMargins(0, 0, theme.unit * 2, 0)
        self._layout.setSpacing(theme.unit)
        self._deciding.setSpacing(theme.unit)
        self.charts.apply_theme(theme)

    def show_review(self, review: Review) -> None:
        """Show a course as it stands today."""
        self.refuse("")
        text = translate("Review", "Review on {day}")
        self.heading.setText(text.format(day=plain_date(review.today)))
        none = translate("Review", "Nothing was rated twice yet.")
        self.goes.setText(how_it_goes(review) or none)
        gates = [gate_sentence(gate, review.today) for gate in review.gates_now]
        none = translate("Review", "The current phase has no gate.")
        self.gates.setText(" ".join(gates) or none)
        self.charts.show_review(review)
        QTimer.singleShot(0, self, self._fit)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The charts are as high as there is room for."""
        super().resizeEvent(event)
        QTimer.singleShot(0, self, self._fit)  # once the parts know how wide they are

    def _fit(self) -> None:
        inner = self._scrolled.widget()
        if inner is None:
            return
        above = self.charts.mapTo(inner, QPoint(0, 0)).y()
        self.charts.fit(self._scrolled.viewport().height() - above - self.charts.theme.unit)

    def refuse(self, text: str) -> None:
        """Say why something could not be done."""
        self.status.setText(text)
        self.status.setVisible(bool(text))
