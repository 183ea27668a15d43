"""What is done in the dispensary: its page, and the dialogs that change what is on it."""

from __future__ import annotations

from functools import partial

from sennight.desktop.dispensary.hand_over_dialog import HandOverDialog, LabelWish, Offers
from sennight.desktop.dispensary.ordering import PDF, OrderingWork
from sennight.desktop.dispensary.prepare_dialog import PrepareDialog
from sennight.desktop.dispensary.recall_dialog import RecallDialog
from sennight.desktop.dispensary.receive_dialog import MadeHere, ReceiveDialog
from sennight.desktop.dispensary.stock_dialog import StockDialog
from sennight.desktop.dispensary.stocktake_dialog import StocktakeDialog
from sennight.desktop.kit.file_dialogs import ask_where
from sennight.desktop.kit.section import Surroundings
from sennight.desktop.kit.short_dialogs import message_dialog
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.papers import plain
from sennight.practice.card import practice_card
from sennight.practice.clients import client_entry, list_client_titles
from sennight.practice.dispensary import (
    Traced,
    batches_left,
    change_stock,
    make_batch,
    plan_batch,
    put_on_shelf,
    recall,
    recall_batch,
    receive,
    settings_of,
    shelf,
    take_stock,
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
)
from sennight.practice.recalling import give_recall_letters
from sennight.practice.remedies import list_remedies
from sennight.practice.safety import UnacceptedError
from sennight.practice.wanted import (
    Wanted,
    filled,
)
from sennight.practice.writing import FolderError


class DispensaryWork(OrderingWork):
    """What is received, prepared, handed over and traced."""

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        self.dispensary.receiving.connect(self.receive)
        self.dispensary.preparing.connect(self.prepare)
        self.dispensary.opened_delivery.connect(self.change)
        self.dispensary.opened_batch.connect(self.hand_over)
        self.dispensary.traced.connect(self.trace)
        self.dispensary.traced_batch.connect(self.trace_batch)
        self.dispensary.counting.connect(self.count_all)
        self.dispensary.shelving.connect(self.put_on_shelf)
        self.dispensary.wanted.preparing.connect(self._prepare_wanted)

    def receive(self) -> None:
        """Enter a delivery."""
        names = known_herbs(self._practice).names
        dialog = ReceiveDialog(self.dispensary, names, self.around.today())
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
        names, today = known_herbs(self._practice).names, self.around.today()
        dialog = ReceiveDialog(self.dispensary, names, today, made)
        dialog.keep_draft(self._practice, "shelve", batch_id)

        def save() -> None:
            if dialog.answer is not None:
                now = self.around.now()
                put_on_shelf(self._practice, batch_id, dialog.answer, day=now.date(), now=now)

        self._saved(dialog, save)

    def change(self, delivery_id: str) -> None:
        """Count a delivery, correct it or throw of it away."""
        shelved = shelf(self._practice)
        delivery = next(made for made in shelved.deliveries if made.id == delivery_id)
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
        want = self.dispensary.wanted.rows[row]
        if want.made is None:
            self.prepare(want)
        else:
            self.hand_over(want.made.id, want)

    def prepare(self, want: Wanted | None = None) -> None:
        """Prepare a remedy of the shelf, or what a course wants."""
        today = self.around.today()
        remedies = {entry.remedy.name: entry.remedy for entry in list_remedies(self._practice)}
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

    def hand_over(self, batch_id: str, want: Wanted | None = None) -> None:
        """Hand a batch over to a client, with labels; `want` says to whom, where that is known."""
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
        if want is not None:
            dialog.fill_in(want)
        dialog.keep_draft(self._practice, "hand-over", batch_id, bring_back=want is None)
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
            name = f"labels-{plain(batch.number)}.pdf"
            path = ask_where(self.dispensary, self.tr("Save the labels"), name, PDF)
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

    def trace(self, delivery_id: str) -> None:
        """Tell who had anything of a delivery."""
        found = {delivery.id: delivery for delivery in shelf(self._practice).deliveries}
        if delivery_id in found:
            delivery = found[delivery_id]
            what = material_words(delivery.material, known_herbs(self._practice).names)
            words = f"{what} ({delivery.supplier}, {delivery.batch})"
            self._tell(words, delivery.batch, recall(self._practice, delivery_id))

    def trace_batch(self, batch_id: str) -> None:
        """Tell who had anything of a batch."""
        found = {batch.id: batch for batch, _ in batches_left(self._practice)}
        if batch_id in found:
            batch = found[batch_id]
            words = f"{batch.remedy.name} ({batch.number})"
            self._tell(words, batch.number, recall_batch(self._practice, batch_id))

    def _tell(self, what: str, number: str, traced: Traced) -> None:
        clients = {
            client: client_entry(self._practice, client)
            for client in {handed.client for handed in traced.handed}
        }
        dialog = RecallDialog(self.dispensary, what, traced, clients)
        dialog.letters.clicked.connect(partial(self._save_letters, number, traced))
        dialog.exec()
        dialog.deleteLater()
        self.dispensary.take_focus()

    def _save_letters(self, number: str, traced: Traced) -> None:
        """Ask where, and save a letter to each who had some of it; each is kept under Given."""
        name = self.tr("letters {number}.pdf").format(number=plain(number))
        path = ask_where(self.dispensary, self.tr("Save the letters"), name, PDF)
        if path is not None:
            give = partial(give_recall_letters, self._practice, traced, path)
            self._write(lambda: give(now=self.around.now(), today=self.around.today()))

    def count_all(self) -> None:
        """Count all that is in stock, and tell what differed."""
        names, before = known_herbs(self._practice).names, shelf(self._practice)
        if not any(before.stock.values()):
            self.status_message.emit(self.tr("Enter a delivery first."))
            return
        dialog = StocktakeDialog(self.dispensary, before, names)
        dialog.keep_draft(self._practice, "count-all")

        def save() -> None:
            if dialog.answer is not None:
                now = self.around.now()
                found = take_stock(self._practice, dialog.answer, day=now.date(), now=now)
                told = self.tr("{n} counted, {differ} different from the record.")
                words = told.format(n=len(dialog.answer), differ=len(found))
                self.status_message.emit(words)

        self._saved(dialog, save)
