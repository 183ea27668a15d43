"""Printed labels, read back: everything is there, within its label, and large enough to read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pypdfium2 as pdfium  # type: ignore[import-untyped]
import pytest
import zxingcpp
from reportlab.platypus import Paragraph

from sennight.domain.dispensary.labels import Label
from sennight.publish.labels.document import LaidLabel, labels_pdf, lay_labels
from sennight.publish.labels.setting import (
    CODE_FROM,
    CODE_SIDE,
    FLOOR,
    Block,
    LabelTooSmallError,
    fitted,
)
from sennight.publish.labels.stocks import STOCKS, LabelStock, stock_named
from support.draws import draws
from support.pdf_pages import runs, tags

MM = 72 / 25.4
LABEL = Label(
    client="Ada Finch",
    remedy="Joint drops",
    letter="B",
    directions="5 mL three times a day, half an hour after breakfast, lunch and supper",
    warnings=("Keep out of the sight and reach of children",),
    contents="Turmeric 1:3 60 %, Ginger 1:2.5 40 %",
    strength="Contains alcohol: about 72 % by volume",
    quantity="100 mL",
    batch="261128-1",
    prepared="28 November 2026",
    supplied="28 November 2026 MR",
    use_by="27 May 2027",
    keeping="Shake the bottle before use. Keep closed, cool and away from light.",
    practice=("M. Reed", "Reed Lane Herbs", "3 Reed Lane", "Ottery", "01632 960123"),
    own=(),
    code="261128-1 c7 B",
)
MAKING = "1 cup: 6.5 g in 250 mL of boiling water, cover for 10 minutes, strain"
NARROW = "Roll, 57 × 32 mm"
WIDE = [stock for stock in STOCKS if stock.name != NARROW]
ROOMY = [stock for stock in WIDE if stock.label != (63.5, 38.1)]


def boxes(stock: LabelStock, count: int, start: int = 1) -> list[tuple[int, float, float]]:
    """The page from 1, left and top of so many labels, in points from the lower left corner."""
    places = stock.places(start)
    return [
        (page + 1, x * MM, (stock.page[1] - y) * MM)
        for page, (x, y) in (next(places) for _ in range(count))
    ]


@pytest.mark.parametrize("stock", STOCKS, ids=lambda stock: stock.name)
def test_labels_lie_on_their_page_and_not_on_each_other(stock: LabelStock) -> None:
    width, height = stock.label
    spots = list(zip(stock.places(), range(stock.per_page), strict=False))
    for (page, (x, y)), _ in spots:
        assert page == 0
        assert x + width <= stock.page[0] + 0.01
        assert y + height <= stock.page[1] + 0.01
    assert stock.columns == 1 or stock.across >= width
    assert stock.rows == 1 or stock.down >= height


@pytest.mark.parametrize(
    ("stock", "in_two"),
    [(stock, False) for stock in ROOMY] + [(stock, True) for stock in WIDE],
)
def test_everything_is_said_within_the_label(stock: LabelStock, in_two: bool) -> None:
    data = labels_pdf([(LABEL, 1)], stock, practice="Reed Lane Herbs", in_two=in_two)
    said = " ".join(run.text for run in runs(data)).replace("\u00a0", " ")
    for words in (*LABEL.warnings, *LABEL.practice, LABEL.contents, LABEL.keeping, "27 May 2027"):
        assert all(word in said for word in words.split()), words
    check_geometry(data, stock, 2 if in_two else 1)


def check_geometry(data: bytes, stock: LabelStock, count: int, start: int = 1) -> None:
    """No text outside its label, none below the floor."""
    spots = boxes(stock, count, start)
    width, height = (side * MM for side in stock.label)
    for run in runs(data):
        assert run.size >= FLOOR - 0.01
        assert any(
            page == run.page and x < run.x < x + width and top - height < run.y < top
            for page, x, top in spots
        ), run


def test_from_any_label_of_the_first_sheet_on() -> None:
    stock = stock_named("A4, 21 labels, 64 × 38 mm")
    data = labels_pdf([(LABEL, 0)] * 4, stock, practice="P", start=20, in_two=True)
    check_geometry(data, stock, 8, 20)
    assert {run.page for run in runs(data)} == {1, 2}
    with pytest.raises(ValueError, match="expected 1 to 21"):
        labels_pdf([(LABEL, 0)], stock, practice="P", start=22)


def test_what_cannot_be_read_is_refused_with_what_to_do() -> None:
    with pytest.raises(LabelTooSmallError, match="a larger label, two labels a bottle"):
        labels_pdf([(LABEL, 0)], stock_named(NARROW), practice="P")
    long_word = replace(LABEL, client="X" * 90)
    with pytest.raises(LabelTooSmallError):
        labels_pdf([(long_word, 0)], WIDE[1], practice="P")
    with pytest.raises(ValueError, match="expected one of"):
        stock_named("A0")


def test_how_a_cup_is_made_is_left_out_before_anything_that_must_be_read() -> None:
    """It stands while there is room; without it the label says all the rest."""
    stock = stock_named("A4, 14 labels, 99 × 38 mm")
    later = ("From 18 January: 1 cup once a day, at bedtime",)
    seen = []
    for count in range(3):
        own = ("Herbal medicine that was made up for one client alone",) * count
        label = replace(LABEL, making=MAKING, later=later, own=own)
        (laid,) = lay_labels([(label, 0)], stock)
        check_layout(laid, stock)
        said = [line.paragraph.getPlainText().replace("\u00a0", " ") for line in laid.lines]
        assert f"{later[0]}." in said
        seen.append(f"{MAKING}." in said)
    assert seen == sorted(seen, reverse=True)
    assert set(seen) == {True, False}


def test_a_small_bottle_has_two_labels_that_say_whose_they_are() -> None:
    """Also with both directions of a remedy that is taken in a flare-up too."""
    planned = "Flare-up plan, instead: start if it swells. 5 mL four times a day, for 1 week"
    for in_flares in ((), (planned,)):
        label = replace(LABEL, in_flares=in_flares)
        data = labels_pdf([(label, 0)], stock_named(NARROW), practice="P", in_two=True)
        check_geometry(data, stock_named(NARROW), 2)
        for page in (1, 2):
            said = " ".join(run.text for run in runs(data) if run.page == page)
            for words in (f"{LABEL.letter} {LABEL.remedy}", LABEL.client, LABEL.batch):
                assert words in said.replace("\u00a0", " ")


def test_labels_are_tagged_and_the_same_each_time() -> None:
    made = [labels_pdf([(LABEL, 2)], STOCKS[0], practice="P") for _ in range(2)]
    assert made[0] == made[1]
    assert ("Figure", "Code of batch 261128-1") in tags(made[0])


def test_labels_that_say_the_same_are_set_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A course of years has hundreds of containers; to find the size of letters takes the time."""
    sets: list[str] = []

    def noted(blocks: Sequence[Block], width: float, height: float) -> list[Paragraph]:
        sets.append(blocks[0].words)
        return fitted(blocks, width, height)

    monkeypatch.setattr("sennight.publish.labels.document.fitted", noted)
    last = replace(LABEL, quantity="20 mL")
    labels = [*[(LABEL, 2)] * 20, (last, 2)]
    laid = list(lay_labels(labels, ROOMY[0]))
    assert len(sets) == 2
    assert [label.label for label in laid] == [label for label, _ in labels]
    alone = next(lay_labels(labels[-1:], ROOMY[0]))
    assert [line.paragraph.text for line in laid[-1].lines] == [
        line.paragraph.text for line in alone.lines
    ]


WORDS = (
    "nettle",
    "birch",
    "meadowsweet",
    "eleutherococcus",
    "hawthorn",
    "sea-buckthorn",
    "yarrow",
    "oat",
)


def any_label(random: Random) -> Label:
    def words(most: int) -> str:
        return " ".join(random.choice(WORDS) for _ in range(random.randint(1, most)))

    return replace(
        LABEL,
        client=words(4).title(),
        remedy=words(5),
        directions=words(24),
        contents=", ".join(f"{word} {random.randint(1, 99)} %" for word in words(9).split()),
        later=tuple(words(12) for _ in range(random.choice((0, 0, 1)))),
        in_flares=tuple(words(12) for _ in range(random.randint(0, 1))),
        making=random.choice(("", MAKING)),
        own=tuple(words(9) for _ in range(random.randint(0, 2))),
    )


def check_layout(laid: LaidLabel, stock: LabelStock) -> None:
    """Within its edges no line is wider than its room, and nothing lies on anything else."""
    left, bottom = laid.corner
    edge = stock.corner * MM
    right, top = left + stock.label[0] * MM - edge, bottom + stock.label[1] * MM - edge
    above = top
    for line in laid.lines:
        paragraph = line.paragraph
        assert paragraph.style.fontSize >= FLOOR
        assert line.y + paragraph.height <= above + 0.01
        above = line.y
        inked = line.x + max(paragraph.getActualLineWidths0())
        assert inked <= right + 0.01
        if laid.code is not None:
            assert inked <= laid.code[0]
    assert above >= bottom + edge - 0.01
    if laid.code is not None:
        x, y = laid.code
        assert x >= left + edge
        assert x + CODE_SIDE <= right + 0.01
        assert bottom + edge - 0.01 <= y <= top - CODE_SIDE


def test_a_thousand_random_labels_are_whole_or_refused() -> None:
    """Long names and formulas: each label is within its edges, or refused, and few are."""
    random = Random(17)  # noqa: S311 - repeatable choices, no secrets
    refused, tried = 0, draws(1000, long=10_000)
    for _ in range(tried):
        in_two = random.random() < 0.3
        stock = random.choice(STOCKS if in_two else WIDE)
        start = random.randint(1, stock.per_page)
        try:
            laid = list(lay_labels([(any_label(random), 0)], stock, start=start, in_two=in_two))
        except LabelTooSmallError:
            refused += 1
        else:
            assert len(laid) == 1 + in_two
            for label in laid:
                check_layout(label, stock)
    assert 0 < refused < tried / 2


def test_what_is_printed_is_what_was_laid_out() -> None:
    """The few that are printed and read back stand for the thousand that are laid out."""
    random = Random(18)  # noqa: S311 - repeatable choices, no secrets
    for stock in ROOMY:
        data = labels_pdf([(any_label(random), 0)], stock, practice="P", in_two=True)
        check_geometry(data, stock, 2)


def test_the_code_of_a_label_is_read_from_its_print() -> None:
    """Batch, course and letter, as a scanner sees them at 200 dots an inch."""
    for stock in (stock for stock in STOCKS if stock.label[0] * MM >= CODE_FROM):
        data = labels_pdf([(LABEL, 0)], stock, practice="P", in_two=True)
        with pdfium.PdfDocument(data) as document:
            pages = [page.render(scale=200 / 72).to_numpy() for page in document]
        found = [code.text for page in pages for code in zxingcpp.read_barcodes(page)]
        assert found == [LABEL.code], stock.name
