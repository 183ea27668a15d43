"""How much may be written into a text of several lines, so that papers and files take it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import QPlainTextEdit, QToolTip

from sennight.desktop.kit.plain_text import plain_tip
from sennight.desktop.kit.translating import translate

MOST_IN_PROSE = 5_000
"""Letters; a course file takes as many."""
MOST_IN_A_CONSULTATION = 20_000
"""Letters under one heading; some ten pages."""


def limit_prose(
    field: QPlainTextEdit,
    most: int = MOST_IN_PROSE,
    *,
    tell: Callable[[str], object] | None = None,
) -> None:
    """Let no more be typed or pasted than fits, and tell of it, in a tip unless otherwise.

    Of what comes in too much the end is left out. What a record holds already stays whole.
    """
    document, came = field.document(), [0, 0]

    def note(place: int, _gone: int, added: int) -> None:
        came[:] = place, added

    def cut() -> None:
        (place, added), length = came, document.characterCount() - 1
        over = min(length - most, added)
        if over <= 0 or not field.hasFocus():
            return
        came[:] = 0, 0
        last = min(place + added, length)
        cursor = QTextCursor(document)
        cursor.setPosition(last - over)
        cursor.setPosition(last, QTextCursor.MoveMode.KeepAnchor)
        cursor.removeSelectedText()
        template = translate("Forms", "At most {most} letters fit here; the rest was left out.")
        (tell or (lambda text: _tip(field, text)))(template.format(most=most))

    document.contentsChange.connect(note)
    field.textChanged.connect(cut)


def _tip(field: QPlainTextEdit, text: str) -> None:
    field.setAccessibleDescription(text)
    QToolTip.showText(field.mapToGlobal(field.rect().bottomLeft()), plain_tip(text), field)
