"""Safety, first of what follows: the findings, worst first, and what was checked."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, QTimer, Signal
from PySide6.QtWidgets import QScrollArea, QWidget

from sennight.desktop.course.safety.acts import ActButtons
from sennight.desktop.course.safety.findings_view import FindingsView
from sennight.desktop.course.safety.rows import (
    finding_rows,
    summary,
    told_at_head,
    without_finding,
)
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.desktop.parts.fold import Fold
from sennight.desktop.parts.severity_marks import mark_icon
from sennight.domain.safety.acting import acts
from sennight.practice.course_reading import CourseReading
from sennight.practice.safety import SafetyReport, Severity


class SafetyPanel(Fold):
    """The findings of the course on screen; `ahead_wanted` names one to go ahead with.

    Its heading counts them and has the mark of the gravest. What can be done about a finding is
    offered once it is in hand.
    """

    ahead_wanted = Signal(str)
    discuss_wanted = Signal(str)
    act_wanted = Signal(object)
    checked_anew = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(translate("Safety", "Safety"), theme)
        self._theme = theme
        self._reading: CourseReading | None = None
        self._unfolded: set[str] = set()
        self._in_hand = ""
        self._marked: tuple[Theme, Severity | None, bool] | None = None
        self.checked = SafetyReport((), (), "")
        self.view = FindingsView(theme)
        self.ahead = button(
            self.tr("Accept with a reason…"),
            tip=self.tr("Accept with a reason; Enter on the finding does the same"),
        )
        self.discuss = button(
            self.tr("Discussed with the client…"),
            tip=self.tr("Mark this caution as discussed; it comes back when something changes"),
        )
        self.discuss.clicked.connect(lambda: self.discuss_wanted.emit(self.view.current_id()))
        self.acts = ActButtons()
        self.acts.wanted.connect(self.act_wanted)
        for part in (self.view, self.ahead, self.discuss, self.acts):
            self.room.addWidget(part)
        self.set_open(is_open=True)
        self.view.toggled.connect(self._toggle)
        self.view.ahead_wanted.connect(self.ahead_wanted)
        self.view.selectionModel().currentChanged.connect(lambda _now: self._follow())
        self.view.selectionModel().currentChanged.connect(lambda _now: self._take_in_hand())
        self.view.installEventFilter(self)
        self.ahead.clicked.connect(lambda: self.ahead_wanted.emit(self._wanted()))

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        super().apply_theme(theme)
        self._theme = theme
        self.view.apply_theme(theme)
        self._update_text()

    def begin(self) -> None:
        """Fold everything: another course is in hand."""
        self._unfolded, self._in_hand = set(), ""

    def refresh(self, reading: CourseReading) -> None:
        """Say what stands against the course."""
        self._reading, self.checked = reading, reading.safety
        self._update_text()
        self.ahead.setVisible(bool(self.checked.unaccepted))
        self._fill()
        self.checked_anew.emit()

    def _update_text(self) -> None:
        """The gravest at a glance, and how many there are of each."""
        worst = self.checked.lines[0].severity if self.checked.lines else None
        side = self._theme.unit * 3
        hollow = worst is Severity.AVOID and not self.checked.unaccepted
        self.head.setAccessibleDescription(summary(self.checked))
        if (self._theme, worst, hollow) != self._marked:  # another icon lays the column out anew
            self._marked = self._theme, worst, hollow
            self.head.setIconSize(QSize(side, side))
            self.head.setIcon(mark_icon(self._theme, worst, side, hollow=hollow))
        unasked = len(self._reading.course.client.unasked) if self._reading else 0
        told, *shorter = told_at_head(self.checked, unasked)
        if not told:
            told, *shorter = without_finding(unasked)
        doubt = (lambda theme: theme.doubt) if unasked else None
        tone = (lambda theme: theme.alarm) if self.checked.stopping else doubt
        self.head.say(told, tone, shorter=tuple(filter(None, shorter)))

    def _fill(self) -> None:
        if self._reading is not None:
            rows = finding_rows(self.checked, self._reading.course, self._unfolded)
            self.view.show_rows(rows)
            self._offer()

    def body_height(self, width: int) -> int:
        """All rows, and what is offered about the one in hand."""
        offered = (self.ahead, self.discuss, self.acts)
        shown = [part.sizeHint().height() for part in offered if not part.isHidden()]
        return self.view.height_in(width) + sum(shown) + self.room.spacing() * len(shown)

    def _take_in_hand(self) -> None:
        if self.view.hasFocus():
            self._in_hand = self.view.current_id()
        self._offer()

    def _offer(self) -> None:
        """Offer what can be done about the finding in hand."""
        line = self.checked.line_of(self.view.current_id())
        held = [self.checked.decided.get(name) for name in line.ids] if line else []
        is_open = not all(decision is not None and decision.holds for decision in held)
        is_caution = line is not None and line.severity is Severity.CAUTION
        is_in_hand = line is not None and (line.id == self._in_hand or line.id in self._unfolded)
        self.discuss.setVisible(is_caution and is_open and is_in_hand)
        if self._reading is None:
            return
        ids = line.ids if line and (is_in_hand or line in self.checked.stopping) else ()
        findings = [finding for finding in self.checked.found if finding.id in ids]
        self.acts.show_acts(acts(findings, self._reading.course), self._reading)

    def _toggle(self, row_id: str) -> None:
        self._unfolded ^= {row_id}
        self._in_hand = row_id if row_id in self._unfolded else ""
        self._fill()
        self.fold_changed.emit()

    def _wanted(self) -> str:
        """The finding in hand where it stops the course, else the first that does."""
        ids = [line.id for line in self.checked.stopping]
        at = self.view.current_id()
        return at if at in ids else ids[0]

    def go_to(self, finding_id: str) -> None:
        """Put the keyboard on a finding."""
        line = self.checked.line_of(finding_id)
        self.set_open(is_open=True)
        self.view.select(line.id if line else finding_id)
        self.view.setFocus()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Bring the row in hand into view when the keyboard comes to the list."""
        if event.type() == QEvent.Type.FocusIn:
            self._in_hand = self.view.current_id()
            self._offer()
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
