"""Paragraphs and lists, each under its tag."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

from reportlab.pdfbase.pdfmetrics import getAscentDescent
from reportlab.platypus import Flowable, Paragraph

from sennight.publish.pdf.style import BOOKMARK_LEVELS, QUIET_COLOUR, style
from sennight.publish.pdf.tags import TaggedCanvas, grouped, tagged
from sennight.publish.pdf.typeface import TEXT, bound, with_replacements

DASH = "–"
"""What the items of a list hang from."""
HANG = 13
"""How far the words of an item stand in from their dash, in points."""


class Text(Paragraph):
    """A paragraph under the tag of its style; parts of it on several pages are one element.

    `level` is that of its bookmark, 0 the outermost; `link` is where it leads to.
    """

    def __init__(self, *args: Any, of: object = None, link: str = "", **kwargs: Any) -> None:  # noqa: ANN401 - the library's
        super().__init__(*args, **kwargs)
        self.of = of or object()
        self.link = link
        self.level = BOOKMARK_LEVELS.get(self.style.name)
        self.is_continued = False

    def split(self, aW: float, aH: float) -> list[Flowable]:
        """Its parts, of which the second and any further continue the first."""
        parts: list[Flowable] = super().split(aW, aH)
        for number, part in enumerate(parts):
            if isinstance(part, Text):
                part.of, part.link = self.of, self.link
                part.is_continued = self.is_continued or number > 0
        return parts

    def draw(self) -> None:
        """Draw it."""
        self._set_bookmark()
        if not self.link:
            with tagged(self.canv, self.style.tag, of=self.of):
                super().draw()
            return
        with (
            grouped(self.canv, self.style.tag, of=self.of),
            tagged(self.canv, "Link") as element,
        ):
            super().draw()
        if element and isinstance(self.canv, TaggedCanvas):
            box = (0.0, 0.0, max(self.getActualLineWidths0()), self.height)
            self.canv.link(self.link, self.getPlainText(), box, element)

    def _set_bookmark(self) -> None:
        canvas = self.canv
        if self.level is None or self.is_continued or not isinstance(canvas, TaggedCanvas):
            return
        if canvas.is_content:
            canvas.bookmark(self.getPlainText(), self.level, self.height)


class Item(Text):
    """A paragraph of a list, which hangs from a small dash."""

    def __init__(self, *args: Any, items: object = None, **kwargs: Any) -> None:  # noqa: ANN401 - the library's
        super().__init__(*args, **kwargs)
        self.items = items or object()
        """What all items of the same list have in common."""

    def split(self, aW: float, aH: float) -> list[Flowable]:
        """Its parts, in the same list."""
        parts = super().split(aW, aH)
        for part in parts:
            if isinstance(part, Item):
                part.items = self.items
        return parts

    def draw(self) -> None:
        """Draw it."""
        with grouped(self.canv, "L", of=self.items), grouped(self.canv, "LI", of=self.of):
            if not self.is_continued:
                with tagged(self.canv, "Lbl"):
                    self._draw_dash()
            super().draw()

    def _draw_dash(self) -> None:
        self.canv.setFillColor(QUIET_COLOUR)
        self.canv.setFont(TEXT, self.style.fontSize)
        ascent = getAscentDescent(self.style.fontName, self.style.fontSize)[0]
        self.canv.drawString(max(0, self.style.leftIndent - HANG), self.height - ascent, DASH)


def text(words: str, name: str = "body", link: str = "", *, struck: bool = False) -> Text:
    """Plain words, set in a style; amounts and dates are not torn apart.

    `link` is an address that they lead to; what is `struck` has a line through it.
    """
    markup = f"<strike>{_markup(words)}</strike>" if struck else _markup(words)
    return Text(markup, style(name), link=link)


def items(words: Sequence[str]) -> list[Flowable]:
    """A list, each item hanging from a small dash."""
    same = object()
    return [Item(_markup(sentence), style("item"), items=same) for sentence in words]


def _markup(words: str) -> str:
    return escape(bound(with_replacements(words)), quote=False)
