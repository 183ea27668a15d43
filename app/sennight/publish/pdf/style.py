"""The handout's grid, colours and paragraph styles.

Clear print asks for 12 point at least, 14 better, lines of 60 to 70 letters and open leading
(RNIB, Clear Print). The grid gives a side column for names and times, and a text column about
65 letters wide beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from html import escape
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Table

from sennight.dyes import DYES, INK, SLATE, dye_of
from sennight.publish.pdf.tags import decoration, tagged
from sennight.publish.pdf.typeface import (
    BOLD,
    HEADING,
    ITALIC,
    SEMIBOLD,
    TEXT,
    bound,
    with_replacements,
)

PAPERS = {"A4": A4, "Letter": LETTER}
INK_COLOUR = HexColor(INK.light)
QUIET_COLOUR = HexColor(SLATE.light)
ACCENT = HexColor(DYES[0].light)
HAIRLINE_COLOUR = HexColor("#B4BBB5")
HAIRLINE = 0.4

MARGIN = 18 * mm
TOP, BOTTOM = 17 * mm, 22 * mm
SIDE, GUTTER = 42 * mm, 6 * mm
WHOLE_PAGE = LETTER[1] - TOP - BOTTOM - 1
"""The height from which on a space counts as a page of its own, on either paper."""
HEADING_ROOM = 58
ROOM_FOR_SECTION = 80
KEPT_WHOLE = 260


@dataclass(frozen=True, slots=True)
class Page:
    """A paper size in points, and the columns on it."""

    width: float
    height: float

    @property
    def measure(self) -> float:
        """The width between the margins."""
        return self.width - 2 * MARGIN

    @property
    def text_height(self) -> float:
        """The height between the margins."""
        return self.height - TOP - BOTTOM

    @property
    def columns(self) -> tuple[float, float]:
        """The side column with its gutter, and the text column."""
        return SIDE + GUTTER, self.measure - SIDE - GUTTER


def page_of(paper: str) -> Page:
    """The page of a paper size; ValueError where we have none of that name."""
    if paper not in PAPERS:
        raise ValueError(f"no paper size “{paper}”; expected one of {', '.join(PAPERS)}")
    return Page(*PAPERS[paper])


@cache
def colour_of(index: int) -> Color:
    """The dye of the remedy at a place in its course, for white paper."""
    return HexColor(dye_of(index).light)


_STYLES: dict[str, dict[str, Any]] = {
    "body": {"fontName": TEXT, "fontSize": 12.5, "leading": 17.5},
    "quiet": {"fontName": TEXT, "fontSize": 12, "leading": 16, "textColor": QUIET_COLOUR},
    "small": {"fontName": TEXT, "fontSize": 10, "leading": 13.5, "textColor": QUIET_COLOUR},
    "aside": {"fontName": ITALIC, "fontSize": 12.5, "leading": 17.5},
    "name": {"fontName": SEMIBOLD, "fontSize": 12.5, "leading": 17.5},
    "urgent": {"fontName": BOLD, "fontSize": 12.5, "leading": 17.5, "textColor": ACCENT},
    "item": {
        "fontName": TEXT,
        "fontSize": 12.5,
        "leading": 17.5,
        "leftIndent": 14,
        "bulletIndent": 0,
        "bulletFontName": TEXT,
        "bulletFontSize": 12.5,
        "bulletColor": QUIET_COLOUR,
        "tag": "LI",
    },
    "phase": {"fontName": HEADING, "fontSize": 15.5, "leading": 19, "tag": "H3"},
    "section": {
        "fontName": HEADING,
        "fontSize": 22,
        "leading": 27,
        "spaceBefore": 22,
        "spaceAfter": 7,
        "tag": "H2",
    },
    "title": {"fontName": HEADING, "fontSize": 32, "leading": 37, "tag": "H1"},
    "practice": {"fontName": HEADING, "fontSize": 15, "leading": 19},
    "contact": {
        "fontName": TEXT,
        "fontSize": 12,
        "leading": 15.5,
        "textColor": QUIET_COLOUR,
        "alignment": 2,
    },
}


@cache
def style(name: str) -> ParagraphStyle:
    """One of the handout's paragraph styles."""
    settings: dict[str, Any] = {
        "textColor": INK_COLOUR,
        "tag": "P",
        "splitLongWords": 1,
    } | _STYLES[name]
    return ParagraphStyle(name, **settings)


class Text(Paragraph):
    """A paragraph under the tag of its style."""

    def draw(self) -> None:
        """Draw it."""
        with tagged(self.canv, self.style.tag):
            super().draw()


def text(words: str, name: str = "body", bullet: str | None = None) -> Text:
    """Plain words, set in a style; amounts and dates are not torn apart."""
    printable = bound(with_replacements(words))
    return Text(escape(printable, quote=False), style(name), bulletText=bullet)


def items(words: tuple[str, ...]) -> list[Flowable]:
    """A list, each item hanging from a small dash."""
    return [text(sentence, "item", "–") for sentence in words]


def section(page: Page, words: str, table: Ruled | None = None) -> list[Flowable]:
    """A section's heading, on a further page where what follows would not begin on this one."""
    room = HEADING_ROOM + (table.needs(page) if table else ROOM_FOR_SECTION)
    return [CondPageBreak(min(room, WHOLE_PAGE)), text(words, "section")]


def kept(page: Page, table: Ruled) -> list[Flowable]:
    """A table that is broken only where keeping it whole would leave much of a page empty."""
    return [CondPageBreak(min(table.needs(page), WHOLE_PAGE)), table]


def fitting(canvas: Canvas, words: str, room: float, *, size: float) -> str:
    """The words, cut short with an ellipsis where they are wider than the room, both in points."""
    if canvas.stringWidth(words, TEXT, size) <= room:
        return words
    while canvas.stringWidth(f"{words}…", TEXT, size) > room:
        words = words[:-1]
    return f"{words.rstrip()}…"


class Ruled(Table):
    """Rows with hairlines between them that break across pages at a row where they can."""

    _rowHeights: Sequence[float]  # noqa: N815 - the library's name

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:
        """Its parts: whole rows, unless not even one fits on a page of its own."""
        self.splitInRow = 0
        parts: list[Flowable] = super().split(availWidth, availHeight)
        if not parts and max(availHeight, self._first_rows()) >= WHOLE_PAGE:
            self.splitInRow = 1
            parts = super().split(availWidth, availHeight)
        return parts

    def needs(self, page: Page) -> float:
        """The height of what has to stand together: all, or of a tall one its first rows."""
        _, height = self.wrap(page.measure, page.text_height)
        return height if height <= KEPT_WHOLE else self._first_rows()

    def _first_rows(self) -> float:
        return sum(self._rowHeights[: self.repeatRows + 1])

    def _drawLines(self) -> None:
        with decoration(self.canv):
            super()._drawLines()  # type: ignore[misc] # the stubs leave it out


def rows(
    page: Page, content: Sequence[list[Any]], *more: tuple[Any, ...], heads: int = 0
) -> Ruled:
    """Rows of side column and text column; the first `heads` come again on a further page."""
    commands = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (0, -1), GUTTER),
        ("TOPPADDING", (0, 0), (-1, -1), 5),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
        ("LINEABOVE", (0, 0), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ("NOSPLIT", (0, 0), (-1, heads)),
        *more,
    ]
    return Ruled(
        content,
        colWidths=page.columns,
        style=commands,
        repeatRows=heads,
        hAlign="LEFT",
    )
