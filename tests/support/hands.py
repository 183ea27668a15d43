"""Hands on keyboard and mouse: presses keys where the keyboard is, clicks, and counts both."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from support.next_dialog import in_next_dialog

NONE = Qt.KeyboardModifier.NoModifier


class Hands:
    """`typed` counts letters and figures of content, `pressed` other keys, `clicked` clicks."""

    def __init__(self) -> None:
        self.typed = 0
        self.pressed = 0
        self.clicked = 0

    def click(self, widget: QWidget) -> None:
        """Click into the middle of something that is in view."""
        assert widget.isVisible()
        self.clicked += 1
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
        QApplication.processEvents()

    def press(self, key: Qt.Key, modifier: Qt.KeyboardModifier = NONE, *, times: int = 1) -> None:
        """Press a key, with Ctrl or the like, so many times."""
        for _ in range(times):
            self.pressed += 1
            QTest.keyClick(_where(), key, modifier)
            QApplication.processEvents()

    def type(self, text: str) -> None:
        """Type content."""
        self.typed += len(text)
        QTest.keyClicks(_where(), text)
        QApplication.processEvents()

    def press_for_dialog(
        self, act: Callable[[Any], object], key: Qt.Key, modifier: Qt.KeyboardModifier = NONE
    ) -> None:
        """Press a key that brings a dialog up, and do what `act` does in it."""
        done: list[bool] = []
        window = _where().window()

        def within(dialog: QWidget) -> None:
            QApplication.processEvents()
            try:
                act(dialog)
            except BaseException:
                dialog.close()  # else it stays up, and the test waits in it for ever
                raise
            done.append(True)

        in_next_dialog(within)
        self.press(key, modifier)
        for _ in range(100):  # a button's key presses it with a delay
            if not done:
                QTest.qWait(20)
        assert done, "the dialog was not gone through"
        window.activateWindow()  # as a window system does when a dialog closes
        QApplication.processEvents()


def _where() -> QWidget:
    """What the keyboard acts on."""
    window = QApplication.activeModalWidget() or QApplication.activeWindow()
    found = QApplication.focusWidget() or window
    assert found is not None, "the keyboard is nowhere"
    return found
