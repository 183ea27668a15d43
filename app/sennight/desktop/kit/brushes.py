"""Brushes, pens and fonts of one look: each made when it is first drawn with, and kept."""

from __future__ import annotations

from functools import cached_property

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPen

from sennight.desktop.kit.patterns import brush, off_brush, tile_side
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.remedies.letters import letter_of
from sennight.dyes import DYES


class Brushes:
    """What the course page draws with."""

    def __init__(self, theme: Theme) -> None:
        self.theme, self.unit, self.line = theme, theme.unit, theme.line
        self.tile = tile_side(theme)

    @cached_property
    def taken(self) -> list[QBrush]:
        """The dyes with their patterns: days taken."""
        return [brush(self.theme, n) for n in range(len(DYES))]

    @cached_property
    def off(self) -> list[QBrush]:
        """Their days off."""
        return [off_brush(self.theme, n) for n in range(len(DYES))]

    @cached_property
    def outline(self) -> list[QPen]:
        """Lines around what has a dye."""
        return [QPen(self.theme.dye(n), max(1.0, self.unit / 3)) for n in range(len(DYES))]

    @cached_property
    def dye_pen(self) -> list[QPen]:
        """Thin lines in the dyes."""
        return [QPen(self.theme.dye(n)) for n in range(len(DYES))]

    @cached_property
    def tint(self) -> list[QBrush]:
        """A breath of each dye."""
        return [QBrush(self.theme.tint(n)) for n in range(len(DYES))]

    def font(self, role: Role) -> QFont:
        """The font of a role."""
        return self._fonts[role]

    def metrics(self, role: Role) -> QFontMetricsF:
        """The measures of that font."""
        return self._metrics[role]

    @cached_property
    def _fonts(self) -> dict[Role, QFont]:
        return {role: self.theme.font(role) for role in Role}

    @cached_property
    def _metrics(self) -> dict[Role, QFontMetricsF]:
        return {role: QFontMetricsF(font) for role, font in self._fonts.items()}

    @cached_property
    def hairline(self) -> QPen:
        """The line between things."""
        return QPen(self.theme.hairline, 1)

    @cached_property
    def ink(self) -> QPen:
        """Text, and what is marked in ink."""
        return QPen(self.theme.ink, max(1.0, self.theme.scale / 100))

    @cached_property
    def paper(self) -> QPen:
        """Letters on a dye."""
        return QPen(self.theme.paper)

    @cached_property
    def quiet(self) -> QPen:
        """Quiet text."""
        return QPen(self.theme.slate)

    @cached_property
    def focus(self) -> QPen:
        """The ring around what the keyboard acts on."""
        return QPen(self.theme.focus, max(2.0, self.theme.scale / 60))

    @cached_property
    def today(self) -> QPen:
        """Today's line."""
        return QPen(self.theme.alarm, max(1.5, self.theme.scale / 80))

    @cached_property
    def letters(self) -> list[str]:
        """The letters of as many remedies as any course has."""
        return [letter_of(n) for n in range(80)]


def draw_letter(
    painter: QPainter, brushes: Brushes, rect: QRectF, index: int, font: QFont | None = None
) -> None:
    """A remedy's letter on a square of its dye, in the middle of some room.

    `font` is for a row lower than a line of text.
    """
    side = min(rect.height(), rect.width(), brushes.line * 0.95)
    square = QRectF(0, 0, side, side)
    square.moveCenter(rect.center())
    square = QRectF(round(square.left()), round(square.top()), round(side), round(side))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(brushes.theme.dye(index))
    painter.drawRoundedRect(square, brushes.unit * 0.4, brushes.unit * 0.4)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(brushes.paper)
    painter.setFont(font or brushes.font(Role.BADGE))
    painter.drawText(square, Qt.AlignmentFlag.AlignCenter, brushes.letters[index])


def clear_of(room: QRectF, wide: float, line: float | None, gap: float) -> QRectF:
    """Room for a text `wide` pixels wide, beside an upright line that would cut through it."""
    if line is None or not room.left() - gap < line < room.left() + min(wide, room.width()) + gap:
        return room
    before, after = line - gap - room.left(), room.right() - line - gap
    if after >= min(wide, before):
        return QRectF(line + gap, room.top(), after, room.height())
    return QRectF(room.left(), room.top(), before, room.height())
