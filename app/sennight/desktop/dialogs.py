"""Dialogs: a heading, what is asked, and two buttons; and the short ones that only tell or ask."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from sennight.desktop.theme import Role
from sennight.desktop.translating import translate
from sennight.desktop.widgets import button, hairline, words


class Sheet(QDialog):
    """A dialog whose body scrolls where the screen is too small for it.

    Escape leaves; where something was changed, it asks first, so that nothing typed is lost.
    """

    def __init__(self, parent: QWidget | None, title: str, *, do: str) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.heading = words(title, Role.TITLE, wrap=True)
        self.main_button = button(do, kind="main")
        self.main_button.setDefault(True)
        self.leave_button = button(self.tr("Cancel"))
        self._body = QScrollArea()
        self._body.setWidgetResizable(True)
        self._body.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._body.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.main_button.clicked.connect(self.carry_on)
        self.leave_button.clicked.connect(self.reject)
        self._lay_out()

    def _lay_out(self) -> None:
        gap = self.fontMetrics().height()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(gap * 2, gap * 3 // 2, gap * 2, gap * 3 // 2)
        layout.setSpacing(gap)
        layout.addWidget(self.heading)
        layout.addWidget(self._body, 1)
        layout.addWidget(hairline())
        layout.addLayout(self._buttons())

    def _buttons(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(self.leave_button)
        row.addWidget(self.main_button)
        return row

    def set_body(self, body: QWidget, *, columns: int, lines: int) -> None:
        """What is asked; the dialog is sized for so many columns and lines of text, at most
        nine tenths of the screen."""
        self._body.setWidget(body)
        metrics, screen = self.fontMetrics(), self.screen().availableGeometry()
        width = metrics.horizontalAdvance("n") * columns
        height = metrics.lineSpacing() * lines
        self.resize(min(width, screen.width() * 9 // 10), min(height, screen.height() * 9 // 10))

    def carry_on(self) -> None:
        """Do what the main button says; a dialog that checks its fields does so here."""
        self.accept()

    def is_changed(self) -> bool:
        """Whether something was typed that leaving would lose."""
        return False

    def reject(self) -> None:
        """Leave, after asking where something would be lost."""
        if not self.is_changed() or confirmed(
            self,
            self.tr("Leave without saving?"),
            self.tr("What you typed here is not saved yet."),
            do=self.tr("Leave"),
            stay=self.tr("Keep editing"),
        ):
            super().reject()


class _Short(QDialog):
    """A heading, a few sentences and one or two buttons."""

    def __init__(
        self, parent: QWidget | None, heading: str, text: str, buttons: tuple[QPushButton, ...]
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(heading)
        self.setAccessibleDescription(text)
        gap = self.fontMetrics().height()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(gap * 2, gap * 3 // 2, gap * 2, gap * 3 // 2)
        layout.setSpacing(gap)
        for label in (words(heading, Role.HEADING, wrap=True), words(text, wrap=True)):
            label.setMinimumWidth(self.fontMetrics().horizontalAdvance("n") * 52)
            layout.addWidget(label)
        row = QHBoxLayout()
        row.addStretch(1)
        for one in buttons:
            row.addWidget(one)
        layout.addLayout(row)


def told(parent: QWidget | None, heading: str, text: str) -> QDialog:
    """A dialog that tells something; run it with `exec`."""
    close = button(translate("Dialogs", "Close"), kind="main")
    close.setDefault(True)
    dialog = _Short(parent, heading, text, (close,))
    close.clicked.connect(dialog.accept)
    return dialog


def confirmed(parent: QWidget | None, heading: str, text: str, *, do: str, stay: str) -> bool:
    """Ask whether to do something; Escape and Enter both stay."""
    doing, staying = button(do), button(stay, kind="main")
    staying.setDefault(True)
    dialog = _Short(parent, heading, text, (doing, staying))
    doing.clicked.connect(dialog.accept)
    staying.clicked.connect(dialog.reject)
    return dialog.exec() == QDialog.DialogCode.Accepted
