"""The heads of the weeks in the calendar."""

from __future__ import annotations

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QHeaderView, QWidget

from sennight.desktop.course.calendar.calendar_delegate import MOST_PICTURES
from sennight.desktop.course.calendar.calendar_model import WeeksModel
from sennight.desktop.kit.brushes import Brushes
from sennight.desktop.kit.theme import Role
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.directions.plain_words import MONTH_NAMES
from sennight.domain.tag_words import upper_first

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class WeekHeads(QHeaderView):
    """The head of each week: its number, its date, and the phases that begin in it."""

    def __init__(self, model: WeeksModel, brushes: Brushes, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Vertical, parent)
        self.weeks = model
        self.brushes = brushes
        self.says_phases = True
        self.run = range(0)
        self.setSectionsClickable(False)
        self.setMinimumSectionSize(4)
        self._texts: dict[int, tuple[str, str, str]] = {}
        self._pictures: dict[tuple[object, ...], QPixmap] = {}
        model.modelReset.connect(self._texts.clear)

    def set_brushes(self, brushes: Brushes) -> None:
        """Draw with another look."""
        self.brushes = brushes
        self._pictures.clear()

    def sizeHint(self) -> QSize:
        """Wide enough for the longest head."""
        unit = self.brushes.unit
        metrics = self.brushes.metrics(Role.QUIET)
        if self.weeks.month is not None:
            return QSize(round(metrics.horizontalAdvance("00") + unit * 3), 10)
        names = self.names_width() if self.says_phases else 0
        return QSize(round(self._dates() + names + unit * 0.6), 10)

    def names_width(self) -> float:
        """How wide the longest name of a phase in the heads is."""
        measure = self.brushes.metrics(Role.QUIET).horizontalAdvance
        layout = self.weeks.reading.layout
        runs = (*layout.phases, *layout.flares)
        return max((measure(phase_title(run.phase.id)) for run in runs), default=0.0)

    def _dates(self) -> float:
        metrics = self.brushes.metrics(Role.QUIET)
        return (
            metrics.horizontalAdvance("00")
            + metrics.horizontalAdvance("30 Sep")
            + (self.brushes.unit * 2.4)
        )

    def paintSection(self, painter: QPainter, rect: QRect, row: int) -> None:
        """Draw one head; it is kept as a picture."""
        ratio = self.devicePixelRatioF()
        texts = self._words(row)
        is_in_run = not self.run or row in self.run
        key = (texts, rect.width(), rect.height(), self.says_phases, is_in_run, ratio)
        picture = self._pictures.get(key)
        if picture is None:
            if len(self._pictures) >= MOST_PICTURES:
                self._pictures.clear()
            picture = self._pictures[key] = QPixmap(rect.size() * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(self.brushes.theme.paper)
            inner = QPainter(picture)
            room = QRectF(0, 0, rect.width(), rect.height())
            self._draw(inner, room, texts, is_in_run=is_in_run)
            inner.end()
        painter.drawPixmap(rect.topLeft(), picture)

    def _words(self, row: int) -> tuple[str, str, str]:
        """The week's number, its Monday, and the phase that begins in it."""
        texts = self._texts.get(row)
        if texts is None:
            week, monday = self.weeks.week_beginning_in(row), self.weeks.mondays[row]
            day = f"{monday.day} {MONTH_NAMES[monday.month - 1][:3]}"
            begins = upper_first(", ".join(self.weeks.begins_in(row)[:1]))
            texts = (
                (str(week or ""), day, begins) if self._has_dates else (str(week or ""), "", "")
            )
            self._texts[row] = texts
        return texts

    @property
    def _has_dates(self) -> bool:
        return self.weeks.month is None

    def _draw(
        self, painter: QPainter, room: QRectF, texts: tuple[str, str, str], *, is_in_run: bool
    ) -> None:
        """Weeks of the phase in hand stand out."""
        b, unit = self.brushes, self.brushes.unit
        week, monday, begins = texts
        wide_number = b.metrics(Role.STRONG).horizontalAdvance("00")
        foot = room.adjusted(0, 0, 0, -1)
        painter.setPen(b.hairline)
        painter.drawLine(foot.bottomLeft(), foot.bottomRight())
        painter.setPen(b.ink if is_in_run else b.quiet)
        painter.setFont(b.font(Role.STRONG if is_in_run else Role.QUIET))
        painter.drawText(room.adjusted(0, 0, wide_number - room.width(), 0), RIGHT, week)
        painter.setFont(b.font(Role.QUIET))
        painter.setPen(b.ink)
        if self.says_phases:
            painter.drawText(room.adjusted(self._dates(), 0, 0, 0), LEFT, begins)
        painter.setPen(b.quiet)
        painter.drawText(room.adjusted(wide_number + unit * 1.6, 0, 0, 0), LEFT, monday)
