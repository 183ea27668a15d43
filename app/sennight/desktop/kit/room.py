"""What room there is: for a dialog on its screen, and for the rows of a list that fills it."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QBoxLayout,
    QScrollArea,
    QSizePolicy,
    QTableView,
    QWidget,
)

WIDE_SHARE, HIGH_SHARE = 0.96, 0.9
"""The shares of the screen that a dialog takes at most; its frame comes on top."""

FILLS_ROOM = "fillsRoom"
"""The property of a list that scrolls in what room there is, so that its heads stay in view."""
FEW_ROWS = 2
"""So many rows it has at least."""
_NO_LIMIT = (1 << 24) - 1
"""Qt’s own figure for a part whose height has no limit."""
MOST_WHOLE = 8
"""A list of more rows fills the room, where `fill_room` may decide."""


def room_on(screen: QSize) -> QSize:
    """How wide and high a dialog may be on a screen."""
    return QSize(round(screen.width() * WIDE_SHARE), round(screen.height() * HIGH_SHARE))


def room_of_few(table: QTableView, hint: QSize) -> QSize:
    """What a table that fills the room asks for, in place of its own `hint`: a few rows."""
    if not table.property(FILLS_ROOM):
        return hint
    row = table.verticalHeader().defaultSectionSize()
    head = table.horizontalHeader().sizeHint().height()
    return QSize(hint.width(), head + row * FEW_ROWS)


def fill_room(view: QAbstractItemView) -> None:
    """Let a list of many rows scroll in what room its dialog has, instead of the dialog."""
    view.setProperty(FILLS_ROOM, view.model().rowCount() > MOST_WHOLE)


def fills_room(part: QWidget) -> bool:
    """Whether a list of many rows scrolls in what room a part of a window has."""
    return any(view.property(FILLS_ROOM) for view in part.findChildren(QAbstractItemView))


def takes_any_room(body: QWidget) -> bool:
    """Whether a dialog’s body, or a part of it, is as high as there is room, as pictures are.

    Lists ask for the height of their rows instead, but for those that fill the room.
    """
    may_grow = QSizePolicy.PolicyFlag.ExpandFlag.value
    return any(
        part.sizePolicy().verticalPolicy().value & may_grow
        and part.maximumHeight() >= _NO_LIMIT
        and part.isVisible()
        and (not isinstance(part, QAbstractItemView) or bool(part.property(FILLS_ROOM)))
        and part.window() is body.window()
        for part in (body, *body.findChildren(QWidget))
    )


def hold_to_width(area: QScrollArea) -> None:
    """Let a body be as low as its texts are in this width; Qt takes them for narrower."""
    body = area.widget()
    if body is not None:
        wraps = body.hasHeightForWidth()
        body.setMinimumHeight(body.heightForWidth(body.width()) if wraps else 0)


def lacking_height(area: QScrollArea, *, or_lower: bool) -> int:
    """How many pixels a body wants beyond what it has; with `or_lower` below 0 where it has more.

    0 where there is no body.
    """
    body, bar = area.widget(), area.verticalScrollBar()
    if body is None:
        return 0
    width = area.viewport().width() + (bar.width() if bar.isVisible() else 0)
    wanted = body.heightForWidth(width) if body.hasHeightForWidth() else 0
    least = wanted or (body.sizeHint() if or_lower else body.minimumSizeHint()).height()
    return least - area.viewport().height()


def in_halves(
    way: QBoxLayout.Direction, gap: int, halves: tuple[tuple[QWidget, int], tuple[QWidget, int]]
) -> QWidget:
    """Two halves, each with its share, beside or above each other, `gap` pixels apart."""
    body = QWidget()
    layout = QBoxLayout(way, body)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(gap)
    for half, share in halves:
        layout.addWidget(half, share, Qt.AlignmentFlag.AlignTop)
    return body


def whole_rows(room: int, least: int, rows: int) -> tuple[int, int]:
    """How high each row is so that none is cut, and what is left over, in pixels.

    They are `least` high where all `rows` have room, else as much higher as fills the room.
    """
    fit = max(1, room // least)
    if rows <= fit:
        return least, 0
    row = max(least, room // fit)
    return row, max(0, room - fit * row)
