"""The parts of the course page and how they share the room."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from sennight.desktop.course.calendar.calendar_view import LINES, CourseCalendar
from sennight.desktop.course.consequences.panels import ConsequencesPanel
from sennight.desktop.course.facts_strip import FactsStrip
from sennight.desktop.course.head import HeadLine
from sennight.desktop.course.lines.lines_editor import LinesEditor
from sennight.desktop.course.session import Session
from sennight.desktop.course.timeline.overlays import finding_days, score_lane
from sennight.desktop.course.timeline.view import Timeline
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.motion import slide_in
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import Shortened, hairline

LOW = 13
"""With fewer lines of text beneath the timeline, calendar and lines take turns in one place."""

LEAST_LINES = 19
"""In lines of text: lower than this the page need not be."""

LANES = 0.22
"""The remedies' lanes in the timeline take no more of the height than this, where they can."""

MOST_FOR_LINES = 0.62
"""The lines take no more of the height that they share with the days than this."""

ASIDE, LEAST_ASIDE, MOST_ASIDE = 0.285, 50, 112
"""What stands at the right: its part of the width, and in units its least and its most."""


class CourseView(QWidget):
    """Everything that shows one course; given another course by its session, it shows that.

    `aside` is the place at the right: what follows, and over it for as long as it is asked for
    a panel that `put_aside` was given.
    """

    decision_wanted = Signal(str)

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._put_up_frames()
        self.head, self.facts = HeadLine(theme), FactsStrip(theme)
        self.timeline = Timeline(session, theme)
        self.status_label = Shortened("", Role.STRONG)
        self.calendar = CourseCalendar(session, theme)
        self.lines = LinesEditor(session, theme)
        self.consequences = ConsequencesPanel(theme)
        self.is_low = False
        self._connect()
        self._lay_out(theme)
        self.refresh()
        self.calendar.show_scale(0)

    def _connect(self) -> None:
        session, panel = self.session, self.consequences
        self.head.wanted.connect(self.decision_wanted)
        self.facts.ask_wanted.connect(partial(self.decision_wanted.emit, "flags"))
        self.timeline.status_message.connect(self._tell)
        self.calendar.lines_wanted.connect(self.show_lines)
        self.calendar.days_wanted.connect(self.show_days)
        session.day_changed.connect(panel.amounts.show_day)
        session.phase_changed.connect(panel.amounts.show_phase)
        panel.supply.more.clicked.connect(partial(self.decision_wanted.emit, "supply"))
        panel.borne.choose.clicked.connect(partial(self.decision_wanted.emit, "aims"))
        panel.safety.checked_anew.connect(self._mark_findings)
        panel.rated_anew.connect(self._draw_scores)
        session.trying.connect(self.timeline.show_ghost)
        session.trying.connect(lambda _tried: QTimer.singleShot(0, self, self._widen_form))
        session.changed.connect(self.refresh)
        session.phase_changed.connect(lambda _phase: QTimer.singleShot(0, self, self._measure))
        session.opened.connect(self._other_course)
        self._other_course()

    def _other_course(self) -> None:
        """What is in hand is that of another course."""
        self.consequences.begin()
        self.consequences.amounts.show_day(self.session.day)
        self.consequences.amounts.show_phase(self.session.phase_id)

    def _mark_findings(self) -> None:
        self.timeline.show_findings(finding_days(self.consequences.safety.checked.lines))

    def _draw_scores(self) -> None:
        scores = self.consequences.goes.scores
        self.timeline.show_scores(score_lane(self.session.reading, scores))
        self._measure()

    # Layout

    def _lay_out(self, theme: Theme) -> None:
        self._layout = QVBoxLayout(self)
        self._layout.addWidget(self.head)
        self._layout.addWidget(self.facts)
        self._layout.addWidget(hairline())
        self._layout.addWidget(self.timeline)
        self._beneath_timeline = hairline()
        self._layout.addWidget(self._beneath_timeline)
        self._fill_frames()
        self._layout.addWidget(self.across, 1)
        self._foot = QHBoxLayout()
        self._foot.addWidget(self.status_label, 3)
        self._foot.addWidget(self.lines.message_label, 3)  # here nothing jumps when it says more
        self._foot.addLayout(self.head.seats.foot, 1)
        self.status_label.hide()
        self._layout.addLayout(self._foot)
        self.apply_theme(theme)

    def _put_up_frames(self) -> None:
        """What the parts are put into; before them, since all in a part is styled anew each time
        that it, or what it is in, gets another parent.
        """
        self.across = QSplitter(Qt.Orientation.Horizontal, self)
        self.main, self.aside = QStackedWidget(), QStackedWidget()
        self.across.addWidget(self.main)
        self.across.addWidget(self.aside)
        self.upright = QSplitter(Qt.Orientation.Vertical)
        self.main.addWidget(self.upright)

    def _fill_frames(self) -> None:
        self.upright.addWidget(self.calendar)
        self.upright.addWidget(self.lines)
        self.aside.addWidget(self.consequences)
        self._before_form = [0, 0]
        self._is_shared_by_hand = {self.upright: False, self.across: False}
        for splitter in (self.upright, self.across):
            splitter.setChildrenCollapsible(False)
            splitter.splitterMoved.connect(
                partial(self._is_shared_by_hand.update, {splitter: True})
            )

    def put_aside(self, panel: QWidget) -> None:
        """Show a panel at the right in place of what follows; the timeline stays in view.

        A form takes the room that it needs, that of the days and lines too where it must.
        """
        self.aside.addWidget(panel)
        self.aside.setCurrentWidget(panel)
        if isinstance(panel, FormDialog):
            self._before_form = self.across.sizes()
            self._measure()
        slide_in(panel)

    def take_from_aside(self, panel: QWidget) -> None:
        """Take such a panel away again, and the ghost that it drew."""
        self.aside.removeWidget(panel)
        self.aside.setCurrentIndex(self.aside.count() - 1)
        self.timeline.leave_ghost()
        if isinstance(panel, FormDialog):
            self.main.show()
            self.facts.show()
            self.across.setSizes(self._before_form)
            self._measure()

    def put_in_place(self, main: QWidget, aside: QWidget) -> None:
        """Show other parts beneath the head, in place of the timeline, the days and the lines."""
        self.main.addWidget(main)
        self.main.setCurrentWidget(main)
        self.put_aside(aside)
        for part in (self.timeline, self._beneath_timeline):
            part.hide()

    def take_from_place(self, main: QWidget, aside: QWidget) -> None:
        """Show the course again."""
        self.main.removeWidget(main)
        self.main.setCurrentWidget(self.upright)
        self.take_from_aside(aside)
        for part in (self.timeline, self._beneath_timeline):
            part.show()
        self._measure()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look, other distances."""
        self.theme, unit = theme, theme.unit
        self.lines.setMinimumHeight(theme.line * 2)
        left, right = (unit * 2, unit * 2) if theme.is_large else (unit * 4, unit * 3)
        self._layout.setContentsMargins(left, round(unit * 1.4), right, round(unit * 0.6))
        self._layout.setSpacing(round(unit * 0.9))
        self._foot.setContentsMargins(0, 0, 0, 0)
        self.status_label.setFixedHeight(theme.line)
        for splitter in (self.upright, self.across):
            splitter.setHandleWidth(unit * 2)
        self.head.apply_theme(theme)
        self.facts.apply_theme(theme)
        self.timeline.apply_theme(theme)
        self.calendar.apply_theme(theme)
        self.lines.apply_theme(theme)
        self.lines.keep_clear(unit * 2)
        self.consequences.apply_theme(theme)
        self._measure()

    def refresh(self) -> None:
        """Say where the course stands."""
        reading = self.session.reading
        self.head.show_names(reading.course.client.name, reading.course.protocol.name)
        self.head.show_standing(reading)
        self.facts.refresh(reading)

    # Sharing the room

    def minimumSizeHint(self) -> QSize:
        """No more height than a low window has: calendar and lines take turns there."""
        asked = super().minimumSizeHint()
        return QSize(asked.width(), min(asked.height(), self.theme.line * LEAST_LINES))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """See what there is room for."""
        super().resizeEvent(event)
        self._measure()
        QTimer.singleShot(0, self, self._measure)  # once the parts know how wide they are

    def _measure(self) -> None:
        """In a low window calendar and lines take turns in one place."""
        self.timeline.set_room(self.height() * LANES)
        above = (self.head, self.facts, self.timeline)
        high = sum(part.sizeHint().height() for part in above) + self.theme.line
        room = self.height() - high - self._layout.spacing() * 6 - self.theme.unit * 5
        self.is_low = room < self.theme.line * LOW
        self.calendar.arrange_lines(has_turns=self.is_low)
        self._take_turns(lines=self.calendar.scales.currentIndex() == LINES)
        self._share(room)

    def _share(self, room: int) -> None:
        """The lines take what they want, the days the rest; but for what was moved by hand."""
        unit, width = self.theme.unit, self.width() - self.theme.unit * 7
        form = self.aside.currentWidget()
        if isinstance(form, FormDialog):
            self._room_for_form(form)
        elif not self._is_shared_by_hand[self.across]:
            aside = min(max(width * ASIDE, unit * LEAST_ASIDE), unit * MOST_ASIDE)
            self.across.setSizes([round(width - aside), round(aside)])
        if not self._is_shared_by_hand[self.upright] and not self.is_low:
            most = max(room - self.calendar.least_height(), self.lines.tight_height())
            lines = min(self.lines.wanted_height(), most, round(room * MOST_FOR_LINES))
            self.upright.setSizes([room - lines, lines])

    def _room_for_form(self, form: FormDialog) -> None:
        """A form is as wide as it needs to be; where nothing useful is left, days and lines go."""
        aside = max(form.width_in(self.across.height()), self._before_form[1])
        rest = self.across.width() - aside - self.across.handleWidth()
        self.main.setVisible(rest >= self.main.minimumSizeHint().width())
        self.facts.setVisible(not self.main.isHidden())  # where a form needs all there is
        self.across.setSizes([rest, aside])

    def _widen_form(self) -> None:
        """A form that has more to say takes more room, and keeps it for as long as it is asked."""
        form = self.aside.currentWidget()
        if isinstance(form, FormDialog) and form.width_in(self.across.height()) > form.width():
            self._room_for_form(form)

    def _take_turns(self, *, lines: bool) -> None:
        alone = lines and self.is_low
        self.lines.setVisible(lines or not self.is_low)
        self.calendar.stack.setVisible(not alone)
        head = self.calendar.head_height()
        self.calendar.setMinimumHeight(head if alone else self.theme.line * 2)
        self.calendar.setMaximumHeight(head if alone else 1 << 20)

    def show_lines(self) -> None:
        """Bring the lines to view, the keyboard with them."""
        self.calendar.scales.choose(LINES if self.is_low else int(self.calendar.scale))
        self._take_turns(lines=True)
        self.lines.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_days(self) -> None:
        """Bring the calendar to view."""
        self._take_turns(lines=False)
        self._measure()

    def _tell(self, text: str) -> None:
        """What moving an end would do, while it moves."""
        self.status_label.setText(text)
        self.status_label.setVisible(bool(text))
