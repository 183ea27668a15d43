"""What the find field shows of a protocol or a remedy: its content, to read."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from sennight.desktop.clients.start_dialog import PhasesView
from sennight.desktop.dialogs import Sheet
from sennight.desktop.theme import Role
from sennight.desktop.widgets import words
from sennight.domain.amounts import plain_number
from sennight.domain.clients import Client
from sennight.domain.remedies import Ingredient
from sennight.practice.materia_medica import herb_names
from sennight.practice.protocols import ShelfProtocol
from sennight.practice.remedies import ShelfRemedy


class ProtocolSheet(Sheet):
    """A protocol's phases in words, said for the usual day."""

    def __init__(self, parent: QWidget | None, shelf: ShelfProtocol) -> None:
        super().__init__(parent, shelf.protocol.name, do=self.tr("Close"))
        self.leave_button.hide()
        phases = PhasesView()
        phases.show_protocol(shelf, Client(""))
        self.set_body(phases, columns=80, lines=30)


class RemedySheet(Sheet):
    """A remedy's form and what is in it."""

    def __init__(self, parent: QWidget | None, shelf: ShelfRemedy) -> None:
        super().__init__(parent, shelf.remedy.name, do=self.tr("Close"))
        self.leave_button.hide()
        body = QWidget()
        layout = QVBoxLayout(body)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(words(str(shelf.remedy.form), Role.QUIET))
        names = herb_names()
        for one in shelf.remedy.ingredients:
            layout.addWidget(words(self._part(one, names.get(one.herb, one.herb)), wrap=True))
        layout.addStretch(1)
        self.set_body(body, columns=60, lines=22)

    def _part(self, one: Ingredient, name: str) -> str:
        said = [name]
        if one.parts is not None:
            said.append(self.tr("{number} parts").format(number=plain_number(one.parts)))
        if one.ratio is not None:
            said.append(f"1:{plain_number(one.ratio)}")
        if one.ethanol is not None:
            text = self.tr("{number} % ethanol")
            said.append(text.format(number=plain_number(one.ethanol)))
        if one.mg is not None:
            said.append(f"{plain_number(one.mg)} mg {one.filling or ''}".strip())
        return ", ".join(said)
