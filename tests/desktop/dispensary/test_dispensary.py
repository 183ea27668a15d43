"""The dispensary in the window: a delivery, a batch, a hand-over with labels, a recall."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from sennight.desktop.dispensary import ordering
from sennight.desktop.dispensary import work as work_module
from sennight.desktop.dispensary.hand_over_dialog import HandOverDialog
from sennight.desktop.dispensary.minimum_dialog import MinimumDialog
from sennight.desktop.dispensary.page import BATCHES
from sennight.desktop.dispensary.prepare_dialog import PrepareDialog
from sennight.desktop.dispensary.prices_dialog import PricesDialog
from sennight.desktop.dispensary.recall_dialog import RecallDialog
from sennight.desktop.dispensary.receive_dialog import ReceiveDialog
from sennight.desktop.dispensary.section import DispensarySection
from sennight.desktop.dispensary.settings_dialog import SettingsDialog
from sennight.desktop.dispensary.stock_dialog import KINDS, StockDialog
from sennight.desktop.dispensary.stocktake_dialog import StocktakeDialog
from sennight.desktop.dispensary.work import DispensaryWork
from sennight.desktop.kit.navigation import DISPENSARY
from sennight.desktop.kit.section import Surroundings
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.protocols import Protocol
from sennight.domain.dispensary.stock import Held, MovementKind
from sennight.domain.supply.needs import Allowance
from sennight.practice.courses import start_course
from sennight.practice.dispensary import Received, batches_left, settings_of, shelf
from sennight.practice.dispensary import receive as practice_receive
from sennight.practice.dispensing import handed_to
from sennight.practice.papers import list_given
from sennight.practice.pricing import prices_of
from sennight.practice.protocols import add_protocol
from sennight.practice.writing import FolderError, Staging
from support.dispensary_cases import GINGER
from support.next_dialog import in_next_dialog
from support.sample_practice import NOW, TEA, Sample
from support.samples import line, phase


@pytest.fixture
def section(qtbot: QtBot, sample: Sample, theme: Theme) -> Iterator[DispensaryWork]:
    made = DispensarySection(Surroundings(sample.practice, theme, lambda: NOW))
    page = made.page(DISPENSARY)
    qtbot.addWidget(page)
    page.resize(1180, 700)
    page.show()
    yield made.work
    page.hide()


def receive(section: DispensaryWork, herb: str, amount: str, batch: str = "N-17") -> None:
    def fill(dialog: ReceiveDialog) -> None:
        dialog.name.setText(herb)
        dialog.amount.setText(amount)
        dialog.supplier.setText("Hedgerow Supplies")
        dialog.batch.setText(batch)
        QTest.keyClicks(dialog.best_before, "06/29")
        assert dialog._date_row.beneath.text() == "30 June 2029", "a month lasts to its end"
        dialog.submit()

    in_next_dialog(fill)
    section.receive()


def test_a_delivery_goes_into_stock(section: DispensaryWork, sample: Sample) -> None:
    page = section.dispensary
    assert page.receive.isHidden(), "the first step stands in the middle, alone"
    receive(section, "Nettle leaf", "500")
    assert not page.receive.isHidden()
    (delivery,) = shelf(sample.practice).deliveries
    assert (delivery.material.name, delivery.batch) == ("nettle-leaf", "N-17")
    assert delivery.best_before == date(2029, 6, 30)
    rows = section.dispensary.stock.model
    assert rows.data(rows.index(0, 0)) == "Nettle leaf, dried herb"
    assert rows.data(rows.index(0, 1)) == "500 g"


def test_a_delivery_that_says_too_little_is_not_taken(qtbot: QtBot, theme: Theme) -> None:
    assert theme
    dialog = ReceiveDialog(None, {"ginger": "Ginger"}, NOW.date())
    qtbot.addWidget(dialog)
    dialog.name.setText("Gingko")
    dialog.amount.setText("many")
    dialog.submit()
    assert dialog.answer is None
    wrong = [row.beneath.text() for row in dialog._form.rows if row.is_wrong]
    assert [words.split()[0] for words in wrong] == ["No", "Enter", "Needed", "Needed"]
    dialog.kind.setCurrentIndex(list(Held).index(Held.LIQUID))
    dialog.name.setText("Ginger")
    for field, text in (
        (dialog.amount, "1000"),
        (dialog.ratio, "1:5"),
        (dialog.ethanol, "45"),
        (dialog.supplier, "S"),
        (dialog.batch, "b"),
    ):
        field.setText(text)
    dialog.submit()
    assert dialog.answer is not None
    assert (dialog.answer.material.ratio, dialog.answer.material.ethanol) == (
        Fraction(5),
        Fraction(45),
    )


def prepare(section: DispensaryWork, remedy: str, amount: str) -> list[tuple[str, ...]]:
    seen: list[tuple[str, ...]] = []

    def fill(dialog: PrepareDialog) -> None:
        dialog.remedy.setText(remedy)
        dialog.amount.setText(amount)
        model = dialog.model
        seen.extend(
            tuple(str(model.data(model.index(row, column))) for column in range(3))
            for row in range(model.row_count())
        )
        dialog.maker.setText("M. Reed")
        dialog.submit()

    in_next_dialog(fill)
    section.prepare()
    return seen


def begin_course(sample: Sample) -> str:
    """Oskar takes the shelf's tea from today on."""
    oskar = sample.clients["oskar"]
    protocol = Protocol("Tea", (phase("loading", "4 w", line(TEA.id, "1 cup bd")),))
    shelved = add_protocol(sample.practice, protocol, remedies=(TEA,))
    start_course(sample.practice, oskar, shelved, NOW.date(), now=NOW)
    return oskar


def test_from_stock_to_the_client_and_the_recall(
    section: DispensaryWork, sample: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    oskar = begin_course(sample)
    for n, herb in enumerate(("Nettle leaf", "Ginger")):
        receive(section, herb, "500", f"B-{n}")
    rows = prepare(section, TEA.name, "90")
    assert len(rows) == 2
    assert all("Hedgerow Supplies" in row[2] for row in rows)
    ((batch, left),) = batches_left(sample.practice)
    assert (batch.remedy.name, left) == (TEA.name, Fraction(90))
    assert section.dispensary.choice.currentIndex() == BATCHES

    labels = tmp_path / "labels.pdf"
    monkeypatch.setattr(work_module, "ask_where", lambda *_: labels)

    def fill(dialog: HandOverDialog) -> None:
        dialog.client.setText("Oskar Teale")
        assert dialog.course.count() >= 1
        dialog.each.setText("45")
        dialog.by.setText("MR")
        dialog.submit()

    in_next_dialog(fill)
    section.hand_over(batch.id)
    ((handed, _),) = handed_to(sample.practice, oskar)
    assert (handed.amount.amount, handed.by) == (Fraction(45), "MR")
    assert labels.read_bytes().startswith(b"%PDF")

    def fail(_: Staging) -> tuple[Path, ...]:
        raise FolderError("the disk is gone")

    told: list[str] = []

    def leave(dialog: QDialog) -> None:
        told.append(dialog.accessibleName())
        dialog.accept()

    def fill_and_look(dialog: HandOverDialog) -> None:
        in_next_dialog(leave)
        assert dialog._left_row.isHidden(), "nobody is chosen yet"
        dialog.client.setText("Oskar Teale")
        assert not dialog._left_row.isHidden()
        dialog.left.setText("46")
        fill(dialog)
        assert dialog._left_row.is_wrong
        dialog.left.clear()
        fill(dialog)

    with monkeypatch.context() as patched:
        patched.setattr(Staging, "finish", fail)
        in_next_dialog(fill_and_look)
        section.hand_over(batch.id)
    assert told == ["Handed over, but the labels could not be saved"]
    assert len(handed_to(sample.practice, oskar)) == 2, "it is on record, and so are the labels"
    assert [one.name for one in list_given(sample.practice, oskar)] == ["labels.pdf"] * 2

    check_recall(section, shelf(sample.practice).deliveries[0].id, labels)


def check_recall(section: DispensaryWork, delivery: str, path: Path) -> None:
    """The list that is copied names who had anything of a delivery; each can have a letter."""
    seen: list[str] = []

    def read(dialog: RecallDialog) -> None:
        dialog.submit()
        seen.append(QGuiApplication.clipboard().text())
        path.unlink()
        dialog.letters.click()
        dialog.reject()

    in_next_dialog(read)
    section.trace(delivery)
    assert "Oskar Teale" in seen[0]
    assert path.read_bytes().startswith(b"%PDF")
    in_next_dialog(read)
    section.dispensary.trace_batch.click()
    assert "Oskar Teale" in seen[1]


def test_counting_and_throwing_away(section: DispensaryWork, sample: Sample) -> None:
    receive(section, "Nettle leaf", "500")
    (delivery,) = shelf(sample.practice).deliveries

    def throw_away(dialog: StockDialog) -> None:
        dialog.kind.setCurrentIndex(KINDS.index(MovementKind.DISCARDED))
        dialog.amount.setText("600")
        dialog.submit()
        assert dialog.answer is None
        dialog.amount.setText("20")
        dialog.reason.setText("mould")
        dialog.submit()

    in_next_dialog(throw_away)
    section.change(delivery.id)
    assert shelf(sample.practice).stock[delivery.id] == 480


def check_shown(section: DispensaryWork) -> None:
    """The list narrows to a client or to what is due, and the worksheet with it."""
    wanted = section.dispensary.wanted
    assert wanted.shown == wanted.rows
    wanted.list.narrow.setText("Oskar")
    assert {row.client for row in wanted.shown} == {"Oskar Teale"}
    wanted.list.narrow.setText("")
    wanted.due.click()
    assert wanted.shown == tuple(row for row in wanted.rows if row.what.by <= NOW.date())
    wanted.due.click()


def test_what_is_made_waits_for_whom_it_is(section: DispensaryWork, sample: Sample) -> None:
    begin_course(sample)
    prepare(section, TEA.name, "500")
    wanted = section.dispensary.wanted
    ((batch, _),) = batches_left(sample.practice)
    made = [n for n, row in enumerate(wanted.rows) if row.made == batch]
    at = next(n for n in made if wanted.rows[n].client == "Oskar Teale")
    seen: list[tuple[str, int, str]] = []

    def look(dialog: HandOverDialog) -> None:
        seen.append((dialog.client.text(), dialog.course.count(), dialog.containers.text()))
        QDialog.reject(dialog)

    in_next_dialog(look)
    wanted.list.opened.emit(str(at))
    assert seen == [("Oskar Teale", 1, str(wanted.rows[at].what.containers))]


def test_all_is_counted_at_once_and_what_expires_is_listed(
    section: DispensaryWork, sample: Sample
) -> None:
    told: list[str] = []
    section.status_message.connect(told.append)
    section.count_all()
    receive(section, "Nettle leaf", "500")
    receive(section, "Ginger", "200", "G-4")

    def count(dialog: StocktakeDialog) -> None:
        _ginger, nettle = dialog.fields.values()
        nettle.setText("some")
        dialog.submit()
        assert dialog.answer is None
        nettle.setText("480")
        assert dialog.is_changed()
        dialog.submit()

    in_next_dialog(count)
    section.dispensary.count.click()
    assert told == ["Enter a delivery first.", "1 counted, 1 different from the record."]
    page = section.dispensary
    assert list(shelf(sample.practice).stock.values()) == [480, 200]
    page.soon.click()
    assert page.stock.model.rowCount() == 0
    for months, rows in ((3, 0), (1, 1)):
        day = NOW.date() + timedelta(days=30 * months)
        came = Received(GINGER, Fraction(5), "S", f"G-{months}", day)
        practice_receive(sample.practice, came, day=NOW.date(), now=NOW)
        section.load()
        assert page.stock.model.rowCount() == rows


def test_what_a_course_wants_is_prepared_from_its_row(
    section: DispensaryWork, sample: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begin_course(sample)
    section.load()
    wanted = section.dispensary.wanted
    at = [row.client for row in wanted.rows].index("Oskar Teale")
    first = wanted.rows[at].what
    seen: list[tuple[str, str]] = []

    def look(dialog: PrepareDialog) -> None:
        seen.append((dialog.remedy.text(), dialog.amount.text()))
        QDialog.reject(dialog)

    in_next_dialog(look)
    wanted.list.opened.emit(str(at))
    assert seen[0][0] == first.remedy.name
    check_shown(section)
    path = tmp_path / "worksheet.pdf"
    monkeypatch.setattr(ordering, "ask_where", lambda *_: path)
    wanted.worksheet.click()
    assert path.read_bytes().startswith(b"%PDF")
    table = tmp_path / "orders.csv"
    monkeypatch.setattr(ordering, "ask_where", lambda *_: table)
    section.dispensary.orders.save.click()
    assert table.read_text("utf-8").startswith("supplier,material")
    monkeypatch.setattr(ordering, "ask_where", lambda *_: path)
    section.dispensary.orders.sheet.click()
    assert path.read_bytes().startswith(b"%PDF")
    monkeypatch.setattr(ordering, "ask_where", lambda *_: None)
    for save in (
        section.save_worksheet,
        section.save_orders,
        section.save_order_sheet,
        section.save_price_list,
    ):
        save()


def test_how_much_is_to_be_kept_and_how_remedies_are_priced(
    section: DispensaryWork, sample: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said: list[str] = []
    section.status_message.connect(said.append)
    section.set_minimum(-1)
    assert said == ["Enter a delivery first."]
    receive(section, "Nettle leaf", "500")

    def keep(dialog: MinimumDialog) -> None:
        dialog.amount.setText("much")
        dialog.submit()
        assert dialog.answer is None
        dialog.amount.setText("900")
        dialog.submit()

    in_next_dialog(keep)
    section.dispensary.orders.minimum.click()
    (order,) = [row for row in section.dispensary.orders.rows if row.minimum]
    assert order.minimum == 900
    assert order.amount == order.wanted + 400

    def price(dialog: PricesDialog) -> None:
        dialog.markup.setText("60")
        dialog.step.setText("0")
        dialog.submit()
        assert dialog.answer is None
        dialog.step.setText("0.05")
        dialog.form.setCurrentIndex(1)
        dialog.fee.setText("2")
        dialog.form.setCurrentIndex(2)
        dialog.submit()

    in_next_dialog(price)
    section.dispensary.prices.click()
    prices = prices_of(sample.practice)
    assert (prices.usual.markup, prices.usual.step) == (Fraction(3, 5), Fraction(1, 20))
    assert [rule.fee for rule in prices.rules.values()] == [2]
    table = tmp_path / "prices.csv"
    monkeypatch.setattr(ordering, "ask_where", lambda *_: table)
    section.save_price_list()
    assert table.read_text("utf-8").startswith("remedy,form,container")

    def full(*_: object) -> Path:
        raise FolderError("the disk is full")

    told: list[str] = []

    class Told:
        def __init__(self, _parent: object, _heading: str, text: str) -> None:
            told.append(text)

        def exec(self) -> None: ...

    monkeypatch.setattr(ordering, "message_dialog", Told)
    monkeypatch.setattr(ordering, "write_price_list", full)
    section.save_price_list()
    assert told == ["the disk is full"]


def test_how_supply_is_reckoned_is_set(section: DispensaryWork, sample: Sample) -> None:
    def fill(dialog: SettingsDialog) -> None:
        assert not dialog.is_changed()
        texts = [field.text() for field in dialog._fields]
        assert texts == ["50", "0", "7", "100", "100", "60", "0.1", "0.5"]
        for field, text in ((dialog.as_needed, "101"), (dialog.ml, "0"), (dialog.grams, "")):
            field.setText(text)
        dialog.order_days.setText("1.5")
        dialog.submit()
        assert dialog.answer is None
        assert sum(row.is_wrong for row in dialog._rows) == 4
        dialog.as_needed.setText("25 %")
        dialog.spillage.setText("5")
        for field, text in ((dialog.ml, "200"), (dialog.grams, "50"), (dialog.order_days, "3")):
            field.setText(text)
        dialog.submit()

    in_next_dialog(fill)
    section.dispensary.wanted.settings.click()
    supply = settings_of(sample.practice).supply
    assert supply.allowance == Allowance(Fraction(1, 4), Fraction(1, 20))
    assert [supply.ml, supply.grams, supply.capsules] == [200, 50, 60]
    assert supply.order_days == 3


def test_a_batch_is_put_on_the_shelf(section: DispensaryWork, sample: Sample) -> None:
    section.put_on_shelf("")
    prepare(section, TEA.name, "100")
    seen: list[str] = []

    def shelve(dialog: ReceiveDialog) -> None:
        assert not dialog.is_changed()
        dialog.amount.setText("101")
        dialog.best_before.setText("30 June 2039")
        dialog.submit()
        seen.extend(row.beneath.text() for row in dialog._form.rows if row.is_wrong)
        dialog.amount.setText("100")
        dialog.best_before.setText("1 March 2027")
        dialog.submit()

    in_next_dialog(shelve)
    section.dispensary.put_on_shelf.click()
    assert [words.partition(":")[0] for words in seen] == [
        "100 g left of this batch",
        "No later than the batch",
    ]
    (delivery,) = shelf(sample.practice).deliveries
    ((made, left),) = batches_left(sample.practice)
    assert (delivery.made_as, delivery.batch) == (made.id, made.number)
    assert not left
    told: list[str] = []
    section.status_message.connect(told.append)
    section.put_on_shelf(made.id)
    assert told == [f"Nothing is left of batch {made.number}."]
