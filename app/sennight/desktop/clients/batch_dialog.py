"""What went into a batch, to read."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import text_label
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import Batch, UsedPart
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.stock import Delivery


class BatchDialog(FormDialog):
    """A batch with each part's amount and the delivery that it came from."""

    def __init__(
        self,
        parent: QWidget | None,
        batch: Batch,
        deliveries: Mapping[str, Delivery],
        names: Mapping[str, str],
    ) -> None:
        title = translate("Dispensed", "Batch {number}").format(number=batch.number)
        super().__init__(parent, title, do=self.tr("Close"))
        self.leave_button.hide()
        self._rows = [_cells(part, deliveries, names) for part in batch.parts]
        headings = (self.tr("What"), self.tr("Amount"), self.tr("Supplier and batch"))
        self.model = TextTable(headings, self)
        self.rows = RowsView(self.model, shares=(5, 3, 6))
        self.rows.setMinimumHeight(self.fontMetrics().height() * 8)
        self.model.show_rows(len(self._rows), lambda row: self._rows[row])
        self.rows.entered_row.connect(self.submit)
        self.made = text_label(_made_words(batch), wrap=True)
        form = FieldForm()
        form.row(self.tr("What went in"), self.rows)
        self.set_body(form, columns=80, lines=26)
        self.foot.addWidget(self.made)


def _cells(
    part: UsedPart, deliveries: Mapping[str, Delivery], names: Mapping[str, str]
) -> tuple[str, ...]:
    delivery = deliveries.get(part.delivery or "")
    unknown = translate("Dispensed", "not recorded")
    came = f"{delivery.supplier}, {delivery.batch}" if delivery else unknown
    return names.get(part.herb, part.herb), quantity_words(part.amount), came


def _made_words(batch: Batch) -> str:
    made = translate("Dispensed", "{remedy}, {amount}: made on {day} by {maker}, use by {use_by}.")
    words = made.format(
        remedy=batch.remedy.name,
        amount=quantity_words(batch.amount),
        day=plain_date(batch.made_on),
        maker=batch.maker,
        use_by=plain_date(batch.use_by),
    )
    note = translate("Dispensed", "Note: {note}").format(note=batch.note)
    return f"{words}\n{note}" if batch.note else words
