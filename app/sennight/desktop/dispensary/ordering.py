"""What is worked out for the dispensary: what is wanted and ordered, how it is priced and set."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from sennight.desktop.dispensary.minimum_dialog import MinimumDialog
from sennight.desktop.dispensary.page import DispensaryPage
from sennight.desktop.dispensary.prices_dialog import PricesDialog
from sennight.desktop.dispensary.settings_dialog import SettingsDialog
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Surroundings
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.domain.dispensary.material_words import material_words
from sennight.practice.dispensary import batches_left, keep_settings, settings_of, shelf
from sennight.practice.opening import PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.pricing import keep_prices, price_list, prices_of, write_price_list
from sennight.practice.wanted import (
    keep_minimum,
    minimums,
    order_list,
    order_sheet,
    wanted,
    worksheet,
    write_orders,
)
from sennight.practice.writing import FolderError, write_paths

PDF = "PDF (*.pdf)"


class OrderingWork(QObject):
    """The page with its lists; `status_message` says what was done."""

    status_message = Signal(str)

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.around, self._practice = around, around.practice
        self.dispensary = DispensaryPage(around)
        self.dispensary.wanted.worksheet_wanted.connect(self.save_worksheet)
        self.dispensary.orders.minimum_wanted.connect(self.set_minimum)
        self.dispensary.orders.saving.connect(self.save_orders)
        self.dispensary.orders.printing.connect(self.save_order_sheet)
        self.dispensary.prices.clicked.connect(self.set_prices)
        self.dispensary.wanted.settings.clicked.connect(self.change_settings)

    def load(self) -> None:
        """Bring the page up to date."""
        names = known_herbs(self._practice).names
        self.dispensary.load(shelf(self._practice), batches_left(self._practice), names)
        today = self.around.today()
        rows = wanted(self._practice, today)
        self.dispensary.wanted.load(rows, today)
        self.dispensary.orders.load(order_list(self._practice, today, rows), names)

    def _saved(self, dialog: FormDialog, save: Callable[[], object]) -> None:
        """Run a dialog, save what it asked for and show it; the keyboard stays on the list."""
        if saved_from(dialog, save):
            self.load()
        dialog.deleteLater()
        self.dispensary.take_focus()

    def save_worksheet(self) -> None:
        """Ask where, and save a sheet to weigh and measure by."""
        today = self.around.today()
        name = self.tr("worksheet {day}.pdf").format(day=today.isoformat())
        path = ask_where(self.dispensary, self.tr("Save the worksheet"), name, PDF)
        if path is not None:
            content = worksheet(self._practice, self.dispensary.wanted.shown, today)
            self._write(lambda: write_paths({path: content}))

    def save_orders(self) -> None:
        """Ask where, and save the order list."""
        name = self.tr("orders {day}.csv").format(day=self.around.today().isoformat())
        path = ask_where(
            self.dispensary, self.tr("Save the order list"), name, self.tr("Tables (*.csv)")
        )
        if path is not None:
            rows = self.dispensary.orders.rows
            self._write(lambda: write_orders(self._practice, rows, path))

    def save_order_sheet(self) -> None:
        """Ask where, and save the order list to print."""
        today = self.around.today()
        name = self.tr("order {day}.pdf").format(day=today.isoformat())
        path = ask_where(self.dispensary, self.tr("Save the order sheet"), name, PDF)
        if path is not None:
            content = order_sheet(self._practice, self.dispensary.orders.rows, today)
            self._write(lambda: write_paths({path: content}))

    def _write(self, write: Callable[[], object]) -> None:
        try:
            write()
        except (FolderError, PracticeFileError) as error:
            message_dialog(self.dispensary, self.tr("Could not be saved"), str(error)).exec()
            return
        self.status_message.emit(self.tr("Saved."))

    def set_minimum(self, row: int) -> None:
        """Ask how much of a material is always to be in stock."""
        order = self.dispensary.orders.rows[row] if row >= 0 else None
        known = dict.fromkeys(delivery.material for delivery in shelf(self._practice).deliveries)
        known |= dict.fromkeys(order.material for order in self.dispensary.orders.rows)
        if not known:
            self.status_message.emit(self.tr("Enter a delivery first."))
            return
        names = known_herbs(self._practice).names
        materials = sorted(known, key=lambda material: material_words(material, names).casefold())
        dialog = MinimumDialog(
            self.dispensary,
            materials,
            minimums(self._practice),
            names,
            chosen=order.material if order else None,
        )
        dialog.keep_draft(self._practice, "minimum", bring_back=order is None)

        def save() -> None:
            if dialog.answer is not None:
                keep_minimum(self._practice, *dialog.answer, now=self.around.now())

        self._saved(dialog, save)

    def change_settings(self) -> None:
        """Ask how supply is reckoned, what containers hold and what can be weighed."""
        dialog = SettingsDialog(self.dispensary, settings_of(self._practice))
        dialog.keep_draft(self._practice, "dispensary-settings")

        def save() -> None:
            if dialog.answer is not None:
                keep_settings(self._practice, dialog.answer, now=self.around.now())

        self._saved(dialog, save)

    def set_prices(self) -> None:
        """Ask how remedies are priced, and show what comes out."""
        dialog = PricesDialog(
            self.dispensary, prices_of(self._practice), price_list(self._practice)
        )
        dialog.keep_draft(self._practice, "prices")
        dialog.save_list.clicked.connect(self.save_price_list)

        def save() -> None:
            if dialog.answer is not None:
                keep_prices(self._practice, dialog.answer, now=self.around.now())

        self._saved(dialog, save)

    def save_price_list(self) -> None:
        """Ask where, and save the price list."""
        path = ask_where(
            self.dispensary,
            self.tr("Save the price list"),
            self.tr("price list.csv"),
            self.tr("Tables (*.csv)"),
        )
        if path is not None:
            self._write(lambda: write_price_list(self._practice, path))
