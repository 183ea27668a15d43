"""A client's courses as rows: name, days and where it stands, and the phases as a bar."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from sennight.desktop.clients.rows import course_cells, course_columns
from sennight.desktop.kit.brushes import clear_of
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.practice.courses import CourseEntry

Index = QModelIndex | QPersistentModelIndex
BAR = 3
"""The column of the bar, after the texts."""


@dataclass(frozen=True, slots=True)
class PhaseBar:
    """The phases of a course from left to right, as parts of its days; `now` is today's place."""

    phases: tuple[tuple[str, float, float, bool], ...]
    now: float | None


def phase_bar(entry: CourseEntry, today: date) -> PhaseBar:
    """The bar of a course; empty where it was struck out or cannot be laid out."""
    if entry.course.is_void:
        return PhaseBar((), None)
    try:
        layout = lay_out(entry.course)
    except LayoutError:
        return PhaseBar((), None)
    days = layout.days
    whole = max(1, (days.end - days.first).days)

    def place(day: date) -> float:
        return (min(max(day, days.first), days.end) - days.first).days / whole

    return PhaseBar(
        tuple(
            (
                phase_title(run.phase.id),
                place(run.span.first),
                place(run.span.end),
                today in run.span,
            )
            for run in layout.phases
        ),
        place(today) if today in days else None,
    )


class CourseRowsDelegate(QStyledItemDelegate):
    """The first column has the texts of the row in two lines, the last one the bar."""

    def __init__(self, rows: CourseRows, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows = rows
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._theme = theme
        self._fonts = {role: theme.font(role) for role in Role}

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw a cell."""
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        box, theme = QRectF(option.rect), self._theme
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(box, theme.selection)
        painter.setPen(QPen(theme.hairline, 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        if index.column() == BAR:
            self._bar(painter, box, self._rows.bars[index.row()])
        else:
            self._texts(painter, box, self._rows.cells(index.row()))
        painter.restore()

    def _texts(self, painter: QPainter, box: QRectF, cells: tuple[str, ...]) -> None:
        theme, pad = self._theme, self._theme.unit * 2
        name, *about = cells
        lines = (
            (name, Role.STRONG, theme.ink),
            (", ".join(part for part in about if part), Role.QUIET, theme.slate),
        )
        metrics = [QFontMetricsF(self._fonts[role]) for _, role, _ in lines]
        top = box.center().y() - sum(measure.height() for measure in metrics) / 2
        for (words, role, colour), measure in zip(lines, metrics, strict=True):
            place = QRectF(box.left() + pad, top, box.width() - 2 * pad, measure.height())
            painter.setFont(self._fonts[role])
            painter.setPen(colour)
            elided = measure.elidedText(words, Qt.TextElideMode.ElideRight, place.width())
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, elided)
            top += measure.height()

    def _bar(self, painter: QPainter, box: QRectF, bar: PhaseBar) -> None:
        theme, unit = self._theme, self._theme.unit
        quiet = QFontMetricsF(self._fonts[Role.QUIET])
        high = quiet.height() + unit
        room = QRectF(box.left(), box.center().y() - high / 2, box.width() - unit * 2, high)
        line = None if bar.now is None else room.left() + bar.now * room.width()
        painter.setFont(self._fonts[Role.QUIET])
        for name, left, right, is_now in bar.phases:
            start, end = (room.left() + part * room.width() for part in (left, right))
            part = QRectF(start + 0.5, room.top(), max(1.0, end - start - 1), room.height())
            painter.fillRect(part, theme.tint(1) if is_now else theme.hover)
            painter.setPen(theme.ink if is_now else theme.slate)
            wide = quiet.horizontalAdvance(name)
            words = clear_of(part.adjusted(unit, 0, -unit / 2, 0), wide, line, unit * 0.6)
            if words.width() >= wide:  # the row says which phase it is in
                painter.drawText(words, Qt.AlignmentFlag.AlignVCenter, name)
        if line is not None:
            painter.setPen(QPen(theme.alarm, max(1.5, theme.scale / 80)))
            painter.drawLine(
                QPointF(line, room.top() - unit / 2), QPointF(line, room.bottom() + unit / 2)
            )

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002 - Qt's
        """Two lines of text."""
        return QSize(self._theme.unit * 40, self.height)

    @property
    def height(self) -> int:
        """Of a row, in pixels."""
        lines = (QFontMetricsF(self._fonts[role]).height() for role in (Role.STRONG, Role.QUIET))
        return int(sum(lines) + self._theme.unit * 3)


class CourseRows(RowsView):
    """The courses of one client; Enter or a click opens one."""

    def __init__(self, theme: Theme) -> None:
        self.bars: list[PhaseBar] = []
        self.table = TextTable((*course_columns(), ""))
        super().__init__(self.table, shares=(11, 0, 0, 9))
        self.table.setParent(self)
        self.is_calm = True
        self.delegate = CourseRowsDelegate(self, theme, self)
        self.setItemDelegate(self.delegate)
        self.horizontalHeader().hide()
        for column in (1, 2):
            self.setColumnHidden(column, True)  # noqa: FBT003 - Qt's

    def cells(self, row: int) -> tuple[str, ...]:
        """The texts of a row."""
        return tuple(str(self.table.data(self.table.index(row, column))) for column in range(BAR))

    def show_courses(self, courses: tuple[CourseEntry, ...], today: date) -> None:
        """Show a client's courses."""
        self.bars = [phase_bar(entry, today) for entry in courses]
        cells = [(*course_cells(entry, today), "") for entry in courses]
        self.table.show_rows(len(courses), lambda row: cells[row])
        self.fit_rows()

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self.delegate.apply_theme(theme)
        self.fit_rows()

    def fit_rows(self) -> None:
        """Two lines a row; all rows are in view."""
        if hasattr(self, "delegate"):
            self.verticalHeader().setDefaultSectionSize(self.delegate.height)
            self.setFixedHeight(self.delegate.height * max(1, len(self.bars)) + 2)
