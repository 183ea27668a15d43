"""The papers that a client's document is set on: sizes, type sizes, and their styles.

Standard print is 14 point with nothing under 12, large print 18 point (RNIB, Clear Print).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from reportlab.lib.pagesizes import A4, A5, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from sennight.domain.take_home.choices import Print
from sennight.dyes import SLATE
from sennight.publish.pdf.paragraphs import HANG, Item, Text
from sennight.publish.pdf.scripts import markup
from sennight.publish.pdf.style import ACCENT, INK_COLOUR, QUIET_COLOUR, Page
from sennight.publish.pdf.typeface import BOLD, HEADING, SEMIBOLD, TEXT

BODY = {Print.STANDARD: 14.0, Print.LARGE: 18.0}
LEAST = 12.0
"""Nothing is set smaller, in points."""
_SIZES = {"A4": A4, "Letter": LETTER, "A5": A5}
SHEET_PAPERS = tuple(_SIZES)
_LEADING = 1.22
_TYPES: dict[str, dict[str, Any]] = {
    "body": {"fontName": TEXT},
    "pair": {"fontName": TEXT, "embeddedHyphenation": 0},  # it loses hyphens between two faces
    "strong": {"fontName": SEMIBOLD},
    "quiet": {"fontName": TEXT, "scale": 0.9, "textColor": QUIET_COLOUR},
    "item": {"fontName": TEXT, "leftIndent": HANG, "tag": "LBody"},
    "urgent": {"fontName": BOLD, "textColor": ACCENT, "tag": "H2", "scale": 1.08},
    "name": {"fontName": SEMIBOLD, "scale": 1.08, "tag": "H3"},
    "head": {"fontName": SEMIBOLD, "tag": "P"},
    "section": {"fontName": HEADING, "scale": 1.42, "tag": "H2"},
    "title": {"fontName": HEADING, "scale": 1.7, "tag": "H1"},
    "small title": {"fontName": HEADING, "scale": 1.2, "tag": "H1"},
    "practice": {"fontName": HEADING, "scale": 1.0},
    "reach": {"fontName": TEXT, "scale": 0.9, "textColor": QUIET_COLOUR, "alignment": 2},
}


@dataclass(frozen=True, slots=True)
class Paper:
    """A page and the size of its body type, in points."""

    page: Page
    body: float

    def style(self, name: str, indent: float = 0) -> ParagraphStyle:
        """One of the document's styles, hanging in by so many points."""
        return _style(name, self.body, indent)

    def text(self, words: str, name: str = "body", *, indent: float = 0, link: str = "") -> Text:
        """Plain words; amounts and dates are not torn apart."""
        return Text(markup(words), self.style(name, indent), link=link)

    def pair(self, strong: str, quiet: str) -> Text:
        """A few words in bold with quieter ones behind them."""
        size = max(LEAST, self.body * _TYPES["quiet"]["scale"])
        said = f'<font name="{SEMIBOLD}">{markup(strong)}</font>'
        if quiet:
            said += f' <font size="{size}" color="{SLATE.light}">{markup(quiet)}</font>'
        return Text(said, self.style("pair"))

    def items(self, words: Sequence[str], *, indent: float = 0) -> list[Flowable]:
        """A list, each item hanging from a small dash."""
        same = object()
        return [Item(markup(said), self.style("item", indent), items=same) for said in words]

    def title(self, words: str) -> Text:
        """A title, smaller where a word of it would not fit on a line."""
        large = self.style("title")
        widths = (stringWidth(w, large.fontName, large.fontSize) for w in words.split())
        fits = max(widths, default=0) <= self.page.measure
        return self.text(words, "title" if fits else "small title")

    @property
    def leading(self) -> float:
        """From one line of body type to the next."""
        return self.body * _LEADING

    @property
    def is_wide(self) -> bool:
        """Whether two columns of body type stand side by side."""
        return self.page.measure / self.body > 30


@cache
def _style(name: str, body: float, indent: float) -> ParagraphStyle:
    usual: dict[str, Any] = {"tag": "P", "textColor": INK_COLOUR, "leftIndent": 0}
    usual["embeddedHyphenation"] = 1
    settings = usual | _TYPES[name]
    size = max(LEAST, body * settings.pop("scale", 1))
    settings["leftIndent"] += indent
    return ParagraphStyle(
        name,
        fontSize=size,
        leading=size * _LEADING,
        splitLongWords=1,
        spaceShrinkage=0,  # else a line may stand out of its column by what its spaces could give
        bulletFontName=TEXT,
        **settings,
    )


def paper_of(size: str, letters: Print) -> Paper:
    """The paper of a size; ValueError where we have none of that name."""
    if size not in _SIZES:
        raise ValueError(f"no paper size “{size}”; expected one of {', '.join(SHEET_PAPERS)}")
    margin = 11 * mm if size == "A5" else 15 * mm
    page = Page(*_SIZES[size], margin=margin, top=12 * mm, bottom=17 * mm)
    return Paper(page, BODY[letters])
