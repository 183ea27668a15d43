"""Draws the story: days in the margin, a line down the side, and what happened."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPen,
    QPolygonF,
    QTextCharFormat,
    QTextLayout,
    QTextOption,
)
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from sennight.desktop.clients.story_model import StoryModel
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.domain.directions.plain_words import MONTH_NAMES
from sennight.domain.follow_up.story import StoryItem, StoryKind

Index = QModelIndex | QPersistentModelIndex
BETWEEN = 2
"""Spaces between the words of a paragraph that mean different things."""


@dataclass(frozen=True, slots=True)
class _Run:
    """A piece of a paragraph in one way of writing."""

    text: str
    font: QFont
    colour: QColor


class StoryDelegate(QStyledItemDelegate):
    """An item is as high as its words are at the width of the view."""

    def __init__(self, model: StoryModel, theme: Theme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._model = model
        self.width = 400
        self.today = date.min
        self._heights: dict[int, int] = {}
        model.modelAboutToBeReset.connect(self.forget_heights)
        self.apply_theme(theme)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self._theme = theme
        self.forget_heights()
        self._fonts = {role: theme.font(role) for role in Role}
        day = QFontMetricsF(self._fonts[Role.HEADING]).horizontalAdvance("30")
        month = QFontMetricsF(self._fonts[Role.QUIET]).horizontalAdvance("2026")
        self._margin = max(day, month) + theme.unit
        self._line = self._margin + theme.unit * 2.5
        self._text = self._line + theme.unit * 4
        self._struck = theme.font(Role.TEXT)
        self._struck.setStrikeOut(True)

    # Paragraphs

    def _paragraphs(self, item: StoryItem, *, begins: bool) -> list[list[_Run]]:
        """The title with what is said of it, and then what was written."""
        theme, fonts = self._theme, self._fonts
        is_strong = item.kind is StoryKind.CONSULTATION or (
            begins and item.kind is not StoryKind.DECISION
        )
        font = self._struck if item.void else fonts[Role.STRONG if is_strong else Role.TEXT]
        head = [_Run(item.title, font, _title_colour(item, theme))]
        if item.about:
            head.append(_Run(" " * BETWEEN + item.about, fonts[Role.QUIET], theme.slate))
        if item.void:
            struck = translate("Story", "struck out: {why}").format(why=item.void)
            return [head, [_Run(struck, fonts[Role.QUIET], theme.slate)]]
        return [head, *(self._part(part.heading, part.text) for part in item.parts)]

    def _part(self, heading: str, text: str) -> list[_Run]:
        written = _Run(text.replace("\n", "\u2028"), self._fonts[Role.TEXT], self._theme.ink)
        if not heading:
            return [written]
        quiet = _Run(heading + " " * BETWEEN, self._fonts[Role.QUIET], self._theme.slate)
        return [quiet, written]

    def _layouts(self, row: int) -> list[QTextLayout]:
        item, begins = self._model.items[row], self._model.begins_day(row)
        room = self.width - self._text - self._theme.unit * (2 if begins else 6)
        return [_set(runs, room) for runs in self._paragraphs(item, begins=begins)]

    def _above(self, row: int) -> float:
        """The room over an item: more where a day begins."""
        if row == 0:
            return self._theme.unit
        return self._theme.unit * (5 if self._model.begins_day(row) else 1)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002 - Qt's
        """As high as the words."""
        row = index.row()
        if row not in self._heights:
            self._heights[row] = self._height(row)
        return QSize(int(self.width), self._heights[row])

    def forget_heights(self) -> None:
        """The items, the width or the look are others."""
        self._heights.clear()

    def _height(self, row: int) -> int:
        layouts = self._layouts(row)
        height = sum(layout.boundingRect().height() for layout in layouts)
        gaps = self._theme.unit * 0.5 * (len(layouts) - 1)
        least = 0.0
        if self._model.begins_day(row) and self._model.ends_day(row):
            least = self._day_height(self._model.items[row].day)
        below = self._theme.unit
        return int(self._above(row) + max(height + gaps, least) + below + 0.99)

    def _day_height(self, day: date) -> float:
        return sum(QFontMetricsF(self._fonts[role]).height() for _, role in self._day_lines(day))

    def _day_lines(self, day: date) -> list[tuple[str, Role]]:
        """The day in figures with its month beneath; the year where it is another one."""
        month = MONTH_NAMES[day.month - 1]
        lines = [
            (str(day.day), Role.HEADING),
            (month if len(month) <= 4 else month[:3], Role.QUIET),
        ]
        if day.year != self.today.year:
            lines.append((str(day.year), Role.QUIET))
        return lines

    # Painting

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw an item."""
        row, box = index.row(), QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._ground(painter, option, row, box)
        top = box.top() + self._above(row)
        self._rail(painter, row, box, top)
        if self._model.begins_day(row):
            self._day(painter, self._model.items[row].day, box, top)
        left = box.left() + self._text + (0 if self._model.begins_day(row) else self._indent)
        for layout in self._layouts(row):
            layout.draw(painter, QPointF(left, top))
            top += layout.boundingRect().height() + self._theme.unit * 0.5
        painter.restore()

    @property
    def _indent(self) -> float:
        return self._theme.unit * 4

    def _ground(
        self, painter: QPainter, option: QStyleOptionViewItem, row: int, box: QRectF
    ) -> None:
        """What is chosen or under the pointer, and the ring of the keyboard."""
        unit, state = self._theme.unit, option.state
        top = box.top() + self._above(row) - unit * 0.7
        place = QRectF(box.left() + self._text - unit * 1.5, top, 0, box.bottom() - top)
        place.setRight(box.right() - 1)
        focused = bool(state & QStyle.StateFlag.State_HasFocus)
        if state & QStyle.StateFlag.State_MouseOver and not focused:
            painter.fillRect(place, self._theme.hover)
        if focused:
            painter.setPen(QPen(self._theme.focus, max(1.5, self._theme.scale / 70)))
            painter.drawRoundedRect(place.adjusted(1, 1, -1, -1), unit / 2, unit / 2)

    def _rail(self, painter: QPainter, row: int, box: QRectF, top: float) -> None:
        """The line down the side, with a dot where a day begins, and a lozenge at the rest."""
        x = box.left() + self._line
        middle = top + QFontMetricsF(self._fonts[Role.TEXT]).height() / 2
        begins = self._model.begins_day(row)
        start = middle if row == 0 else box.top()
        end = middle if self._model.ends_story(row) else box.bottom()
        painter.setPen(QPen(self._theme.hairline, max(1.5, self._theme.scale / 80)))
        painter.drawLine(QPointF(x, start), QPointF(x, end))
        painter.setPen(Qt.PenStyle.NoPen)
        colour = _mark_colour(self._model.items[row], self._theme)
        painter.setBrush(QBrush(colour))
        half = self._theme.unit * (1.1 if begins else 0.85)
        if begins:
            painter.drawEllipse(QPointF(x, middle), half, half)
            return
        x = box.left() + self._text + self._theme.unit * 1.2
        points = ((x - half, middle), (x, middle - half), (x + half, middle), (x, middle + half))
        painter.drawPolygon(QPolygonF([QPointF(*point) for point in points]))

    def _day(self, painter: QPainter, day: date, box: QRectF, top: float) -> None:
        """The day in the margin."""
        down = top - QFontMetricsF(self._fonts[Role.HEADING]).height() * 0.08
        for words, role in self._day_lines(day):
            height = QFontMetricsF(self._fonts[role]).height()
            painter.setFont(self._fonts[role])
            painter.setPen(self._theme.slate if role is Role.QUIET else self._theme.ink)
            place = QRectF(box.left(), down, self._margin, height)
            painter.drawText(place, Qt.AlignmentFlag.AlignRight, words)
            down += height * 0.95


def _set(runs: list[_Run], room: float) -> QTextLayout:
    """A paragraph in lines."""
    layout = QTextLayout("".join(run.text for run in runs), runs[0].font)
    wrap = QTextOption()
    wrap.setWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
    layout.setTextOption(wrap)
    ranges, start = [], 0
    for run in runs:
        how = QTextCharFormat()
        how.setFont(run.font)
        how.setForeground(run.colour)
        piece = QTextLayout.FormatRange()
        piece.start, piece.length, piece.format = start, len(run.text), how
        ranges.append(piece)
        start += len(run.text)
    layout.setFormats(ranges)
    layout.beginLayout()
    height = 0.0
    while (line := layout.createLine()).isValid():
        line.setLineWidth(max(40.0, room))
        line.setPosition(QPointF(0, height))
        height += line.height()
    layout.endLayout()
    return layout


def _title_colour(item: StoryItem, theme: Theme) -> QColor:
    if item.void:
        return theme.slate
    match item.kind:
        case StoryKind.REACTION:
            return theme.alarm
        case StoryKind.GIVEN | StoryKind.DISPENSED | StoryKind.FILE:
            return theme.slate
        case _:
            return theme.ink


def _mark_colour(item: StoryItem, theme: Theme) -> QColor:
    if item.void:
        return theme.outline
    match item.kind:
        case StoryKind.CONSULTATION | StoryKind.DECISION:
            return theme.ink
        case StoryKind.REACTION:
            return theme.alarm
        case StoryKind.DIARY | StoryKind.DAY_NOTE | StoryKind.SCORES:
            return theme.accent
        case _:
            return theme.outline
