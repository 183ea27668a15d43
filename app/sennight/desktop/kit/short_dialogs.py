"""Short dialogs, which only tell something or ask for one of a few ways on."""

from __future__ import annotations

from functools import partial

from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, pressed_by_enter, text_label


def name_window(dialog: QDialog, heading: str) -> None:
    """Say what a dialog is to those who hear it.

    The title of its window is what lists of windows, screenshots and logs of the system keep, and
    a heading may name a client.
    """
    dialog.setWindowTitle(translate("Dialogs", "Sennight"))
    dialog.setAccessibleName(heading)


class _Short(QDialog):
    """A heading, a few sentences and one or two buttons."""

    def __init__(
        self, parent: QWidget | None, heading: str, text: str, buttons: tuple[QPushButton, ...]
    ) -> None:
        super().__init__(parent)
        name_window(self, heading)
        self.setAccessibleDescription(text)
        gap = self.fontMetrics().height()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(gap * 2, gap * 3 // 2, gap * 2, gap * 3 // 2)
        layout.setSpacing(gap)
        for label in (text_label(heading, Role.HEADING, wrap=True), text_label(text, wrap=True)):
            label.setMinimumWidth(self.fontMetrics().horizontalAdvance("n") * 52)
            layout.addWidget(label)
        row = QHBoxLayout()
        row.addStretch(1)
        for short_button in buttons:
            row.addWidget(short_button)
        layout.addLayout(row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that the keyboard is on, else the main one."""
        if not pressed_by_enter(event, self.focusWidget()):
            super().keyPressEvent(event)


def message_dialog(
    parent: QWidget | None, heading: str, text: str, *, to_copy: str = ""
) -> QDialog:
    """A dialog that tells something; run it with `exec`.

    With `to_copy` it offers to put that on the clipboard, to be sent to someone.
    """
    close = button(translate("Dialogs", "Close"), kind="main")
    close.setDefault(True)
    copy = button(translate("Dialogs", "Copy"))
    dialog = _Short(parent, heading, text, (copy, close) if to_copy else (close,))
    copy.clicked.connect(lambda: QGuiApplication.clipboard().setText(to_copy))
    close.clicked.connect(dialog.accept)
    return dialog


def choose(parent: QWidget | None, heading: str, text: str, *, do: str, stay: str) -> bool:
    """Ask for one of two ways on; Enter takes `do`, Escape `stay`."""
    return _asked(parent, (heading, text), button(do, kind="main"), button(stay))


def confirm(parent: QWidget | None, heading: str, text: str, *, do: str, stay: str) -> bool:
    """Ask whether to do what loses something; Escape and Enter both stay."""
    return _asked(parent, (heading, text), button(do), button(stay, kind="main"))


def pick_option(
    parent: QWidget | None,
    words: tuple[str, str],
    ways: tuple[str, ...],
    *,
    stay: str,
    careful: bool = False,
) -> int | None:
    """Ask for one of several ways on: its place, None for `stay`, as Escape gives.

    `words` is a heading and a text. Enter takes the first way, where it is `careful` it stays.
    """
    staying = button(stay, kind="main" if careful else "")
    buttons = [button(way, kind="" if n or careful else "main") for n, way in enumerate(ways)]
    (staying if careful else buttons[0]).setDefault(True)
    row = (*reversed(buttons), staying) if careful else (staying, *reversed(buttons))
    dialog = _Short(parent, *words, row)
    staying.clicked.connect(dialog.reject)
    for n, option_button in enumerate(buttons, start=1):  # 0 is what leaving gives
        option_button.clicked.connect(partial(dialog.done, n))
    result = dialog.exec()
    return result - 1 if result else None


def _asked(
    parent: QWidget | None, words: tuple[str, str], doing: QPushButton, staying: QPushButton
) -> bool:
    main = doing if doing.property("kind") == "main" else staying
    main.setDefault(True)
    dialog = _Short(parent, *words, (staying, doing) if main is doing else (doing, staying))
    doing.clicked.connect(dialog.accept)
    staying.clicked.connect(dialog.reject)
    return dialog.exec() == QDialog.DialogCode.Accepted
