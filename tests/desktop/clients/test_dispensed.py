"""What a client was handed over, in the folder: rows, how long it lasts, what went in."""

from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sennight.desktop.clients import dispensed
from sennight.desktop.clients.batch_dialog import BatchDialog
from sennight.desktop.clients.dispensed import is_due, lasting_words
from sennight.desktop.clients.folder_page import FolderPage
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import Batch, HandedOver
from sennight.domain.dispensary.lasting import Lasting
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.follow_up.story import StoryKind
from sennight.domain.supply.needs import Bottle
from sennight.domain.supply.quantities import Quantity
from sennight.practice.dispensary import Made, Received, make_batch, receive
from sennight.practice.writing import FolderError
from support.next_dialog import in_next_dialog
from support.pdf_pages import page_texts
from support.sample_practice import DROPS, JOINTS, NOW, TEA, TODAY, Sample

START = date(2027, 1, 4)
NETTLE = Received(
    Material("nettle-leaf", Held.DRIED, Unit.G), Fraction(500), "Hedgerow Supplies", "N-17"
)


@pytest.fixture
def page(sample: Sample, theme: Theme, qtbot: QtBot) -> FolderPage:
    made = FolderPage(sample.practice, theme, lambda: NOW)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    made.show()
    return made


def tea(sample: Sample) -> Batch:
    """A batch of nettle from a delivery, and of ginger whose delivery is not known."""
    receive(sample.practice, NETTLE, day=START, now=NOW)
    made = Made("M. Reed", use_by=date(2027, 12, 31))
    return make_batch(
        sample.practice, TEA, Quantity(Fraction(360), Unit.G), made, today=START, now=NOW
    )


def hand_over(sample: Sample, batch: Batch, grams: int, containers: int, day: date) -> None:
    amount = Quantity(Fraction(grams), Unit.G)
    with sample.practice.file.writing() as unit:
        handed = HandedOver(
            batch.id,
            sample.clients["efua"],
            sample.course,
            TEA.id,
            day,
            amount,
            containers,
            "MR",
        )
        unit.dispensary.hand_over(handed, recorded=NOW)


def rows(page: FolderPage) -> list[tuple[str, ...]]:
    model = page.dispensed.model
    return [
        tuple(str(model.data(model.index(row, column))) for column in range(model.column_count()))
        for row in range(model.row_count())
    ]


def test_a_folder_says_what_was_handed_over_and_how_long_it_lasts(
    page: FolderPage, sample: Sample
) -> None:
    """Joint tea, 3 g a cup: 9 g a day for 28 days, 6 g to 14 February, then 3 g."""
    efua, panel = sample.clients["efua"], page.dispensed
    page.open(efua)
    assert panel.isHidden()

    batch = tea(sample)
    hand_over(sample, batch, 252, 1, START)
    page.open(efua)
    assert panel.isVisible()
    assert panel.due.text() == "Joint tea (Winter joints): lasts until 31 January 2027. Order now."
    assert panel.later.isHidden()

    hand_over(sample, batch, 90, 2, TODAY)
    page.load()
    number = batch.number
    assert rows(page) == [
        ("Joint tea", "2 × 45 g", number, "27 January 2027, by MR"),
        ("Joint tea", "252 g", number, "4 January 2027, by MR"),
    ]
    assert panel.due.isHidden()
    assert panel.later.text() == (
        "Joint tea (Winter joints): lasts until 16 February 2027. Order by 9 February 2027."
    )
    page.open(sample.clients["noor"])
    assert panel.isHidden()


def test_opening_a_row_says_what_went_in(page: FolderPage, sample: Sample, qtbot: QtBot) -> None:
    hand_over(sample, tea(sample), 252, 1, START)
    page.open(sample.clients["efua"])
    seen: list[tuple[str, ...]] = []

    def read(dialog: BatchDialog) -> None:
        assert dialog.rows.accessibleName() == "What went in"
        model = dialog.model
        seen.extend(
            tuple(str(model.data(model.index(row, column))) for column in range(3))
            for row in range(model.row_count())
        )
        assert dialog.made.text() == (
            "Joint tea, 360 g: made on 4 January 2027 by M. Reed, use by 31 December 2027."
        )
        qtbot.keyClick(dialog.rows, Qt.Key.Key_Return)

    in_next_dialog(read)
    qtbot.keyClick(page.dispensed.rows, Qt.Key.Key_Return)
    in_next_dialog(read)
    page.dispensed.open_button.click()
    items = page.story.model.items
    in_next_dialog(read)
    page.open_item(next(item for item in items if item.kind is StoryKind.DISPENSED))
    assert seen == 3 * [
        ("Nettle leaf", "240 g", "Hedgerow Supplies, N-17"),
        ("Ginger", "120 g", "not recorded"),
    ]


def test_a_receipt_is_saved_for_the_day_of_the_row(
    page: FolderPage, sample: Sample, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hand_over(sample, tea(sample), 252, 1, START)
    page.open(sample.clients["efua"])
    path = tmp_path / "receipt.pdf"
    monkeypatch.setattr(dispensed, "ask_where", lambda *_: path)
    page.dispensed.receipt_button.click()
    assert "4 January 2027" in " ".join(page_texts(path.read_bytes()))
    told: list[str] = []

    class Told:
        def __init__(self, _parent: object, _heading: str, text: str) -> None:
            told.append(text)

        def exec(self) -> None: ...

    def full(_: object) -> tuple[Path, ...]:
        raise FolderError("the disk is full")

    monkeypatch.setattr(dispensed, "message_dialog", Told)
    monkeypatch.setattr(dispensed, "write_paths", full)
    page.dispensed.receipt_button.click()
    monkeypatch.setattr(dispensed, "ask_where", lambda *_: None)
    page.dispensed.receipt_button.click()
    assert told == ["the disk is full"]


DAY = timedelta(days=1)
SAID = {
    "not a day": (None, START, "not enough for one day. Order now.", True),
    "past": (
        TODAY - DAY,
        TODAY - 8 * DAY,
        "should have lasted until 26 January 2027. Order now.",
        True,
    ),
    "late": (TODAY, TODAY - 7 * DAY, "lasts until 27 January 2027. Order now.", True),
    "today": (TODAY + 7 * DAY, TODAY, "lasts until 3 February 2027. Order now.", True),
    "a week": (
        TODAY + 14 * DAY,
        TODAY + 7 * DAY,
        "lasts until 10 February 2027. Order by 3 February 2027.",
        True,
    ),
    "later": (
        TODAY + 15 * DAY,
        TODAY + 8 * DAY,
        "lasts until 11 February 2027. Order by 4 February 2027.",
        False,
    ),
    "enough": (TODAY, None, "lasts until 27 January 2027, as long as it is needed.", False),
    "done": (TODAY - DAY, None, "", False),
}


@pytest.mark.parametrize(("last", "order_by", "said", "due"), SAID.values(), ids=list(SAID))
def test_what_is_to_be_ordered_within_a_week_stands_out(
    last: date | None, order_by: date | None, said: str, due: bool
) -> None:
    course = Course("c", Client(""), (TEA, DROPS), JOINTS, START)
    row = Lasting(Bottle(TEA.id, TEA.id, Unit.G), last, order_by)
    whole = f"Joint tea (Winter joints): {said}" if said else ""
    assert (lasting_words(course, row, TODAY), is_due(row, TODAY)) == (whole, due)


def test_what_a_flare_up_has_used_is_to_be_prepared_again() -> None:
    course = Course("c", Client(""), (TEA, DROPS), JOINTS, START)
    row = Lasting(Bottle(DROPS.id, DROPS.id, Unit.ML), TODAY - DAY, TODAY - DAY, "rescue")
    said = "Warming drops (Winter joints): used in the flare-up to 26 January 2027."
    assert lasting_words(course, row, TODAY) == f"{said} Prepare it again."
