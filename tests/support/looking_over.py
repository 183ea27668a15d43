"""What is wrong with the look of a screen, found without eyes: names, cuts, contrast, room.

Each function gives the faults of one kind, in words; none is what is wanted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import TypeVar

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QModelIndex, QPoint, QRect, Qt
from PySide6.QtGui import QAction, QColor, QFont, QImage, QShortcut
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QDialog,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QScrollArea,
    QScrollBar,
    QTabBar,
    QTextEdit,
    QWidget,
)

from sennight.desktop.kit.tables import RowTable
from sennight.desktop.kit.theme import contrast
from sennight.desktop.kit.widgets import Shortened

AA_TEXT, AA_PARTS = 4.5, 3.0
"""Smallest contrast of text, and of what shows a control (WCAG 2.2, 1.4.3 and 1.4.11)."""

MOST_BLANK = 24
"""Pixels that may be blank at the foot of a dialog; this project's own bound."""

MOST_ROWS = 20
"""So many rows of a list are looked at."""

UNSPOKEN = ("qt_clear_button", "qt_tableview_cornerbutton")
"""Buttons of Qt's own that have a role in place of a name, or do nothing."""

FIELDS = (QLineEdit, QPlainTextEdit, QTextEdit, QComboBox, QAbstractItemView)

Kind = TypeVar("Kind", bound=QWidget)


def seen(screen: QWidget, kind: type[Kind]) -> Iterator[Kind]:
    """The parts of a kind that are in view, without those in windows of their own."""
    for part in screen.findChildren(kind):
        if part.isVisible() and part.window() is screen.window() and part.width() > 0:
            yield part


def nameless(screen: QWidget) -> list[str]:
    """Fields, lists and buttons that a reader of screens has no name for."""
    fields = [
        field
        for kind in FIELDS
        for field in seen(screen, kind)
        if not isinstance(field, QHeaderView) and not field.accessibleName()
    ]
    buttons = [
        part
        for part in seen(screen, QAbstractButton)
        if not (part.text() or part.accessibleName()) and part.objectName() not in UNSPOKEN
    ]
    return [f"{type(part).__name__} {part.objectName()} has no name" for part in fields + buttons]


def cut(screen: QWidget) -> list[str]:
    """Texts that are wider than their room, and neither end in … nor wrap."""
    found = [
        label.text()
        for label in seen(screen, QLabel)
        if not label.wordWrap()
        and not isinstance(label, Shortened)  # which ends in …, and has it whole in its tip
        and widest(label, label.text()) > label.width() + 1
    ]
    found += [
        label.text() for label in seen(screen, QLabel) if label.wordWrap() and too_low(label)
    ]
    found += [
        button.text()
        for button in seen(screen, QAbstractButton)
        if button.text()
        and not button.toolTip().startswith(button.text())
        and widest(button, button.text()) > button.width()
    ]
    for bar in seen(screen, QTabBar):
        found += cut_tabs(bar)
    for head in seen(screen, QHeaderView):
        found += cut_heads(head)
    return [f"“{text}” is cut" for text in found]


def cut_names(screen: QWidget) -> list[str]:
    """Names that are cut in lists: what stands out in a row is what it is about."""
    return [
        f"“{index.data()}” is cut in a list"
        for table in seen(screen, RowTable)
        for row in range(min(table.model().rowCount(), MOST_ROWS))
        for column in range(table.model().columnCount())
        if not table.isColumnHidden(column) and table.columnSpan(row, column) == 1
        for index in (table.model().index(row, column),)
        if is_name(index) and table.sizeHintForIndex(index).width() > table.columnWidth(column)
    ]


def is_name(index: QModelIndex) -> bool:
    """Whether a cell stands out by its weight."""
    font = index.data(Qt.ItemDataRole.FontRole)
    return isinstance(font, QFont) and font.weight() > QFont.Weight.Normal and bool(index.data())


def unstyled(screen: QWidget) -> list[str]:
    """Parts that look as Qt draws them, and not as this program does."""
    return [
        f"{bar.tabText(0)}: Qt’s own tabs" for bar in seen(screen, QTabBar) if type(bar) is QTabBar
    ]


def widest(part: QWidget, text: str) -> int:
    """The width of the widest line of a text in a part's font; a caption's && is one &."""
    plain = text.replace("&&", "&")
    return max(part.fontMetrics().horizontalAdvance(line) for line in plain.split("\n"))


def too_low(label: QLabel) -> bool:
    """Whether a text that wraps has more lines than room."""
    return bool(label.text()) and label.heightForWidth(label.width()) > label.height() + 2


def cut_tabs(bar: QTabBar) -> Iterator[str]:
    """The words of tabs that are wider than their tab, or out of view."""
    for tab in range(bar.count()):
        place = bar.tabRect(tab)
        is_cut = widest(bar, bar.tabText(tab)) > place.width() or place.right() > bar.width()
        if bar.isTabVisible(tab) and is_cut and not bar.tabToolTip(tab):
            yield bar.tabText(tab)


def cut_heads(head: QHeaderView) -> Iterator[str]:
    """The heads of columns (not those of rows) that are wider than their column."""
    model = head.model()
    if model is None or head.orientation() is not Qt.Orientation.Horizontal:
        return
    for column in range(head.count()):
        text = str(model.headerData(column, head.orientation()) or "")
        tip = model.headerData(column, head.orientation(), Qt.ItemDataRole.ToolTipRole)
        if text and not tip and not head.isSectionHidden(column):
            room = head.sectionSize(column)
            if widest(head, text) > room:
                yield text


def equal_shortcuts(screen: QWidget) -> list[str]:
    """Keys that mean two things on one page."""
    keys = Counter[str]()
    parts = [screen, *seen(screen, QWidget)]
    actions = {action for part in parts for action in part.actions()}
    actions |= {
        action for action in screen.findChildren(QAction) if not action.associatedObjects()
    }
    own = Qt.FindChildOption.FindDirectChildrenOnly
    for action in actions:
        if action.isEnabled():
            keys.update({key.toString() for key in action.shortcuts()})
    for part in parts:
        for shortcut in part.findChildren(QShortcut, options=own):
            if shortcut.isEnabled():
                keys.update({sequence.toString() for sequence in shortcut.keys()})  # noqa: SIM118 - a method
    return [f"{key} is there {count} times" for key, count in keys.items() if key and count > 1]


def nested_bars(screen: QWidget) -> list[str]:
    """Scroll bars within a part that scrolls itself the same way."""
    found: list[str] = []
    for bar in seen(screen, QScrollBar):
        own = area_of(bar)
        outer = area_of(own)
        while own is not None and outer is not None:
            across = bar.orientation() is Qt.Orientation.Horizontal
            other = outer.horizontalScrollBar() if across else outer.verticalScrollBar()
            if other.isVisible():
                found.append(
                    f"{own.accessibleName() or type(own).__name__} scrolls within another"
                )
            outer = area_of(outer)
    return found


def area_of(part: QWidget | None) -> QAbstractScrollArea | None:
    """The area that a part is in."""
    while part is not None and not part.isWindow():
        part = part.parentWidget()
        if isinstance(part, QAbstractScrollArea):
            return part
    return None


# From the picture


class Picture:
    """A screen as it was drawn; places are those of the screen."""

    def __init__(self, screen: QWidget) -> None:
        self.screen = screen
        image = screen.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
        self.width, self.height = image.width(), image.height()
        dots = np.frombuffer(bytes(image.constBits()), np.uint32)
        self.dots: npt.NDArray[np.uint32] = dots.reshape(self.height, self.width)

    def rect_of(self, part: QWidget) -> QRect:
        """Where a part is, as far as it is in view."""
        shown = part.visibleRegion().boundingRect()
        shown.translate(part.mapTo(self.screen, QPoint(0, 0)))
        return shown.intersected(QRect(0, 0, self.width, self.height))

    def row(self, y: int, left: int, right: int) -> list[int]:
        """The dots of a row, from one place to before another."""
        dots: list[int] = self.dots[y, left:right].tolist()
        return dots

    def colours(self, rect: QRect) -> Counter[int]:
        """How many dots of each colour there are in a place."""
        part = self.dots[rect.top() : rect.bottom() + 1, rect.left() : rect.right() + 1]
        found, counts = np.unique(part, return_counts=True)
        return Counter(dict(zip(found.tolist(), counts.tolist(), strict=True)))


def faint(picture: Picture) -> list[str]:
    """Texts that stand out too little from their ground, and fields whose border does."""
    found: list[str] = []
    for label in seen(picture.screen, QLabel):
        ratio = (
            text_contrast(picture.colours(picture.rect_of(label)))
            if len(label.text()) > 1
            else None
        )
        if ratio is not None and ratio < AA_TEXT:
            found.append(f"“{label.text()}” has {ratio:.1f} : 1")
    for button in seen(picture.screen, QPushButton):
        inside = picture.rect_of(button).adjusted(4, 4, -4, -4)
        ratio = text_contrast(picture.colours(inside)) if button.text() else None
        if ratio is not None and ratio < AA_TEXT and button.isEnabled():
            found.append(f"“{button.text()}” has {ratio:.1f} : 1")
    for field in seen(picture.screen, QLineEdit):
        if isinstance(field.parentWidget(), QComboBox):  # which has the border
            continue
        ratio = border_contrast(picture, field)
        if ratio is not None and ratio < AA_PARTS:
            found.append(f"the border of {field.accessibleName()} has {ratio:.1f} : 1")
    return found


def text_contrast(colours: Counter[int]) -> float | None:
    """The contrast of the strongest colour with the commonest; None where nothing is drawn."""
    if len(colours) < 2:
        return None
    ground = colours.most_common(1)[0][0]
    return max(contrast_of(colour, ground) for colour in colours)


@cache
def contrast_of(dot: int, other: int) -> float:
    """The contrast of two dots; the same ones are met again and again."""
    return contrast(QColor.fromRgb(dot), QColor.fromRgb(other))


def border_contrast(picture: Picture, field: QWidget) -> float | None:
    """The contrast of a field's left edge with what is outside; None where it is not in view."""
    place = picture.rect_of(field)
    y = place.center().y()
    if place.width() < field.width() or place.left() < 3:
        return None
    outside, *edge = picture.row(y, place.left() - 2, place.left() + 3)
    return max(contrast_of(dot, outside) for dot in edge)


def blank_foot(dialog: QDialog, picture: Picture) -> int:
    """How many rows at the foot of a dialog's body have one colour only."""
    bodies = (part for part in seen(dialog, QScrollArea) if part.parentWidget() is dialog)
    body = next(bodies, None)
    if body is None:
        return 0
    # not what is unobscured of the viewport: the body that lies on it leaves nothing of that
    place, rows = QRect(body.viewport().mapTo(dialog, QPoint(0, 0)), body.viewport().size()), 0
    for y in range(place.bottom(), place.top() - 1, -1):
        if len(set(picture.row(y, place.left(), place.right() + 1))) > 1:
            break
        rows += 1
    return rows


def unreachable(screen: QWidget) -> list[str]:
    """What takes the keyboard by Tab, but is not come to by it."""
    wanted: set[QWidget] = {
        part
        for kind in (QLineEdit, QPlainTextEdit, QAbstractButton, QAbstractItemView)
        for part in seen(screen, kind)
        if part.isEnabled()
        and part.focusPolicy() & Qt.FocusPolicy.TabFocus
        and not isinstance(part.parentWidget(), QComboBox)  # whose line has the keyboard by it
    }
    come_to, rounds = set[QWidget | None](), len(wanted) * 2 + 2
    around = screen.window()  # a part of a page shares its round of Tab with the page
    for _ in range(len(around.findChildren(QWidget)) + 2 if around is not screen else rounds):
        screen.focusNextPrevChild(True)  # noqa: FBT003 - Qt takes it by position
        come_to.add(around.focusWidget())
    return [f"“{name_of(part)}” is not reached by Tab" for part in wanted - come_to]


def name_of(part: QWidget) -> str:
    """What a part says that it is."""
    return part.accessibleName() or str(part.property("text") or type(part).__name__)
