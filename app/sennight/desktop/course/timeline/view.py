"""The timeline: draws a course along its days, and lets a phase's end be moved.

The pointer drags an end; with the keyboard, Left and Right choose an end or a flag, Ctrl with
them moves the end (by days, with Shift by weeks), Enter carries it out and Escape leaves it.
What would change is told while it moves.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from sennight.desktop.course.session import Session
from sennight.desktop.course.timeline.day_mark import DayMark
from sennight.desktop.course.timeline.ghost import Ghost
from sennight.desktop.course.timeline.heights import Heights, Rows
from sennight.desktop.course.timeline.layout import Flag, Room, TimelineLayout, timeline_layout
from sennight.desktop.course.timeline.overlay_painter import (
    paint_findings,
    paint_kept,
    paint_scores,
)
from sennight.desktop.course.timeline.overlays import FindingDays, ScoreLane
from sennight.desktop.course.timeline.painter import NAMES_FROM, TimelinePainter
from sennight.desktop.course.timeline.tips import day_words, flag_words
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.courses.compare_words import sentence
from sennight.domain.courses.editing import EditError
from sennight.domain.courses.phase_ends import move_end
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_day
from sennight.practice.course_reading import CourseReading

WIDEST_NAMES = 0.3
"""The remedies' names take no more of the width than this."""


@dataclass(frozen=True, slots=True)
class Grip:
    """The end of a phase, in hand: the first day after it."""

    phase: str
    end: date


class Timeline(QWidget):
    """The timeline of a session's course."""

    end_moved = Signal(str, object)
    status_message = Signal(str)

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._marks: list[Grip | Flag] = []
        self._chosen: int | None = None
        self._drag: Grip | None = None
        self._room = float("inf")
        self._findings: tuple[FindingDays, ...] = ()
        self._scores: ScoreLane | None = None
        self.ghost = Ghost(self)
        self._day = DayMark(self, session.day)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(self.tr("Timeline"))
        session.changed.connect(self._refresh)
        session.opened.connect(self._other_course)
        session.phase_changed.connect(self.update)
        session.day_changed.connect(self._day.go_to)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self.theme = theme
        self.brushes = Brushes(theme)
        self.heights = Heights.of(theme, Rows(1), self._room)
        self.painting = TimelinePainter(self.brushes, self.heights)
        self._refresh()

    def _other_course(self) -> None:
        """Nothing of the course before is in hand any more."""
        self._chosen, self._findings, self._scores = None, (), None
        self.ghost.leave()
        self._day.put(self.session.day)

    # What lies over the lanes

    def show_findings(self, findings: tuple[FindingDays, ...]) -> None:
        """Mark the days that findings are about."""
        if findings != self._findings:
            self._findings = findings
            self.update()

    def show_scores(self, scores: ScoreLane | None) -> None:
        """Draw the ratings of a measure beneath the lanes."""
        if scores != self._scores:
            self._scores = scores
            self._refresh()

    def show_ghost(self, ghost: CourseReading | None) -> None:
        """Draw another course over this one, until None is drawn in its place."""
        self.ghost.show(ghost, self.session.reading.layout)
        self._refresh()

    def leave_ghost(self) -> None:
        """Nothing is tried any more; lanes that were there for the ghost alone go with it."""
        self.ghost.leave()
        self._refresh()

    def set_room(self, room: float) -> None:
        """Let all lanes together be no higher than so many pixels, where they can."""
        if room != self._room:
            self._room = room
            self._refresh()

    def _refresh(self) -> None:
        """Work the picture out again, after an edit or in another size."""
        self.shown = self._laid_out(self.session.reading.layout)
        self.ghost.lay_out(self._laid_out)
        self.heights = Heights.of(self.theme, self._rows(), self._room)
        if (self.painting.heights, self.painting.brushes) != (self.heights, self.brushes):
            self.painting = TimelinePainter(self.brushes, self.heights)
        self._drag = None
        ends = (Grip(band.name, band.span.end) for band in self.shown.phases)
        self._marks = sorted(
            [*ends, *self.shown.flags], key=lambda m: m.end if isinstance(m, Grip) else m.day
        )
        if self._chosen is not None and self._chosen >= len(self._marks):
            self._chosen = None
        self.setAccessibleDescription(self._description())
        self.updateGeometry()
        self.update()

    def _rows(self) -> Rows:
        has_foot = self._scores is not None or bool(self.shown.kept)
        return Rows(max(1, len(self.shown.lanes)), bool(self.shown.flags), has_foot)

    def _laid_out(self, layout: Layout) -> TimelineLayout:
        """A course along the axis, which holds the days of the ghost too."""
        measure = self.painting.measure.horizontalAdvance
        unit = self.theme.unit
        names = [measure(r.name) for r in self.session.course.remedies]
        left = round(min(max(names, default=0) + unit * (NAMES_FROM + 2), self._most_for_names()))
        label = self.brushes.metrics(Role.QUIET).horizontalAdvance("000") + unit
        days = self.session.reading.layout.days
        if self.ghost.reading is not None:
            days = Span(days.first, max(days.end, self.ghost.reading.layout.days.end))
        return timeline_layout(
            layout,
            Room(left, max(50.0, self.width() - left - unit * 0.4), label),
            today=self.session.reading.today,
            days=days,
            held=self.ghost.held,
        )

    def _most_for_names(self) -> float:
        return self.width() * WIDEST_NAMES

    def _description(self) -> str:
        return "; ".join(
            f"{phase_title(band.name)} {plain_day(band.span.first)} – {plain_day(band.span.last)}"
            for band in self.shown.phases
        )

    # Qt

    def sizeHint(self) -> QSize:
        """As high as its rows."""
        return QSize(600, round(self.heights.bottom))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the days to the width."""
        super().resizeEvent(event)
        self._refresh()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Draw the picture, then what is in hand."""
        p = QPainter(self)
        p.setRenderHint(QPainter.RenderHint.Antialiasing)
        course, shown = self.session.course, self.shown
        self.painting.paint(p, shown, course, self.session.phase_id)
        paint_findings(p, self.painting, shown, self._findings, self.session.reading.places)
        self._foot(p)
        self.ghost.paint(p, self.painting, shown)
        self._day.paint(p, self.painting, shown.scale)
        self.painting.paint_today(p, shown)
        self._in_hand(p)
        if self.hasFocus():
            self._ring(p)

    def _foot(self, p: QPainter) -> None:
        clear = self.shown.scale.left
        if self._scores is not None:
            clear = paint_scores(p, self.painting, self.shown, self._scores)
        if self.shown.kept:
            paint_kept(p, self.painting, self.shown, self.session.course, clear)

    def _ring(self, p: QPainter) -> None:
        """The ring, while the keyboard is here."""
        p.setPen(self.brushes.focus)
        p.setBrush(Qt.BrushStyle.NoBrush)
        p.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _in_hand(self, p: QPainter) -> None:
        mark = self._drag or (self._mark() if self.hasFocus() else None)
        if isinstance(mark, Flag):
            self.painting.flag(p, mark.x, is_chosen=True)
        elif mark is not None:
            x = self.shown.scale.x(mark.end)
            p.setPen(self.brushes.focus)
            p.drawLine(QPointF(x, self.heights.band), QPointF(x, self.heights.bottom))
            side = self.theme.unit * 1.2
            p.setBrush(self.theme.focus)
            middle = self.heights.band + self.theme.line / 2 + self.theme.unit / 2
            p.drawEllipse(QPointF(x, middle), side / 2, side / 2)

    # The pointer

    def _grip_at(self, at: QPointF) -> Grip | None:
        if at.y() < self.heights.band:
            return None
        reach = self.theme.unit * 1.2
        grips = [m for m in self._marks if isinstance(m, Grip)]
        near = [m for m in grips if abs(self.shown.scale.x(m.end) - at.x()) <= reach]
        return near[0] if near else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of an end, or choose the phase and the day under the pointer."""
        at = event.position()
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        self._drag = self._grip_at(at)
        if self._drag is not None:
            self._chosen = self._marks.index(self._drag)
            self.update()
        elif at.x() >= self.shown.scale.left:
            self._choose_at(at)

    def _choose_at(self, at: QPointF) -> None:
        day = self.shown.scale.day_under(at.x())
        self.session.go_to(day)
        for band in (*self.shown.phases, *self.shown.flares):
            if day in band.span:
                self.session.choose_phase(band.name)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Move the end in hand, else tell what lies under the pointer."""
        at = event.position()
        if self._drag is not None:
            weeks = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._move(self._drag, self.shown.scale.day(at.x()), weeks=weeks)
            return
        self.setCursor(
            Qt.CursorShape.SizeHorCursor if self._grip_at(at) else Qt.CursorShape.ArrowCursor
        )

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Carry the move out."""
        if event.button() is Qt.MouseButton.LeftButton:
            self._carry_out()

    def event(self, event: QEvent) -> bool:
        """Show what the pointer is over as a tip."""
        if event.type() is QEvent.Type.ToolTip:
            at = event.pos()  # type: ignore[attr-defined]
            tip = plain_tip(self.tip_at(at))
            QToolTip.showText(event.globalPos(), tip, self)  # type: ignore[attr-defined]
            return True
        return super().event(event)

    def tip_at(self, at: QPoint) -> str:
        """What a point of the timeline says: a decision, a remedy's name, or a day in a lane."""
        flag = self.flag_at(at)
        if flag is not None:
            return flag_words(flag, self.session.course)
        place = self.lane_at(at)
        remedies = self.session.course.remedies
        if at.x() < self.shown.scale.left:
            return remedies[place].name if place is not None else ""
        day = self.shown.scale.day_under(at.x())
        return day_words(self.session.reading, day, place, self._findings)

    def flag_at(self, at: QPoint) -> Flag | None:
        """The decisions whose flag is under a point."""
        reach = self.theme.unit * 2.5
        near = (flag for flag in self.shown.flags if abs(at.x() - flag.x) < reach)
        return next(near, None) if at.y() < self.heights.band else None

    def lane_at(self, at: QPoint) -> int | None:
        """The place in the course of the remedy whose lane is under a point."""
        row = int((at.y() - self.heights.lanes) // self.heights.lane)
        return self.shown.lanes[row] if 0 <= row < len(self.shown.lanes) else None

    # The keyboard

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a mark, move an end, carry it out or leave it."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        held = event.modifiers()
        if step and held & Qt.KeyboardModifier.ControlModifier:
            weeks = bool(held & Qt.KeyboardModifier.ShiftModifier)
            self._nudge(step * (7 if weeks else 1))
        elif step:
            self._choose(step)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._drag:
            self._carry_out()
        elif event.key() == Qt.Key.Key_Escape and self._drag:
            self._drag = None
            self.status_message.emit("")
            self.update()
        else:
            super().keyPressEvent(event)

    def _mark(self) -> Grip | Flag | None:
        return self._marks[self._chosen] if self._chosen is not None else None

    def _choose(self, step: int) -> None:
        if not self._marks:
            return
        self._drag = None
        first = 0 if step > 0 else len(self._marks) - 1
        self._chosen = first if self._chosen is None else (self._chosen + step) % len(self._marks)
        mark = self._marks[self._chosen]
        if isinstance(mark, Grip):
            self.session.choose_phase(mark.phase)
            last = plain_day(mark.end - timedelta(days=1))
            ends = self.tr("{phase} ends on {day}")
            self._update_text(ends.format(phase=phase_title(mark.phase), day=last))
        else:
            self._update_text(flag_words(mark, self.session.course))
        self.update()

    def _nudge(self, days: int) -> None:
        grip = self._drag or self._mark()
        if isinstance(grip, Grip):
            self._move(grip, grip.end + timedelta(days=days), weeks=False)

    # Moving an end

    def _move(self, grip: Grip, end: date, *, weeks: bool) -> None:
        """Put an end somewhere else, in whole weeks from where it was if asked."""
        phase = grip.phase
        was = next(m.end for m in self._marks if isinstance(m, Grip) and m.phase == phase)
        if weeks:
            end = was + timedelta(weeks=round((end - was).days / 7))
        self._drag = Grip(phase, end)
        self._update_text(self._would_do(self._drag))
        self.update()

    def _would_do(self, grip: Grip) -> str:
        reading = self.session.reading
        try:
            course = move_end(reading.layout, grip.phase, grip.end, today=reading.today)
        except EditError as error:
            return str(error)
        tried = self.session.try_out(course)
        if isinstance(tried, str):
            return tried
        return sentence(tried.changed_from(reading), course)

    def _carry_out(self) -> None:
        grip, self._drag = self._drag, None
        self.status_message.emit("")
        self.update()
        if grip is not None and grip not in self._marks:
            self.end_moved.emit(grip.phase, grip.end)

    def _update_text(self, text: str) -> None:
        """Tell something on screen and to a screen reader."""
        self.status_message.emit(text)
        self.setAccessibleDescription(text)
        QAccessible.updateAccessibility(
            QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
        )
