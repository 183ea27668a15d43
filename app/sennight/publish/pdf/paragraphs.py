"""Paragraphs and lists, each under its tag."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.pdfbase.pdfmetrics import getAscentDescent, stringWidth
from reportlab.platypus import Flowable, Paragraph

from sennight.publish.pdf.scripts import markup, spoken
from sennight.publish.pdf.style import BOOKMARK_LEVELS, QUIET_COLOUR, style
from sennight.publish.pdf.tags import TaggedCanvas, grouped, tagged
from sennight.publish.pdf.typeface import SCRIPTS, TEXT

DASH = "–"
"""What the items of a list hang from."""
_LEAST = 7.0
"""Points: a word that is too wide at this size as well is torn apart."""
_EXACT = 0.995
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
        self.spoken = _spoken(self)
        self._pieces = _whole_pieces(self)
        self._longest = max(_word_widths(self._pieces), default=0.0)
        self._share = 1.0
        self.level = BOOKMARK_LEVELS.get(self.style.name)
        self.is_continued = False

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:
        """Its size; smaller where a word is wider than the room, since no word is torn apart."""
        self._fit(aW)
        return super().wrap(aW, aH)

    def _fit(self, width: float) -> None:
        """Set it at its full size, or so much smaller that its longest word fits.

        A part of a paragraph that goes on has the sizes of the whole.
        """
        room = max(1.0, width - self.style.leftIndent - self.style.rightIndent)
        share = room / self._longest * _EXACT if self._longest > room else 1.0
        if share == self._share or not self._pieces:
            return
        self._share = share
        for frag, size in self._pieces:
            frag.fontSize = max(min(size, _LEAST), size * share)
        self.frags = [frag for frag, _ in self._pieces]  # breaking lines has put words in place

    def split(self, aW: float, aH: float) -> list[Flowable]:
        """Its parts, of which the second and any further continue the first."""
        parts: list[Flowable] = super().split(aW, aH)
        for number, part in enumerate(parts):
            if isinstance(part, Text):
                part.of, part.link, part.level = self.of, self.link, self.level
                part.spoken = "" if number else self.spoken
                part.is_continued = self.is_continued or number > 0
        return parts

    def draw(self) -> None:
        """Draw it."""
        self._set_bookmark()
        if not self.link:
            with tagged(self.canv, self.style.tag, of=self.of, spoken=self.spoken):
                super().draw()
            return
        with (
            grouped(self.canv, self.style.tag, of=self.of),
            tagged(self.canv, "Link", spoken=self.spoken) as element,
        ):
            super().draw()
        if element and isinstance(self.canv, TaggedCanvas):
            box = (0.0, 0.0, max(self.getActualLineWidths0()), self.height)
            self.canv.link(self.link, self.words, box, element)

    @property
    def words(self) -> str:
        """What it says, in the order of reading."""
        return self.spoken or self.getPlainText()

    def _set_bookmark(self) -> None:
        canvas = self.canv
        if self.level is None or self.is_continued or not isinstance(canvas, TaggedCanvas):
            return
        if canvas.is_content:
            canvas.bookmark(self.words, self.level, self.height)


def _spoken(paragraph: Paragraph) -> str:
    """What is read aloud, where a part of it is in a script that runs from the right."""
    texts = [(frag.text, frag.fontName) for frag in paragraph.frags if hasattr(frag, "text")]
    said = [spoken(text, face) for text, face in texts]
    return "".join(said) if any(face in SCRIPTS for _, face in texts) else ""


def _whole_pieces(paragraph: Paragraph) -> list[tuple[Any, float]]:
    """Its pieces with their sizes; none of a part that is laid out already."""
    if not all(hasattr(frag, "text") for frag in paragraph.frags):
        return []
    return [(frag, frag.fontSize) for frag in paragraph.frags]


def _word_widths(pieces: Sequence[tuple[Any, float]]) -> Iterator[float]:
    """How wide the words are at full size; a word may go on in another face."""
    width = 0.0
    for frag, size in pieces:
        for number, word in enumerate(frag.text.split(" ")):
            if number:
                yield width
                width = 0.0
            width += stringWidth(word, frag.fontName, size)
    yield width


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
    marked = f"<strike>{markup(words)}</strike>" if struck else markup(words)
    return Text(marked, style(name), link=link)


def items(words: Sequence[str]) -> list[Flowable]:
    """A list, each item hanging from a small dash."""
    same = object()
    return [Item(markup(sentence), style("item"), items=same) for sentence in words]
