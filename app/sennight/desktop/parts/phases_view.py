"""A protocol's phases in words, to read."""

from __future__ import annotations

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
        phases = protocol_words(shelf.protocol, names, client.day)
        gap = self.fontMetrics().height()
        self.setHtml("".join(_phase_html(phase, gap) for phase in phases))


def _phase_html(phase: PhaseWords, gap: int) -> str:
    """A phase as a heading and indented lines; `gap` is a line's height in pixels."""
    line = f'<p style="margin: {gap // 4}px 0 0 {gap}px">'
    lines = "".join(f"{line}{escape(text)}</p>" for text in phase.lines)
    head = f'<p style="margin: {gap // 2}px 0 0 0"><b>{escape(phase.heading)}</b></p>'
    return head + lines
