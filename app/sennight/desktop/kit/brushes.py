"""Brushes, pens and fonts of one look, made once and kept; nothing is made while painting."""

from __future__ import annotations

from functools import cached_property

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QBrush, QFont, QFontMetricsF, QPainter, QPen

from sennight.desktop.kit.patterns import brush, off_brush
from sennight.desktop.kit.theme import Role, Theme
from sennight.domain.remedies.letters import letter_of
from sennight.dyes import DYES


class Brushes:
    """What the course page draws with."""

    def __init__(self, theme: Theme) -> None:
        self.theme, self.unit, self.line = theme, theme.unit, theme.line
        self.taken = [brush(theme, n) for n in range(len(DYES))]
        self.off = [off_brush(theme, n) for n in range(len(DYES))]
        self.outline = [QPen(theme.dye(n), max(1.0, self.unit / 3)) for n in range(len(DYES))]
        self.dye_pen = [QPen(theme.dye(n)) for n in range(len(DYES))]
        self.tint = [QBrush(theme.tint(n)) for n in range(len(DYES))]

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
    """A remedy's letter in its dye, with its pattern as a bar beneath: the key to the marks.

    `font` is for a row lower than a line of text, in which the bar stands beside the letter.
    """
    n = index % len(DYES)
    painter.setPen(brushes.dye_pen[n])
    if font is not None:
        half = rect.width() * 0.55
        painter.setFont(font)
        painter.drawText(
            rect.adjusted(0, 0, half - rect.width(), 0),
            Qt.AlignmentFlag.AlignVCenter,
            brushes.letters[index],
        )
        painter.fillRect(rect.adjusted(half, 1, 0, -1), brushes.taken[n])
        return
    bar = max(3.0, brushes.unit * 0.9)
    painter.setFont(brushes.font(Role.STRONG))
    top = rect.adjusted(0, 0, 0, -bar)
    painter.drawText(top, Qt.AlignmentFlag.AlignCenter, brushes.letters[index])
    painter.fillRect(QRectF(rect.left(), rect.bottom() - bar, rect.width(), bar), brushes.taken[n])
