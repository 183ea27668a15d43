"""A protocol's phases in words, to read."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from PySide6.QtWidgets import QTextEdit

from sennight.desktop.parts.protocol_words import PhaseWords, protocol_words
from sennight.domain.courses.clients import Client
from sennight.practice.protocols import ShelfProtocol


class PhasesView(QTextEdit):
    """A protocol's phases in words, beneath each other, to read."""

    def __init__(self) -> None:
        super().__init__()
        self.setReadOnly(True)
        self.setTabChangesFocus(True)
        self.setProperty("kind", "reading")
        self.setAccessibleName(self.tr("Phases"))

    def show_protocol(self, shelf: ShelfProtocol, client: Client) -> None:
        """Show another protocol, its directions said for that client's day."""
        names = {remedy.id: remedy.name for remedy in shelf.remedies}
        self.show_words(protocol_words(shelf.protocol, names, client.day))

    def show_words(
        self, phases: Iterable[PhaseWords], *, marked: frozenset[str] = frozenset()
    ) -> None:
        """Show phases; headings and sentences among those `marked` are bold."""
        gap = self.fontMetrics().height()
        self.setHtml("".join(_phase_html(phase, gap, marked) for phase in phases))


def _phase_html(phase: PhaseWords, gap: int, marked: frozenset[str]) -> str:
    """A phase as a heading and indented lines; `gap` is a line's height in pixels."""
    line = f'<p style="margin: {gap // 4}px 0 0 {gap}px">'
    lines = "".join(f"{line}{_told(text, marked)}</p>" for text in phase.lines)
    heading = escape(phase.heading)
    is_marked = not marked or phase.heading in marked
    head = f"<b>{heading}</b>" if is_marked else heading
    return f'<p style="margin: {gap // 2}px 0 0 0">{head}</p>{lines}'


def _told(text: str, marked: frozenset[str]) -> str:
    return f"<b>{escape(text)}</b>" if text in marked else escape(text)
