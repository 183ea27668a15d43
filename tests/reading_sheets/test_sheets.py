"""Photos of sheets as printed, simulated: what is in each box, what is asked, what is told."""

from __future__ import annotations

import random
import tomllib
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from fractions import Fraction
from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw, ImageFilter

from sennight.cli import main
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.follow_up.diaries import Score
from sennight.domain.take_home.choices import Print, SheetChoices
from sennight.practice.reading_diaries import read_photos
from sennight.practice.sheet_pages import SeenPage, Unread, pages_in
from sennight.publish.diary.document import diary_sheet
from sennight.reading_sheets.grid_file import DoseSays, Grid, GridError, ScoreSays, read_grid
from sennight.reading_sheets.photos import grey_photo
from sennight.reading_sheets.sheets import read_sheet
from sennight.reading_sheets.troubles import SheetError, Trouble
from support.draws import draws
from support.handout_samples import CARD, START, many_remedies, three_months
from support.sheet_photos import Conditions, Meant, any_conditions, sheet_photo

PHOTOS = draws(1, check=4, long=1000)
DAYS = Span(START, START + timedelta(weeks=8))


@cache
def printed(case: int = 0) -> tuple[bytes, bytes]:
    """A sheet and its grid: A4 or Letter, standard or large print, few remedies or many."""
    course = many_remedies(6) if case & 4 else three_months()
    letters = Print.LARGE if case & 1 else Print.STANDARD
    choices = SheetChoices("Letter" if case & 2 else "A4", letters)
    diary = diary_sheet(lay_out(course), CARD, DAYS, choices)
    return diary.pdf, diary.grid


@cache
def plain_photo() -> tuple[bytes, Grid, tuple[Meant, ...]]:
    """One easy photo that tests share."""
    pdf, content = printed()
    grid = read_grid(content)
    seen = Conditions(turn=2, tilt=0.05, long_side=2400)
    photo = sheet_photo(pdf, grid.pages[0], random.Random(5), seen, corrections=0)  # noqa: S311 - a simulation
    return photo.jpeg, grid, photo.meant


@pytest.mark.timeout(7200)  # a thousand photos on a busy machine
def test_boxes_are_read() -> None:
    """Nearly all is right, little is asked; no confident mistake in 10,000 boxes."""
    counts: Counter[tuple[str, str]] = Counter()
    refused = 0
    for number in range(PHOTOS):
        draw = random.Random(number)  # noqa: S311 - a simulation
        pdf, content = printed(number % 8)
        grid = read_grid(content)
        page = draw.choice(grid.pages)
        photo = sheet_photo(pdf, page, draw, any_conditions(draw))
        try:
            read = read_sheet(photo.jpeg, [grid])
        except SheetError:
            refused += 1
            continue
        assert read.page == page
        states = [state for _, state in read.states]
        counts.update(zip(map(str, photo.meant), map(str, states), strict=True))
    wrong = counts["empty", "marked"] + counts["marked", "empty"]
    wrong += counts["corrected", "marked"] + counts["corrected", "empty"]
    asked = counts["empty", "unclear"] + counts["marked", "unclear"]
    assert counts["marked", "marked"] > 100
    assert refused <= PHOTOS // 20
    assert wrong <= counts.total() // 10_000, counts
    assert asked < 0.01 * counts.total() + 4, counts


def _changed(change: Callable[[Image.Image], Image.Image]) -> bytes:
    jpeg, _, _ = plain_photo()
    target = BytesIO()
    change(Image.open(BytesIO(jpeg))).save(target, "PNG")
    return target.getvalue()


def _without_corner(picture: Image.Image) -> Image.Image:
    """A thumb over the lower left of the photo."""
    ImageDraw.Draw(picture).rectangle((0, 1900, 500, 2400), fill=160)
    return picture


@pytest.mark.parametrize(
    ("change", "trouble"),
    [
        (_without_corner, Trouble.CORNER),
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
        read_sheet(jpeg, [read_grid(printed(4)[1])])
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
    (tmp_path / "diary.json").write_bytes(printed()[1])
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
