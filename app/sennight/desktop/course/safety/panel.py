"""Safety, first of what follows: the findings, worst first, and what was checked."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, QTimer, Signal
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from sennight.desktop.course.safety.acts import ActButtons
from sennight.desktop.course.safety.findings_view import FindingsView
from sennight.desktop.course.safety.marks import mark_icon
from sennight.desktop.course.safety.rows import finding_rows, glance, summary
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.safety.acting import acts
from sennight.practice.course_reading import CourseReading
from sennight.practice.safety import SafetyReport, Severity


class SafetyPanel(QWidget):
    """The findings of the course on screen; `ahead_wanted` names one to go ahead with.

    `glance` tells the gravest in a word, for the top of the column, and leads here.
    """

    ahead_wanted = Signal(str)
    discuss_wanted = Signal(str)
    act_wanted = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._reading: CourseReading | None = None
        self._unfolded: set[str] = set()
        self.checked = SafetyReport((), (), "")
        self.summary = text_label("", wrap=True)
        self.view = FindingsView(theme)
        self.glance = button("", kind="glance")
        self.glance.clicked.connect(lambda: self.go_to(self.view.current_id()))
        self.ahead = button(
            self.tr("Accept with a reason…"),
            tip=self.tr("Accept with a reason; Enter on the finding does the same"),
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(text_label(self.tr("Safety"), Role.HEADING))
        self.discuss = button(
            self.tr("Discussed with the client…"),
            tip=self.tr("Mark this caution as discussed; it comes back when something changes"),
        )
        self.discuss.clicked.connect(lambda: self.discuss_wanted.emit(self.view.current_id()))
        self.acts = ActButtons()
        self.acts.wanted.connect(self.act_wanted)
        for part in (self.summary, self.view, self.ahead, self.discuss, self.acts):
            layout.addWidget(part)
        self.view.toggled.connect(self._toggle)
        self.view.ahead_wanted.connect(self.ahead_wanted)
        self.view.selectionModel().currentChanged.connect(lambda _now: self._follow())
        self.view.selectionModel().currentChanged.connect(lambda _now: self._offer())
        self.view.installEventFilter(self)
        self.ahead.clicked.connect(lambda: self.ahead_wanted.emit(self._wanted()))

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._theme = theme
        self.view.apply_theme(theme)
        self.glance.setIconSize(QSize(theme.unit * 3, theme.unit * 3))
        self._update_text()

    def refresh(self, reading: CourseReading) -> None:
        """Say what stands against the course."""
        self._reading, self.checked = reading, reading.safety
        self._update_text()
        self.ahead.setVisible(bool(self.checked.unaccepted))
        self._fill()

    def _update_text(self) -> None:
        """The gravest at a glance, and how many there are of each."""
        self.summary.setText(summary(self.checked))
        self.glance.setText(glance(self.checked))
        worst = self.checked.lines[0].severity if self.checked.lines else None
        side = self.glance.iconSize().width()
        hollow = worst is Severity.AVOID and not self.checked.unaccepted
        self.glance.setIcon(mark_icon(self._theme, worst, side, hollow=hollow))

    def _fill(self) -> None:
        if self._reading is not None:
            rows = finding_rows(self.checked, self._reading.course, self._unfolded)
            self.view.show_rows(rows)
            self._offer()

    def _offer(self) -> None:
        """Offer what can be done about the finding in hand."""
        line = self.checked.line_of(self.view.current_id())
        held = [self.checked.decided.get(name) for name in line.ids] if line else []
        is_open = not all(decision is not None and decision.holds for decision in held)
        is_caution = line is not None and line.severity is Severity.CAUTION
        self.discuss.setVisible(is_caution and is_open)
        if self._reading is None:
            return
        ids = line.ids if line else ()
        findings = [finding for finding in self.checked.found if finding.id in ids]
        self.acts.show_acts(acts(findings, self._reading.course), self._reading)

    def _toggle(self, row_id: str) -> None:
        self._unfolded ^= {row_id}
        self._fill()

    def _wanted(self) -> str:
        """The finding in hand where it stops the course, else the first that does."""
        ids = [line.id for line in self.checked.stopping]
        at = self.view.current_id()
        return at if at in ids else ids[0]

    def go_to(self, finding_id: str) -> None:
        """Put the keyboard on a finding."""
        line = self.checked.line_of(finding_id)
        self.view.select(line.id if line else finding_id)
        self.view.setFocus()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Bring the row in hand into view when the keyboard comes to the list."""
        if event.type() == QEvent.Type.FocusIn:
            QTimer.singleShot(0, self, self._follow)
        return super().eventFilter(watched, event)

    def _follow(self) -> None:
        """Let the column scroll to the row that the keyboard is on."""
        column: QWidget | None = self.parentWidget()
        while column is not None and not isinstance(column, QScrollArea):
            column = column.parentWidget()
        inside = column.widget() if isinstance(column, QScrollArea) else None
        if isinstance(column, QScrollArea) and inside is not None and self.view.hasFocus():
            rect = self.view.visualRect(self.view.currentIndex())
            for corner in (rect.bottomLeft(), rect.topLeft()):
                column.ensureVisible(0, self.view.mapTo(inside, corner).y(), 0, 8)
