"""Names as they are: nothing that was typed or came with a file is markup or a key.

Qt takes any tip that begins like HTML for it, and would show a picture that a client's name asks
for, from a file or over a network. Buttons and menus take `&` for the mark of a key.
"""

from __future__ import annotations

from html import escape

from PySide6.QtGui import QAction
from PySide6.QtGui import Qt as GuiQt
from PySide6.QtWidgets import QMenu


def plain_tip(text: str) -> str:
    """A tip that shows a text letter by letter."""
    if not GuiQt.mightBeRichText(text):
        return text
    return f'<p style="white-space: pre-wrap">{escape(text)}</p>'


def add_choice(menu: QMenu, text: str) -> QAction:
    """An entry of a menu that has names in it."""
    action = menu.addAction(plain_caption(text))
    action.setToolTip(plain_tip(text))
    return action


def plain_caption(text: str) -> str:
    """A text for a button, a box to tick, a tab or a menu, in which `&` stands for itself."""
    return text.replace("&", "&&")
