"""The handout's grid, colours and paragraph styles.

Clear print asks for 12 point at least, 14 better, lines of 60 to 70 letters and open leading
(RNIB, Clear Print). The grid gives a side column for names and times, and a text column about
65 letters wide beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from reportlab.lib.colors import Color, HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from sennight.dyes import DYES, INK, SLATE, dye_of
from sennight.publish.pdf.typeface import (
    BOLD,
    HEADING,
    ITALIC,
    SEMIBOLD,
    TEXT,
)

PAPERS = {"A4": A4, "Letter": LETTER}
INK_COLOUR = HexColor(INK.light)
QUIET_COLOUR = HexColor(SLATE.light)
ACCENT = HexColor(next(dye.light for dye in DYES if dye.name == "madder"))
HAIRLINE_COLOUR = HexColor("#B4BBB5")
HAIRLINE = 0.4

MARGIN = 18 * mm
TOP, BOTTOM = 17 * mm, 22 * mm
SIDE, GUTTER = 42 * mm, 6 * mm
WHOLE_PAGE = LETTER[1] - TOP - BOTTOM - 1
"""The height from which on a space counts as a page of its own, on either paper."""


@dataclass(frozen=True, slots=True)
class Page:
    """A paper size in points, its margins, and the columns on it."""

    width: float
    height: float
    margin: float = MARGIN
    top: float = TOP
    bottom: float = BOTTOM

    @property
    def measure(self) -> float:
        """The width between the margins."""
        return self.width - 2 * self.margin

    @property
    def text_height(self) -> float:
        """The height between the margins."""
        return self.height - self.top - self.bottom

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
    "dense": {"fontName": TEXT, "fontSize": 10.5, "leading": 13.5},
    "dense name": {"fontName": SEMIBOLD, "fontSize": 10.5, "leading": 13.5},
    "cell": {"fontName": TEXT, "fontSize": 12, "leading": 15.5},
    "aside": {"fontName": ITALIC, "fontSize": 12.5, "leading": 17.5},
    "name": {"fontName": SEMIBOLD, "fontSize": 12.5, "leading": 17.5},
    "urgent": {"fontName": BOLD, "fontSize": 12.5, "leading": 17.5, "textColor": ACCENT},
    "item": {
        "fontName": TEXT,
        "fontSize": 12.5,
        "leading": 17.5,
        "leftIndent": 13,
        "tag": "LBody",
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


BOOKMARK_LEVELS = {"section": 0, "phase": 1}
"""The levels of the bookmarks that headings get, 0 the outermost."""


@cache
def style(name: str) -> ParagraphStyle:
    """One of the handout's paragraph styles."""
    settings: dict[str, Any] = {
        "textColor": INK_COLOUR,
        "tag": "P",
        "splitLongWords": 1,
        "bulletFontName": TEXT,
    } | _STYLES[name]
    return ParagraphStyle(name, **settings)
