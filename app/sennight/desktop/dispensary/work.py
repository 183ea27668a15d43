"""What is done in the dispensary: its page, and the dialogs that change what is on it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Signal

from sennight.desktop.dispensary.hand_over_dialog import HandOverDialog, LabelWish, Offers
from sennight.desktop.dispensary.minimum_dialog import MinimumDialog
from sennight.desktop.dispensary.page import DispensaryPage
from sennight.desktop.dispensary.prepare_dialog import PrepareDialog
from sennight.desktop.dispensary.prices_dialog import PricesDialog
from sennight.desktop.dispensary.recall_dialog import RecallDialog
from sennight.desktop.dispensary.receive_dialog import MadeHere, ReceiveDialog
from sennight.desktop.dispensary.settings_dialog import SettingsDialog
from sennight.desktop.dispensary.stock_dialog import StockDialog
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.saving import saved_from
from sennight.desktop.kit.section import Surroundings
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.material_words import material_words
from sennight.practice.card import practice_card
from sennight.practice.clients import client_entry, list_client_titles
from sennight.practice.dispensary import (
    batches_left,
    change_stock,
    keep_settings,
    make_batch,
    plan_batch,
    put_on_shelf,
    recall,
    receive,
    settings_of,
    shelf,
)
from sennight.practice.dispensing import (
    Handing,
    HandOverError,
    LabelChoices,
    hand_over,
    label_stocks,
    last_container,
    open_courses,
)
from sennight.practice.opening import PracticeFileError
from sennight.practice.own_herbs import known_herbs
from sennight.practice.papers import UnwrittenError
from sennight.practice.pricing import (
    cost_of_batch,
    keep_prices,
    price_list,
    prices_of,
    write_price_list,
)
from sennight.practice.remedies import list_remedies
from sennight.practice.safety import UnacceptedError
from sennight.practice.wanted import (
    Wanted,
    filled,
    keep_minimum,
    minimums,
    order_list,
    wanted,
    worksheet,
    write_orders,
)
from sennight.practice.writing import FolderError, write_paths


class DispensaryWork(QObject):
    """The page of stock and batches, with its dialogs; `status_message` says what was done."""

    status_message = Signal(str)

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self.around, self._practice = around, around.practice
        self.dispensary = DispensaryPage(around)
        self.dispensary.receiving.connect(self.receive)
        self.dispensary.preparing.connect(self.prepare)
        self.dispensary.opened_delivery.connect(self.change)
        self.dispensary.opened_batch.connect(self.hand_over)
        self.dispensary.traced.connect(self.trace)
        self.dispensary.shelving.connect(self.put_on_shelf)
        self.dispensary.wanted.preparing.connect(self._prepare_wanted)
        self.dispensary.wanted.worksheet_wanted.connect(self.save_worksheet)
        self.dispensary.orders.minimum_wanted.connect(self.set_minimum)
        self.dispensary.orders.saving.connect(self.save_orders)
        self.dispensary.prices.clicked.connect(self.set_prices)
        self.dispensary.wanted.settings.clicked.connect(self.change_settings)

    def load(self) -> None:
        """Bring the page up to date."""
        names = known_herbs(self._practice).names
        self.dispensary.load(shelf(self._practice), batches_left(self._practice), names)
        today = self.around.today()
        self.dispensary.wanted.load(wanted(self._practice, today), today)
        self.dispensary.orders.load(order_list(self._practice, today), names)

    def _saved(self, dialog: FormDialog, save: Callable[[], object]) -> None:
        """Run a dialog, save what it asked for and show it; the keyboard stays on the list."""
        if saved_from(dialog, save):
            self.load()
        dialog.deleteLater()
        self.dispensary.take_focus()

    def receive(self) -> None:
        """Enter a delivery."""
        dialog = ReceiveDialog(self.dispensary, known_herbs(self._practice).names)

        dialog.keep_draft(self._practice, "receive")

        def save() -> None:
            if dialog.answer is not None:
                now = self.around.now()
                receive(self._practice, dialog.answer, day=now.date(), now=now)

        self._saved(dialog, save)

    def put_on_shelf(self, batch_id: str) -> None:
        """Put a batch made here into stock, to prepare others from."""
        found = {batch.id: (batch, left) for batch, left in batches_left(self._practice)}
        if batch_id not in found:
            return
        batch, left = found[batch_id]
        if left <= 0:
            text = self.tr("Nothing is left of batch {number}.").format(number=batch.number)
            self.status_message.emit(text)
            return
        made = MadeHere(
            batch, left, self.tr("Made here"), cost_of_batch(self._practice, batch, left)
        )
        dialog = ReceiveDialog(self.dispensary, known_herbs(self._practice).names, made)
        dialog.keep_draft(self._practice, "shelve", batch_id)

        def save() -> None:
            if dialog.answer is not None:
                now = self.around.now()
                put_on_shelf(self._practice, batch_id, dialog.answer, day=now.date(), now=now)

        self._saved(dialog, save)

    def change(self, delivery_id: str) -> None:
        """Count a delivery, correct it or throw of it away."""
        shelved = shelf(self._practice)
        delivery = next(one for one in shelved.deliveries if one.id == delivery_id)
        dialog = StockDialog(
            self.dispensary,
            delivery,
            shelved.stock[delivery_id],
            known_herbs(self._practice).names,
            self.around.today(),
        )

        dialog.keep_draft(self._practice, "stock", delivery_id)

        def save() -> None:
            if dialog.answer is not None:
                change_stock(self._practice, dialog.answer, now=self.around.now())

        self._saved(dialog, save)

    def _prepare_wanted(self, row: int) -> None:
        self.prepare(self.dispensary.wanted.rows[row])

    def prepare(self, want: Wanted | None = None) -> None:
        """Prepare a remedy of the shelf, or what a course wants."""
        today = self.around.today()
        remedies = {one.remedy.name: one.remedy for one in list_remedies(self._practice)}
        if want is not None:
            remedies[want.what.remedy.name] = want.what.remedy
        dialog = PrepareDialog(
            self.dispensary,
            remedies,
            known_herbs(self._practice).names,
            partial(plan_batch, self._practice, today=today),
            maker=practice_card(self._practice).practitioner,
            today=today,
        )

        if want is not None:
            usual = settings_of(self._practice).supply
            dialog.fill_in(want.what.remedy, filled(want.what, usual))
        dialog.keep_draft(self._practice, "prepare", bring_back=want is None)

        def save() -> None:
            if dialog.answer is not None:
                remedy, amount, made = dialog.answer
                now = self.around.now()
                make_batch(self._practice, remedy, amount, made, today=today, now=now)
                self.dispensary.show_batches()

        self._saved(dialog, save)

    def hand_over(self, batch_id: str) -> None:
        """Hand a batch over to a client, with labels."""
        found = {batch.id: (batch, left) for batch, left in batches_left(self._practice)}
        batch, left = found[batch_id]
        if left <= 0:
            text = self.tr("Nothing is left of batch {number}.").format(number=batch.number)
            self.status_message.emit(text)
            return
        usual = settings_of(self._practice).supply
        titles, last = list_client_titles(self._practice), last_container(self._practice, batch)
        offers = Offers(
            {title.name: title.id for title in titles},
            lambda client: open_courses(self._practice, client, batch, self.around.today()),
            label_stocks(),
            practice_card(self._practice).practitioner,
            last.amount if last else usual.container_of(batch.remedy, batch.amount.unit),
        )
        dialog = HandOverDialog(self.dispensary, batch, left, offers)
        dialog.keep_draft(self._practice, "hand-over", batch_id)
        dialog.is_saved_later = True
        if (
            dialog.exec()
            and dialog.answer is not None
            and self._hand_over(batch, dialog.answer, dialog.labels)
        ):
            dialog.forget_draft()
        dialog.deleteLater()
        self.dispensary.take_focus()

    def _hand_over(self, batch: Batch, handing: Handing, wish: LabelWish | None) -> bool:
        """Hand it over, with its labels where they are wanted; whether that was done."""
        labels = None
        if wish is not None:
            name = f"labels-{batch.number}.pdf"
            path = ask_where(self.dispensary, self.tr("Save the labels"), name, "PDF (*.pdf)")
            if path is None:
                return False
            labels = LabelChoices(path, wish.stock, wish.start, wish.in_two)
        now = self.around.now()
        try:
            hand_over(self._practice, handing, labels, today=now.date(), now=now)
        except UnwrittenError as error:
            title = self.tr("Handed over, but the labels could not be saved")
            message_dialog(self.dispensary, title, str(error)).exec()
        except (
            UnacceptedError,
            HandOverError,
            FolderError,
            PracticeFileError,
            ValueError,
        ) as error:
            title = self.tr("Not handed over")
            message_dialog(self.dispensary, title, str(error)).exec()
            return False
        self.load()
        text = self.tr("Handed over, batch {number}.").format(number=batch.number)
        self.status_message.emit(text)
        return True

    # What is wanted, orders, prices

    def save_worksheet(self) -> None:
        """Ask where, and save a sheet to weigh and measure by."""
        today = self.around.today()
        name = self.tr("worksheet {day}.pdf").format(day=today.isoformat())
        path = ask_where(self.dispensary, self.tr("Save the worksheet"), name, "PDF (*.pdf)")
        if path is not None:
            content = worksheet(self._practice, self.dispensary.wanted.rows, today)
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

    def _write(self, write: Callable[[], object]) -> None:
        try:
            write()
        except FolderError as error:
            message_dialog(self.dispensary, self.tr("Could not be saved"), str(error)).exec()
            return
        self.status_message.emit(self.tr("Saved."))

    def set_minimum(self, row: int) -> None:
        """Ask how much of a material is always to be in stock."""
        order = self.dispensary.orders.rows[row] if row >= 0 else None
        known = dict.fromkeys(one.material for one in shelf(self._practice).deliveries)
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

    def trace(self, delivery_id: str) -> None:
        """Tell who had anything of a delivery."""
        shelved = shelf(self._practice)
        delivery = next((one for one in shelved.deliveries if one.id == delivery_id), None)
        if delivery is None:
            return
        traced = recall(self._practice, delivery_id)
        clients = {
            client: client_entry(self._practice, client)
            for client in {handed.client for handed in traced.handed}
        }
        what = material_words(delivery.material, known_herbs(self._practice).names)
        dialog = RecallDialog(
            self.dispensary, f"{what} ({delivery.supplier}, {delivery.batch})", traced, clients
        )
        dialog.exec()
        dialog.deleteLater()
        self.dispensary.take_focus()
