"""Two lists of the dispensary: what is to be prepared, and what has to be ordered."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QWidget

from sennight.desktop.dispensary.words import amount_words
from sennight.desktop.kit.narrowed_list import Columns, ListWords, NarrowedList
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.widgets import button, fill_with
from sennight.desktop.parts.typed import day_and_month
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.wanted import Order
from sennight.practice.wanted import Wanted


class WantedList(QWidget):
    """What is to be prepared within a week; opening a row prepares it, or hands it over.

    `rows` is all of it, `shown` what is in view: the worksheet is for that.
    """

    preparing = Signal(int)
    worksheet_wanted = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[Wanted, ...] = ()
        self.shown: tuple[Wanted, ...] = ()
        self.worksheet = button(self.tr("Worksheet…"))
        self.worksheet.setToolTip(self.tr("What to weigh and measure for the rows in view"))
        self.due = QCheckBox(self.tr("Due now"))
        self.due.setToolTip(self.tr("Show what is needed today or before"))
        self.settings = button(self.tr("Settings…"))
        self.settings.setToolTip(self.tr("Set spillage, doses as needed, containers and scales"))
        headings = (
            self.tr("Remedy"),
            self.tr("Client"),
            self.tr("How much"),
            self.tr("Batch"),
            self.tr("Needed by"),
            self.tr("Lasts until"),
        )
        words = ListWords(
            title=self.tr("To prepare"),
            rows=self.tr("To prepare"),
            field=self.tr("Search the list to prepare"),
            hint=self.tr("Remedy or client"),
            drawing="prepare",
        )
        self.list = NarrowedList(
            words,
            Columns(headings, (6, 6, 6, 4, 4, 6), narrow=(6, 5, 6, 4, 5, 0)),
            after=(self.due, self.settings, self.worksheet),
        )
        self.list.has_many = True
        fill_with(self, self.list)
        self.list.narrowed.connect(self._show)
        self.due.toggled.connect(self._show)
        self.list.opened.connect(lambda row: self.preparing.emit(int(row)))
        self.worksheet.clicked.connect(self.worksheet_wanted)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    def load(self, rows: tuple[Wanted, ...], today: date) -> None:
        """Show what is wanted now."""
        self.rows, self._today = rows, today
        self._show()

    def _show(self) -> None:
        typed = self.list.narrow.text().strip().casefold()
        cells = {
            n: self._cells(row)
            for n, row in enumerate(self.rows)
            if row.what.by <= self._today or not self.due.isChecked()
        }
        shown = [n for n, texts in cells.items() if typed in " ".join(texts).casefold()]
        self.shown = tuple(self.rows[n] for n in shown)
        self.worksheet.setEnabled(any(row.made is None for row in self.shown))
        for part in (self.due, self.worksheet):
            part.setVisible(bool(self.rows))
        self.list.empty.say(
            self.tr("No match") if self.rows else self.tr("Nothing to prepare"),
            self.tr("Try fewer letters.")
            if self.rows
            else self.tr(
                "Start a course: what it needs within a week appears here, and what runs out."
            ),
        )
        self.list.fill(
            tuple(map(str, shown)),
            lambda row: cells[shown[row]],
            of=len(self.rows),
            whole=self._count(),
        )

    def _count(self) -> str:
        made = sum(row.made is not None for row in self.rows)
        told = self.tr("{n} to prepare").format(n=len(self.rows) - made)
        return self.tr("{told}, {n} made").format(told=told, n=made) if made else told

    def _cells(self, row: Wanted) -> tuple[str, ...]:
        what = row.what
        amount = quantity_words(what.amount)
        if what.containers is not None:
            amount = self.tr("{amount}, {n} containers").format(amount=amount, n=what.containers)
            if what.containers == 1:
                amount = self.tr("{amount}, 1 container").format(
                    amount=quantity_words(what.amount)
                )
        by = self.tr("now") if what.by <= self._today else day_and_month(what.by)
        until = plain_date(what.until) if what.until else self.tr("for a flare-up")
        made = row.made.number if row.made else ""
        return what.remedy.name, row.client, amount, made, by, until


class OrdersList(QWidget):
    """What has to be ordered, by supplier; opening a row says how much is to be left."""

    minimum_wanted = Signal(int)
    saving = Signal()
    printing = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[Order, ...] = ()
        self._names: Mapping[str, str] = {}
        self.save = button(self.tr("Save as a table…"))
        self.sheet = button(self.tr("Order sheet…"))
        self.sheet.setToolTip(self.tr("The list to print, a table for each supplier"))
        self.minimum = button(self.tr("Always keep…"))
        self.minimum.setToolTip(self.tr("Set how much of a material to keep in stock"))
        headings = (
            self.tr("Material"),
            self.tr("Supplier"),
            self.tr("Order"),
            self.tr("Needed"),
            self.tr("In stock"),
            self.tr("Always keep"),
        )
        words = ListWords(
            title=self.tr("To order"),
            rows=self.tr("To order"),
            field=self.tr("Search the list to order"),
            hint=self.tr("Material or supplier"),
            drawing="orders",
        )
        self.list = NarrowedList(
            words,
            Columns(headings, (7, 6, 3, 3, 3, 3)),
            after=(self.minimum, self.save, self.sheet),
        )
        self.list.has_many = True
        fill_with(self, self.list)
        self.list.narrowed.connect(self._show)
        self.list.opened.connect(lambda row: self.minimum_wanted.emit(int(row)))
        self.minimum.clicked.connect(lambda: self.minimum_wanted.emit(-1))
        self.save.clicked.connect(self.saving)
        self.sheet.clicked.connect(self.printing)

    def apply_theme(self, theme: Theme) -> None:
        """Distances for the size of text."""
        self.list.apply_theme(theme)

    def load(self, rows: tuple[Order, ...], names: Mapping[str, str]) -> None:
        """Show what is missing now."""
        self.rows, self._names = rows, names
        for part in (self.save, self.sheet):
            part.setVisible(bool(rows))
        self._show()

    def _show(self) -> None:
        typed = self.list.narrow.text().strip().casefold()
        cells = {n: self._cells(order) for n, order in enumerate(self.rows)}
        shown = [n for n, texts in cells.items() if typed in " ".join(texts).casefold()]
        self.list.empty.say(
            self.tr("No match") if self.rows else self.tr("Nothing to order"),
            self.tr("Try fewer letters.")
            if self.rows
            else self.tr(
                "What you need but do not have in stock appears here. Set what to always keep."
            ),
        )
        self.list.fill(
            tuple(map(str, shown)),
            lambda row: cells[shown[row]],
            of=len(self.rows),
            whole=self.tr("{n} to order").format(n=len(self.rows)),
        )

    def _cells(self, order: Order) -> tuple[str, ...]:
        unit = order.material.unit
        kept = "" if order.minimum is None else amount_words(order.minimum, unit)
        return (
            material_words(order.material, self._names),
            order.supplier or self.tr("not known"),
            amount_words(order.amount, unit),
            amount_words(order.wanted, unit),
            amount_words(order.held, unit),
            kept,
        )
