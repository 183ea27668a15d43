"""The dialog that tells who got anything of a delivery."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QWidget

from sennight.desktop.dispensary.words import amount_words
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.room import fill_room
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import counted, plain_date
from sennight.practice.clients import ClientEntry
from sennight.practice.dispensary import Traced


class RecallDialog(FormDialog):
    """Lists each client with how to reach them; the main button copies the list."""

    def __init__(
        self,
        parent: QWidget | None,
        what: str,
        traced: Traced,
        clients: Mapping[str, ClientEntry],
    ) -> None:
        self.letters = button(translate("Dispensary", "Letters…"))
        title = translate("Dispensary", "Who had {what}").format(what=what)
        super().__init__(parent, title, do=translate("Dispensary", "Copy the list"))
        self.leave_button.setText(self.tr("Close"))
        self.letters.setToolTip(self.tr("A letter to each: to stop taking it and bring it back"))
        numbers = {batch.id: batch for batch in traced.batches}
        self._rows = []
        for handed in traced.handed:
            batch, entry = numbers[handed.batch], clients[handed.client]
            amount = amount_words(handed.amount.amount, handed.amount.unit)
            self._rows.append(
                (
                    entry.client.name,
                    entry.contact,
                    f"{batch.remedy.name}, {batch.number}",
                    f"{amount}, {plain_date(handed.day)}",
                )
            )
        headings = (
            self.tr("Client"),
            self.tr("Contact"),
            self.tr("Batch"),
            self.tr("Handed over"),
        )
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(5, 5, 6, 6))
        self.rows.setAccessibleName(title)
        self.model.show_rows(len(self._rows), lambda row: self._rows[row])
        fill_room(self.rows)
        form = FieldForm()
        form.row(self._summary(traced), self.rows)
        self.set_body(form, columns=100, lines=30)
        for part in (self.main_button, self.letters):
            part.setEnabled(bool(self._rows))
        batches = ", ".join(f"{batch.number} ({batch.remedy.name})" for batch in traced.batches)
        self.foot.addWidget(
            text_label(self.tr("Batches made with it: {b}").format(b=batches or "–"), wrap=True)
        )

    def _buttons(self) -> QHBoxLayout:
        row = super()._buttons()
        row.insertWidget(1, self.letters)
        return row

    def _summary(self, traced: Traced) -> str:
        clients = len({handed.client for handed in traced.handed})
        return self.tr("{clients} had some of it").format(clients=counted(clients, "client"))

    def submit(self) -> None:
        """Put the list on the clipboard, a line a row, tabs between."""
        QGuiApplication.clipboard().setText("\n".join("\t".join(row) for row in self._rows))
