"""What the find field shows of a protocol: its content, to read."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.parts.phases_view import PhasesView
from sennight.domain.courses.clients import Client
from sennight.practice.protocols import ShelfProtocol


class ProtocolDialog(FormDialog):
    """A protocol's phases in words, said for the usual day."""

    def __init__(self, parent: QWidget | None, shelf: ShelfProtocol) -> None:
        super().__init__(parent, shelf.protocol.name, do=self.tr("Close"))
        self.leave_button.hide()
        phases = PhasesView()
        phases.show_protocol(shelf, Client(""))
        self.set_body(phases, columns=80, lines=30)
