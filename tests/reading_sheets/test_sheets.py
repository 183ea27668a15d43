"""Photos of sheets as printed, simulated: what is in each box, what is asked, what is told."""

from __future__ import annotations

import random
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from fractions import Fraction
from functools import cache
from io import BytesIO
from pathlib import Path
from time import process_time

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter

from sennight.cli import main
from sennight.domain.follow_up.diaries import Score
from sennight.practice.reading_diaries import read_photos
from sennight.practice.sheet_pages import SeenPage, Unread, pages_in
from sennight.reading_sheets.grid_file import (
    BoxState,
    DoseSays,
    Grid,
    GridError,
    ScoreSays,
    read_grid,
)
from sennight.reading_sheets.photos import grey_photo
from sennight.reading_sheets.sheets import read_sheet
from sennight.reading_sheets.troubles import SheetError, Trouble
from support.draws import draws
from support.sheet_cases import CASES, printed, printed_course
from support.sheet_hands import Meant
from support.sheet_photos import (
    Conditions,
    any_conditions,
    hard_conditions,
    over_mark,
    sheet_photo,
)

PHOTOS = draws(1, check=60, long=1000)
SIDES = (2600, 3200, 4000) if PHOTOS > 60 else (2400,)
"""The photos' longer sides: few photos are small ones, which take less time."""
SHEETS = (
    CASES
    if PHOTOS > 60
    else [
        case
        for number, case in enumerate(CASES)
        if (number % 4 in {0, 3}) is (number // 4 % 2 == 0)
    ]
)
"""For few photos half of the sheets: each number of remedies on both papers and in both prints."""


@cache
def plain_photo(*thumbs: tuple[float, float]) -> tuple[bytes, Grid, tuple[Meant, ...]]:
    """One easy photo that tests share."""
    sheet = printed_course()
    seen = Conditions(turn=2, tilt=0.05, long_side=2400)
    draw = random.Random(7)  # noqa: S311 - a simulation
    page = sheet.grid.pages[0]
    photo = sheet_photo(sheet.pdf, page, draw, seen, corrections=0, thumbs=thumbs)
    return photo.jpeg, sheet.grid, photo.meant


@pytest.mark.timeout(7200)  # a thousand photos on a busy machine
def test_boxes_are_read() -> None:
    """Less than one of 10,000 boxes is told wrongly, and few are asked about.

    What was corrected by hand is right where it is asked about. On every tenth photo a corner
    of the sheet is covered.
    """
    counts: Counter[tuple[Meant, BoxState]] = Counter()
    refused: Counter[Trouble] = Counter()
    for number in range(PHOTOS):
        try:
            counts.update(_read(number))
        except SheetError as error:
            refused[error.trouble] += 1
    total, asked = counts.total(), sum(counts[meant, BoxState.UNCLEAR] for meant in Meant)
    right = counts[Meant.EMPTY, BoxState.EMPTY] + counts[Meant.MARKED, BoxState.MARKED]
    corrected = counts[Meant.CORRECTED, BoxState.UNCLEAR]
    chance = 10 if PHOTOS < 60 else 0
    print(f"{total} boxes: {dict(counts)}; refused: {dict(refused)}")
    assert counts[Meant.MARKED, BoxState.MARKED] > 100
    assert refused.total() <= PHOTOS // 50
    assert total - right - asked < max(1, total / 10_000), counts
    assert asked - corrected <= 0.01 * total + chance, counts
    assert right >= 0.999 * (total - asked), counts


def _read(number: int) -> Iterator[tuple[Meant, BoxState]]:
    """What was meant in each box of a photo, and what is read."""
    draw = random.Random(number)  # noqa: S311 - a simulation
    sheet = printed(*SHEETS[number % len(SHEETS)])
    page = draw.choice(sheet.grid.pages)
    seen = any_conditions(draw, *SIDES)
    thumbs = [over_mark(page, number // 10 % 4)] if number % 10 == 9 else []
    photo = sheet_photo(sheet.pdf, page, draw, seen, thumbs=thumbs)
    before = process_time()
    read = read_sheet(photo.jpeg, [sheet.grid])
    assert process_time() - before < 2
    assert read.page == page
    return zip(photo.meant, (state for _, state in read.states), strict=True)


def test_hard_photos_are_read_or_refused() -> None:
    """What is told of photos that nobody should take is right too, and the rest says why."""
    sheet = printed(5)
    wrong, told = 0, 0
    for number in range(draws(1, check=4, long=100)):
        draw = random.Random(number)  # noqa: S311 - a simulation
        page = draw.choice(sheet.grid.pages)
        photo = sheet_photo(sheet.pdf, page, draw, hard_conditions(draw))
        with suppress(SheetError):
            states = [state for _, state in read_sheet(photo.jpeg, [sheet.grid]).states]
            pairs = list(zip(photo.meant, states, strict=True))
            told += len(pairs)
            wrong += sum(s != BoxState.UNCLEAR and str(s) != str(m) for m, s in pairs)
    assert wrong <= max(told / 2000, 1)


@pytest.mark.parametrize("corner", range(4))
def test_three_corners_suffice(corner: int) -> None:
    page = printed_course().grid.pages[0]
    jpeg, grid, meant = plain_photo(over_mark(page, corner))
    states = [state for _, state in read_sheet(jpeg, [grid]).states]
    off = [s for s, m in zip(states, meant, strict=True) if str(s) != str(m)]
    assert off in ([], [BoxState.UNCLEAR])


def test_covered_boxes_are_asked() -> None:
    """A thumb on a few boxes; on many the sheet is refused."""
    page = printed_course().grid.pages[0]
    place = page.boxes[40]
    jpeg, grid, meant = plain_photo((place.x + 3, place.y + 3))
    states = [state for _, state in read_sheet(jpeg, [grid]).states]
    off = [n for n, (s, m) in enumerate(zip(states, meant, strict=True)) if str(s) != str(m)]
    assert 40 in off
    assert {states[n] for n in off} == {BoxState.UNCLEAR}
    assert len(off) <= 16
    hand = [(box.x, box.y) for box in page.boxes[::4]]
    with pytest.raises(SheetError) as told:
        read_sheet(plain_photo(*hand)[0], [grid])
    assert told.value.trouble in {Trouble.NO_BOXES, Trouble.CORNER}  # a thumb lies near one


def _changed(change: Callable[[Image.Image], Image.Image]) -> bytes:
    jpeg, _, _ = plain_photo()
    target = BytesIO()
    change(Image.open(BytesIO(jpeg))).save(target, "PNG")
    return target.getvalue()


def _without_corners(picture: Image.Image) -> Image.Image:
    """The lower edge of the sheet is not in the photo."""
    ImageDraw.Draw(picture).rectangle((0, 1900, 1800, 2400), fill=160)
    return picture


@pytest.mark.parametrize(
    ("change", "trouble"),
    [
        (_without_corners, Trouble.CORNER),
        (lambda picture: picture.point(lambda value: value // 9), Trouble.TOO_DARK),
        (lambda picture: picture.filter(ImageFilter.GaussianBlur(12)), Trouble.BLURRED),
        (lambda picture: picture.resize((660, 880)), Trouble.TOO_SMALL),
        (lambda picture: picture.crop((0, 1200, 1800, 2400)), Trouble.NO_CODE),
    ],
)
def test_what_cannot_be_read_is_told(
    change: Callable[[Image.Image], Image.Image], trouble: Trouble
) -> None:
    _, grid, _ = plain_photo()
    with pytest.raises(SheetError) as told:
        read_sheet(_changed(change), [grid])
    assert told.value.trouble is trouble
    assert ";" in trouble.value, "expected what to do, after a semicolon"


def test_a_scan_is_read_page_by_page(tmp_path: Path) -> None:
    """A PDF of two pages: the sheet, and one that is empty."""
    jpeg, grid, meant = plain_photo()
    scan = tmp_path / "scan.pdf"
    empty = Image.new("L", (600, 800), 240)
    Image.open(BytesIO(jpeg)).save(scan, "PDF", save_all=True, append_images=[empty])
    sheet, other = pages_in(scan, [grid])
    assert isinstance(sheet, SeenPage)
    assert isinstance(other, Unread)
    assert (sheet.source, other.source) == ("scan.pdf, page 1", "scan.pdf, page 2")
    assert sheet.page == grid.pages[0]
    assert [str(box.state) for box in sheet.boxes] == [str(m) for m in meant]
    scan.write_bytes(scan.read_bytes()[:200])
    assert list(pages_in(scan, [grid])) == [Unread("scan.pdf", Trouble.NO_PICTURE)]


def test_heic_is_read() -> None:
    """A picture of 96 by 128 points that a phone's format holds: a black square on grey."""
    read = grey_photo((Path(__file__).parent / "square.heic").read_bytes())
    drawn = Image.new("L", (96, 128), 220)
    ImageDraw.Draw(drawn).rectangle((16, 24, 47, 55), fill=0)
    assert read.shape == (128, 96)
    assert np.abs(read.astype(int) - np.asarray(drawn, dtype=int)).mean() < 4


def test_another_sheet_and_no_picture() -> None:
    jpeg, _, _ = plain_photo()
    with pytest.raises(SheetError) as other:
        read_sheet(jpeg, [printed(6).grid])
    assert other.value.trouble is Trouble.OTHER_SHEET
    with pytest.raises(SheetError) as none:
        read_sheet(b"no picture", [])
    assert none.value.trouble is Trouble.NO_PICTURE


def test_entries_agree_with_what_was_meant(tmp_path: Path) -> None:
    """The command's entries: counted here from what was drawn, another way round."""
    jpeg, grid, meant = plain_photo()
    photo = tmp_path / "photo.jpg"
    photo.write_bytes(jpeg)
    read = read_photos([photo], [grid])
    marked = {box.says for box, m in zip(grid.pages[0].boxes, meant, strict=True) if m == "marked"}
    scores = {
        Score(s.day, s.measure, Fraction(s.value)) for s in marked if isinstance(s, ScoreSays)
    }
    assert (read.unclear, read.troubles) == ((), ())
    assert set(read.scores) == scores
    count = Counter((says.day, says.remedy) for says in marked if isinstance(says, DoseSays))
    assert {(t.day, t.remedy): t.doses for t in read.taken if t.doses} == count


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"{}", "the key 'format' is missing"),
        (b"[", "damaged"),
        (b'{"format": "other", "format_version": 1}', "not a grid"),
        (b'{"format": "sennight diary", "format_version": 2}', "not a grid"),
    ],
)
def test_a_wrong_grid_is_refused(content: bytes, told: str) -> None:
    with pytest.raises(GridError, match=told):
        read_grid(content)


def test_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    jpeg, _, _ = plain_photo()
    (tmp_path / "photo.jpg").write_bytes(jpeg)
    (tmp_path / "diary.json").write_bytes(printed_course().content)
    (tmp_path / "text.jpg").write_text("no picture")
    photo, text = str(tmp_path / "photo.jpg"), str(tmp_path / "text.jpg")
    assert main(["diary", photo]) == 0
    entries = tomllib.loads(capsys.readouterr().out)
    assert entries["diary"]
    assert entries["score"]
    assert main(["diary", photo, text, "--csv"]) == 1
    out, told = capsys.readouterr()
    assert out.startswith("kind,date,of,value\n")
    assert "not a JPEG, PNG or HEIC picture" in told
    assert main(["diary", text]) == 2
    assert main(["diary", photo, "--grid", str(tmp_path / "none.json")]) == 2
