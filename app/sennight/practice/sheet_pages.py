"""Pages of diary sheets as seen in photos and scans, before anything of them is counted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sennight.reading_sheets.grid_file import (
    AdviceSays,
    BoxState,
    DoseSays,
    Grid,
    Page,
    Says,
    ScoreSays,
)
from sennight.reading_sheets.troubles import SheetError, Trouble

if TYPE_CHECKING:
    from sennight.reading_sheets.light import Grey
    from sennight.reading_sheets.sheets import PageRead

__all__ = [
    "PICTURE_SUFFIXES",
    "AdviceSays",
    "BoxState",
    "DoseSays",
    "Grid",
    "Says",
    "ScoreSays",
    "SeenBox",
    "SeenPage",
    "SheetFileError",
    "SheetPicture",
    "Trouble",
    "Unread",
    "file_content",
    "pages_in",
]

PICTURE_SUFFIXES = (".jpg", ".jpeg", ".png", ".heic", ".heif", ".pdf")
_MOST_BYTES = 60_000_000
_MOST_PAGES = 60
_LONG_SIDE = 3400
"""Points along a scanned page: some 300 an inch on A4."""
_POINTS = 72


class SheetFileError(Exception):
    """A file that cannot be used; the message says which, why and what was expected."""


@dataclass(frozen=True, slots=True)
class SheetPicture:
    """A page laid flat: rows of grey, a byte a point, from above."""

    pixels: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class SeenBox:
    """A box: what a mark in it says, what it holds, and its place in the picture, in points."""

    says: Says
    state: BoxState
    x: float
    y: float
    side: float


@dataclass(frozen=True, slots=True)
class SeenPage:
    """A page that was read; `source` is the name of its file, with the page of a PDF."""

    source: str
    grid: Grid
    page: Page
    picture: SheetPicture
    boxes: tuple[SeenBox, ...]


@dataclass(frozen=True, slots=True)
class Unread:
    """A photo that could not be read, and why."""

    source: str
    trouble: Trouble


def file_content(path: Path) -> bytes:
    """The bytes of a file; raises SheetFileError."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise SheetFileError(f"{path} is too large; expected at most 60 MB")
        return path.read_bytes()
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise SheetFileError(f"{path} cannot be read ({why})") from error


def pages_in(path: Path, grids: Sequence[Grid]) -> Iterator[SeenPage | Unread]:
    """What is seen in a photo, or in each page of a PDF; raises SheetFileError."""
    from sennight.reading_sheets.photos import grey_photo

    content = file_content(path)
    if content.startswith(b"%PDF-"):
        yield from _scanned(content, path.name, grids)
        return
    try:
        grey = grey_photo(content)
    except SheetError as error:
        yield Unread(path.name, error.trouble)
        return
    yield _seen(grey, path.name, grids)


def _scanned(content: bytes, name: str, grids: Sequence[Grid]) -> Iterator[SeenPage | Unread]:
    """The pages of a PDF, one after the other; only one thread at a time may draw them."""
    from sennight.publish.pdf.pictures import page_picture
    from sennight.reading_sheets.photos import grey_pixels

    number, pages = 0, 1
    while number < min(pages, _MOST_PAGES):
        try:
            small = page_picture(content, number, dots_per_inch=4)
            longest = max(small.width_points, small.height_points, 1.0)
            dots = _LONG_SIDE * _POINTS / longest
            picture = page_picture(content, number, dots_per_inch=dots)
        except (RuntimeError, ValueError):  # what the reader of PDF raises of a damaged file
            yield Unread(name, Trouble.NO_PICTURE)
            return
        pages, number = small.pages, number + 1
        grey = grey_pixels(picture.pixels, picture.width, picture.height, picture.stride)
        yield _seen(grey, f"{name}, page {number}" if pages > 1 else name, grids)
    if pages > _MOST_PAGES:
        yield Unread(f"{name}, from page {_MOST_PAGES + 1}", Trouble.TOO_LARGE)


def _seen(grey: Grey, source: str, grids: Sequence[Grid]) -> SeenPage | Unread:
    from sennight.reading_sheets.sheets import read_grey

    try:
        read = read_grey(grey, grids)
    except SheetError as error:
        return Unread(source, error.trouble)
    return SeenPage(source, read.grid, read.page, _picture(read), tuple(_boxes(read)))


def _picture(read: PageRead) -> SheetPicture:
    height, width = read.picture.shape
    return SheetPicture(read.picture.tobytes(), width, height)


def _boxes(read: PageRead) -> Iterator[SeenBox]:
    for (box, state), (x, y) in zip(read.states, read.corners, strict=True):
        yield SeenBox(box.says, state, float(x), float(y), box.size * read.dots)
