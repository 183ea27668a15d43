"""Drawings painted with Qt: every shape on each ground, and greys that are greys."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QGuiApplication, QImage
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.theme import Theme, make_theme
from sennight.desktop.parts.charts import ChartPainter, ChartView, drawing_image
from sennight.domain.charts.drawing import (
    Align,
    Box,
    Dot,
    Drawing,
    DyedBox,
    Ink,
    Lines,
    Stroke,
    Words,
)

DRAWING = Drawing(
    60,
    40,
    (
        Box(0, 0, 60, 40, Ink.GROUND, Ink.QUIET, Stroke.DASHED),
        Box(2, 2, 10, 10, Ink.FLARE_GROUND, Ink.FLARE),
        DyedBox(20, 2, 10, 10, 1),
        Lines(((2, 20), (58, 30)), Ink.GATE, 2, Stroke.DOTTED),
        Lines(((40, 2), (50, 6), (40, 10)), Ink.INK, fill=Ink.INK),
        Dot(10, 30, 3, Ink.INK),
        Dot(20, 30, 3, Ink.INK, is_hollow=True),
        Words(58, 35, "loading phase", 8, Ink.QUIET, Align.END, room=30),
        Words(30, 35, "A", 8, align=Align.MIDDLE, is_strong=True, dye=1),
    ),
)


class OneChart(ChartView):
    """A chart of its own."""

    is_empty = False

    def make_drawing(self, width: float) -> Drawing | None:
        return None if self.is_empty else replace(DRAWING, width=width)

    def height_wanted(self) -> float:
        return DRAWING.height


def colours(image: QImage) -> set[tuple[int, int, int]]:
    found = set()
    for x in range(image.width()):
        for y in range(image.height()):
            colour = image.pixelColor(x, y)
            found.add((colour.red(), colour.green(), colour.blue()))
    return found


@pytest.mark.parametrize("is_dark", [False, True])
def test_a_drawing_is_painted_in_the_colours_of_its_ground(qtbot: QtBot, is_dark: bool) -> None:
    assert qtbot
    theme = make_theme(dark=is_dark)
    image = drawing_image(DRAWING, theme)
    assert (image.width(), image.height()) == (120, 80)
    inks = ChartPainter(theme).colours
    assert image.pixelColor(100, 30) == inks[Ink.GROUND]
    assert image.pixelColor(84, 12) == inks[Ink.INK]
    assert len({rgb for rgb in colours(image) if max(rgb) - min(rgb) > 30}) > 3


def test_in_greys_nothing_has_a_colour(qtbot: QtBot, theme: Theme) -> None:
    assert qtbot
    found = colours(drawing_image(DRAWING, theme, in_greys=True))
    assert all(max(rgb) - min(rgb) <= 2 for rgb in found)
    assert (16, 16, 16) in found


def test_a_chart_is_copied_as_a_picture(qtbot: QtBot, theme: Theme) -> None:
    chart = OneChart(theme, "Pain over time")
    qtbot.addWidget(chart)
    chart.resize(80, 40)
    chart.refresh()
    assert chart.sizeHint().height() == 40
    chart.copy_picture(in_greys=True)
    copied = QGuiApplication.clipboard().image()
    assert copied.width() == 160
    assert all(max(rgb) - min(rgb) <= 2 for rgb in colours(copied))
    plain, greys = chart.actions()
    assert (plain.text(), greys.text()) == ("Copy the picture", "Copy the picture in greys")
    plain.trigger()
    assert any(max(rgb) - min(rgb) > 30 for rgb in colours(QGuiApplication.clipboard().image()))
    QGuiApplication.clipboard().clear()
    chart.is_empty = True
    chart.copy_picture(in_greys=False)
    assert QGuiApplication.clipboard().image().isNull()
