"""The dispensary's page: what is in stock, and the batches that were made of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QAbstractButton,
    QCheckBox,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
)

from sennight.desktop.dispensary.prepare_dialog import left_words
from sennight.desktop.dispensary.wanted_list import OrdersList, WantedList
from sennight.desktop.dispensary.words import amount_words, best_before_words
from sennight.desktop.kit.choices import Choices
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.section import Page, Surroundings
from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import button, text_label
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.stock import Delivery, expiring
from sennight.practice.dispensary import Shelf

WANTED, STOCK, BATCHES, ORDERS = range(4)


class DispensaryPage(Page):
    """Four lists. Opening a delivery counts or corrects it; opening a batch hands it over.

    `traced` has a delivery that is to be followed, `traced_batch` a batch, `shelving` a batch for
    the shelf; `counting` counts all, `receiving` and `preparing` begin one more.
    """

    receiving = Signal()
    preparing = Signal()
    opened_delivery = Signal(str)
    opened_batch = Signal(str)
    shelving = Signal(str)
    traced = Signal(str)
    traced_batch = Signal(str)
    counting = Signal()

    def __init__(self, around: Surroundings) -> None:
        super().__init__()
        self._around = around
        self._names: Mapping[str, str] = {}
        self._shelf = Shelf((), {})
        self._batches: tuple[tuple[Batch, Fraction], ...] = ()
        self._make_parts(around.theme)
        self._connect()
        self.apply_theme(around.theme)

    # Layout

    def _make_parts(self, theme: Theme) -> None:
        names = (
            self.tr("To prepare"),
            self.tr("Stock"),
            self.tr("Batches"),
            self.tr("To order"),
        )
        self.choice = Choices(names, theme)
        self.wanted, self.orders = WantedList(), OrdersList()
        self.prices = button(self.tr("Prices…"))
        self.choice.setAccessibleName(self.tr("What to show"))
        self.receive = button(self.tr("Enter a delivery…"), kind="main")
        self.trace = button(self.tr("Who had it…"))
        self.trace_batch = button(self.tr("Who had it…"))
        self.count = button(self.tr("Count all…"))
        self.soon = QCheckBox(self.tr("Out of date soon"))
        self.soon.setToolTip(self.tr("Show what is out of date, or will be within eight weeks"))
        self.first_delivery = button(self.tr("Enter a delivery…"), kind="main")
        self.prepare = button(self.tr("Prepare…"), kind="main")
        self.put_on_shelf = button(self.tr("Put on the shelf…"))
        self.first_batch = button(self.tr("Prepare…"), kind="main")
        self._make_lists()
        for shown in (self.wanted.list, self.stock, self.batches, self.orders.list):
            shown.hide_title()  # the word chosen above names it
        self._stack = QStackedWidget()
        for part in (self.wanted, self.stock, self.batches, self.orders):
            self._stack.addWidget(part)
        self.title = text_label(self.tr("Dispensary"), Role.TITLE)
        self._layout = QVBoxLayout(self)
        self._tabs = QHBoxLayout()
        self._tabs.addWidget(self.title, 0, Qt.AlignmentFlag.AlignBottom)
        self._tabs.addWidget(self.choice, 1, Qt.AlignmentFlag.AlignBottom)
        self._layout.addLayout(self._tabs)
        self._layout.addWidget(self._stack, 1)

    def _make_lists(self) -> None:
        self.stock = self._list(
            self.tr("Stock"),
            Columns(
                (
                    self.tr("What"),
                    self.tr("In stock"),
                    self.tr("Supplier and batch"),
                    self.tr("Best before"),
                ),
                (7, 3, 6, 5),
            ),
            (self.soon, self.count, self.trace, self.receive),
            self.first_delivery,
            "stock",
        )
        self.batches = self._list(
            self.tr("Batches"),
            Columns(
                (
                    self.tr("Remedy"),
                    self.tr("Number"),
                    self.tr("Made"),
                    self.tr("Use by"),
                    self.tr("Left"),
                ),
                (6, 4, 5, 5, 5),
            ),
            (self.prices, self.trace_batch, self.put_on_shelf, self.prepare),
            self.first_batch,
            "batches",
        )

    def _list(
        self,
        title: str,
        columns: Columns,
        after: tuple[QAbstractButton, ...],
        first: QPushButton,
        drawing: str,
    ) -> NarrowedList:
        words = ListWords(
            title=title,
            rows=title,
            field=self.tr("Search {what}").format(what=title.lower()),
            hint=self.tr("Search"),
            drawing=drawing,
        )
        made = NarrowedList(words, columns, after=after, first_steps=(first,))
        made.has_many = True
        return made

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another theme."""
        self.choice.apply_theme(theme)
        for part in (self.wanted, self.stock, self.batches, self.orders):
            part.apply_theme(theme)
        self._layout.setContentsMargins(0, theme.unit * (2 if theme.is_large else 4), 0, 0)
        self._tabs.setContentsMargins(theme.edge, 0, theme.edge, 0)
        self._tabs.setSpacing(theme.unit * 3)
        self._layout.setSpacing(0)

    # Behaviour

    def _connect(self) -> None:
        self.choice.chosen.connect(self._show_list)
        for receive in (self.receive, self.first_delivery):
            receive.clicked.connect(self.receiving)
        for prepare in (self.prepare, self.first_batch):
            prepare.clicked.connect(self.preparing)
        self.trace.clicked.connect(lambda: self.traced.emit(self.stock.current()))
        self.trace_batch.clicked.connect(lambda: self.traced_batch.emit(self.batches.current()))
        self.count.clicked.connect(self.counting)
        self.soon.toggled.connect(self._fill_stock)
        self.put_on_shelf.clicked.connect(lambda: self.shelving.emit(self.batches.current()))
        self.stock.narrowed.connect(self._fill_stock)
        self.batches.narrowed.connect(self._fill_batches)
        self.stock.opened.connect(self.opened_delivery)
        self.batches.opened.connect(self.opened_batch)

    def _show_list(self, index: int) -> None:
        self._stack.setCurrentIndex(index)

    def show_batches(self) -> None:
        """Bring the batches to front."""
        self.choice.setCurrentIndex(BATCHES)

    def take_focus(self) -> None:
        """Give the keyboard to the list in front, or to its first step."""
        shown: dict[int, tuple[NarrowedList, QPushButton]] = {
            WANTED: (self.wanted.list, self.wanted.worksheet),
            STOCK: (self.stock, self.first_delivery),
            BATCHES: (self.batches, self.first_batch),
            ORDERS: (self.orders.list, self.orders.minimum),
        }
        rows, otherwise = shown[self._stack.currentIndex()]
        rows.take_focus(otherwise=otherwise)

    def load(
        self,
        shelf: Shelf,
        batches: tuple[tuple[Batch, Fraction], ...],
        names: Mapping[str, str],
    ) -> None:
        """Show what is in stock, and the batches with what is left of each."""
        self._shelf, self._batches, self._names = shelf, batches, names
        at = self.stock.current(), self.batches.current()
        self._fill_stock()
        self._fill_batches()
        self.stock.select(at[0])
        self.batches.select(at[1])
        for part in (self.trace, self.count, self.soon, self.receive):
            part.setVisible(bool(shelf.deliveries))  # else the first step stands alone
        for part in (self.put_on_shelf, self.trace_batch, self.prepare):
            part.setVisible(bool(batches))

    def _fill_stock(self) -> None:
        typed = self.stock.narrow.text().strip().casefold()
        today = self._around.today()
        rows = [
            (delivery, self._stock_cells(delivery, today)) for delivery in self._shelf.deliveries
        ]
        rows.sort(key=lambda row: row[1][0].casefold())
        if self.soon.isChecked():
            cells = {delivery.id: texts for delivery, texts in rows}
            expire = expiring(self._shelf.deliveries, self._shelf.stock, today)
            rows = [(delivery, cells[delivery.id]) for delivery in expire]
        shown = [row for row in rows if typed in " ".join(row[1]).casefold()]
        if self.soon.isChecked() and not rows:
            self._say_none_expire()
            return
        self.stock.empty.say(
            self.tr("Nothing in stock yet") if not rows else self.tr("No match"),
            self.tr(
                "Enter your first delivery with the supplier’s batch number, so that everything "
                "made from it can be traced."
            )
            if not rows
            else self.tr("Try fewer letters."),
        )
        self.stock.fill(
            tuple(delivery.id for delivery, _ in shown),
            lambda row: shown[row][1],
            of=len(rows),
            whole=self.tr("1 delivery")
            if len(rows) == 1
            else self.tr("{n} deliveries").format(n=len(rows)),
        )

    def _say_none_expire(self) -> None:
        """Nothing goes out of date soon; the list of all is a click away."""
        self.stock.empty.say(
            self.tr("Nothing is out of date soon"),
            self.tr("What is out of date, or will be within eight weeks, appears here."),
        )
        self.stock.fill((), lambda _: (), of=len(self._shelf.deliveries), whole="")

    def _stock_cells(self, delivery: Delivery, today: date) -> tuple[str, ...]:
        held = self._shelf.stock.get(delivery.id, Fraction(0))
        return (
            material_words(delivery.material, self._names),
            amount_words(held, delivery.material.unit),
            f"{delivery.supplier}, {delivery.batch}",
            best_before_words(delivery, today),
        )

    def _fill_batches(self) -> None:
        typed = self.batches.narrow.text().strip().casefold()
        rows = [(batch.id, self._batch_cells(batch, left)) for batch, left in self._batches]
        shown = [row for row in rows if typed in " ".join(row[1]).casefold()]
        self.batches.empty.say(
            self.tr("No batches yet") if not rows else self.tr("No match"),
            self.tr("Prepare a remedy: the amounts are worked out and taken from stock.")
            if not rows
            else self.tr("Try fewer letters."),
        )
        self.batches.fill(
            tuple(batch for batch, _ in shown),
            lambda row: shown[row][1],
            of=len(rows),
            whole=self.tr("1 batch")
            if len(rows) == 1
            else self.tr("{n} batches").format(n=len(rows)),
        )

    def _batch_cells(self, batch: Batch, left: Fraction) -> tuple[str, ...]:
        return (
            batch.remedy.name,
            batch.number,
            plain_date(batch.made_on),
            plain_date(batch.use_by),
            left_words(left, batch.amount),
        )
