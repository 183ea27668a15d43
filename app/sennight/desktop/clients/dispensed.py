"""What a client was handed over, and until when it lasts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from sennight.desktop.clients.batch_dialog import BatchDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.desktop.kit.tables import RowsView, TextTable
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import Batch, HandedOver
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.supply.quantities import Quantity
from sennight.practice.courses import CourseEntry
from sennight.practice.dispensary import shelf
from sennight.practice.dispensing import handed_to
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.pricing import receipt
from sennight.practice.supplying import lasting_for
from sennight.practice.writing import FolderError, write_paths

TOLD_BEFORE = timedelta(days=7)
"""How long before it is to be ordered a remedy stands out."""


MOST_ROWS = 6
"""So many are in view; of more, the older ones scroll."""


class Dispensed(QWidget):
    """What one client was handed over, the newest first; hidden where that is nothing."""

    def __init__(self, practice: OpenPractice) -> None:
        super().__init__()
        self._practice = practice
        self.handed: tuple[tuple[HandedOver, Batch], ...] = ()
        columns = (self.tr("Remedy"), self.tr("Amount"), self.tr("Batch"), self.tr("Handed over"))
        self.model = TextTable(columns, self)
        self.rows = RowsView(self.model, shares=(5, 3, 3, 7))
        self.rows.setAccessibleName(self.tr("Dispensed"))
        self.rows.horizontalHeader().hide()
        self.rows.is_calm = True
        self.open_button = button(self.tr("What went in…"), kind="link")
        self.receipt_button = button(self.tr("Receipt…"), kind="link")
        self.receipt_button.setToolTip(self.tr("For all that was handed over on that day"))
        self.due = text_label("", Role.ALARM, wrap=True)
        self.later = text_label("", Role.QUIET, wrap=True)
        self._lay_out()
        self.hide()
        self.rows.entered_row.connect(self.open_batch)
        self.rows.doubleClicked.connect(lambda index: self.open_batch(index.row()))
        self.receipt_button.clicked.connect(self.save_receipt)
        self.open_button.clicked.connect(lambda: self.open_batch(self.rows.currentIndex().row()))

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(text_label(self.tr("Dispensed"), Role.HEADING), 1)
        for link in (self.open_button, self.receipt_button):
            head.addWidget(link, 0, Qt.AlignmentFlag.AlignTop)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        self._layout.addLayout(head)
        for label in (self.due, self.later):
            self._layout.addWidget(label)
        self._layout.addWidget(self.rows)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self._layout.setSpacing(theme.unit)
        self.rows.show_whole(MOST_ROWS)

    def show_client(self, client_id: str, courses: tuple[CourseEntry, ...], today: date) -> None:
        """Show what a client was handed over, and how long that of the running courses lasts."""
        self.handed = tuple(reversed(handed_to(self._practice, client_id)))
        self.model.show_rows(len(self.handed), self._cells)
        told = tuple(self._lasting_words(courses, today))
        for label, is_due in ((self.due, True), (self.later, False)):
            label.setText("\n".join(words for words, due in told if due is is_due))
            label.setVisible(bool(label.text()))
        self.rows.show_whole(MOST_ROWS)
        self.setVisible(bool(self.handed))

    def _cells(self, row: int) -> tuple[str, ...]:
        handed, batch = self.handed[row]
        when = self.tr("{day}, by {who}").format(day=plain_date(handed.day), who=handed.by)
        return batch.remedy.name, _amount_words(handed), batch.number, when

    def _lasting_words(
        self, courses: tuple[CourseEntry, ...], today: date
    ) -> Iterator[tuple[str, bool]]:
        """A sentence for each remedy of the courses that go on, and whether it is to stand out."""
        had = {handed.course for handed, _ in self.handed}
        for entry in courses:
            if entry.id not in had or entry.course.is_void:
                continue
            layout = lay_out(entry.course)
            if layout.days.end <= today:
                continue
            for row in lasting_for(self._practice, layout):
                words = lasting_words(entry.course, row, today)
                if words:
                    yield words, is_due(row, today)

    def open_number(self, number: int) -> None:
        """Say what went into what was handed over as the client's first, second, …"""
        row = len(self.handed) - number
        self.rows.select_row(row)
        self.open_batch(row)

    def open_batch(self, row: int) -> None:
        """Say what went into the batch of a row."""
        if not 0 <= row < len(self.handed):
            return
        deliveries = {delivery.id: delivery for delivery in shelf(self._practice).deliveries}
        names = known_herbs(self._practice).names
        dialog = BatchDialog(self.window(), self.handed[row][1], deliveries, names)
        dialog.exec()
        dialog.deleteLater()

    def save_receipt(self) -> None:
        """Ask where, and save a receipt of what was handed over on the day of the row in hand."""
        row = max(0, self.rows.currentIndex().row())
        handed = self.handed[row][0]
        name = self.tr("receipt {day}.pdf").format(day=handed.day.isoformat())
        path = ask_where(self.window(), self.tr("Save the receipt"), name, "PDF (*.pdf)")
        if path is None:
            return
        try:
            write_paths({path: receipt(self._practice, handed.client, handed.day)})
        except FolderError as error:
            message_dialog(self.window(), self.tr("Could not be saved"), str(error)).exec()


def is_due(row: Lasting, today: date) -> bool:
    """Whether the day to order is past or comes within a week."""
    return row.order_by is not None and row.order_by <= today + TOLD_BEFORE


def lasting_words(course: Course, row: Lasting, today: date) -> str:
    """Until when a remedy of a course lasts, and by when to order more.

    Empty where it is used up and the course needs no more of it.
    """
    return _template(row, today).format(
        course=course.protocol.name,
        name=course.remedy(row.bottle.formula).name,
        last=plain_date(row.last_day) if row.last_day else "",
        order_by=plain_date(row.order_by) if row.order_by else "",
    )


def _template(row: Lasting, today: date) -> str:
    if row.last_day is None:
        return translate("Dispensed", "{name} ({course}): not enough for one day. Order now.")
    if row.plan:
        return translate(
            "Dispensed", "{name} ({course}): used in the flare-up to {last}. Prepare it again."
        )
    is_over = row.last_day < today
    if row.order_by is None:
        enough = translate(
            "Dispensed", "{name} ({course}): lasts until {last}, as long as it is needed."
        )
        return "" if is_over else enough
    if is_over:
        return translate(
            "Dispensed", "{name} ({course}): should have lasted until {last}. Order now."
        )
    if row.order_by <= today:
        return translate("Dispensed", "{name} ({course}): lasts until {last}. Order now.")
    return translate("Dispensed", "{name} ({course}): lasts until {last}. Order by {order_by}.")


def _amount_words(handed: HandedOver) -> str:
    """So many containers of so much each: 2 × 45 g."""
    each = Quantity(handed.amount.amount / handed.containers, handed.amount.unit)
    words = quantity_words(each)
    return words if handed.containers == 1 else f"{handed.containers} × {words}"
