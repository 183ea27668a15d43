"""The take-home sheet, as a PDF.

The same course, card and day give the same bytes. The file's own properties name the practice
but not the client.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import partial
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable

from sennight.domain.courses.stretches import Layout
from sennight.domain.practices import PracticeCard
from sennight.publish.handout import sections as parts
from sennight.publish.handout import taking
from sennight.publish.handout.input import Handout, HerbWords
from sennight.publish.pdf.one_column import OneColumn
from sennight.publish.pdf.style import (
    BOTTOM,
    MARGIN,
    QUIET_COLOUR,
    Page,
    Text,
    fitting,
    page_of,
)
from sennight.publish.pdf.tags import TaggedCanvas, decoration
from sennight.publish.pdf.typeface import (
    TEXT,
    MissingGlyph,
    MissingGlyphsError,
    missing_glyphs,
    register_faces,
    with_replacements,
)

TITLE = "Course of herbs: take-home sheet"
FOOT_SIZE = 12
FOOT = 34
"""Points from the paper's edge to the foot's line."""


def handout_pdf(
    layout: Layout,
    card: PracticeCard,
    *,
    today: date,
    herbs: HerbWords,
    paper: str = "A4",
    replace_missing: bool = False,
) -> bytes:
    """The handout for a course.

    `paper` is A4 or Letter. Raises ValueError for another paper and for a course without a day,
    and MissingGlyphsError where a name has letters that the typefaces lack, unless
    `replace_missing` says to print a visible sign in their place.
    """
    if not layout.days:
        raise ValueError("the course has no day left; expected a course with a day to print")
    register_faces()
    missing = unprintable(layout, card, herbs.names)
    if missing and not replace_missing:
        raise MissingGlyphsError(missing)
    handout = Handout(layout, card, today, herbs, page_of(paper))
    target = BytesIO()
    client = with_replacements(layout.course.client.name)
    feet = partial(_draw_feet, page=handout.page, client=client)
    canvas = partial(TaggedCanvas, before_save=feet, initialFontName=TEXT)
    _Document(target, handout).build(_story(handout), canvasmaker=canvas)
    return target.getvalue()


def unprintable(
    layout: Layout, card: PracticeCard, herb_names: Mapping[str, str]
) -> tuple[MissingGlyph, ...]:
    """The letters of this handout that the typefaces lack, with the text each is in."""
    return tuple(
        glyph for words in _words(layout, card, herb_names) for glyph in missing_glyphs(words)
    )


def _words(layout: Layout, card: PracticeCard, herb_names: Mapping[str, str]) -> Iterator[str]:
    """Whatever is printed that people have written."""
    course = layout.course
    yield course.client.name
    yield from (card.name, card.practitioner, *card.address, card.phone, card.email)
    yield from (phase.id for phase in course.protocol.phases)
    for remedy in course.remedies:
        yield remedy.name
        yield from (
            herb_names.get(ingredient.herb, ingredient.herb) for ingredient in remedy.ingredients
        )


def _story(handout: Handout) -> list[Flowable]:
    return [
        *parts.opening(handout),
        *taking.what_to_take(handout),
        *taking.flare_plan(handout),
        *taking.your_day(handout),
        *parts.how_to(handout),
        *parts.please_read(handout),
        *parts.contact(handout),
        *parts.weeks(handout),
    ]


class _Document(OneColumn):
    """A column with a bookmark for each section."""

    def __init__(self, target: BytesIO, handout: Handout) -> None:
        author = handout.card.name
        super().__init__(target, handout.page, title=TITLE, author=author, foot=self._foot)

    def _foot(self, canvas: Canvas, _document: BaseDocTemplate) -> None:
        """Put a foot here; it is drawn once the number of pages is known."""
        with decoration(canvas):
            canvas.doForm(_foot_name(self.page))

    def afterFlowable(self, flowable: Flowable) -> None:
        """Set a bookmark at a section's heading."""
        if isinstance(flowable, Text) and flowable.style.name == "section":
            words = flowable.getPlainText()
            self.canv.bookmarkPage(words)
            self.canv.addOutlineEntry(words, words)


def _foot_name(number: int) -> str:
    return f"foot-{number}"


def _draw_feet(canvas: Canvas, *, page: Page, client: str) -> None:
    """The client's name, and the page of all pages, at the foot of each."""
    pages = canvas.getPageNumber() - 1
    for number in range(1, pages + 1):
        canvas.beginForm(_foot_name(number), 0, 0, page.width, BOTTOM)
        canvas.setFillColor(QUIET_COLOUR)
        canvas.setFont(TEXT, FOOT_SIZE)
        words = f"Page {number} of {pages}"
        canvas.drawRightString(page.width - MARGIN, FOOT, words)
        room = page.measure - canvas.stringWidth(words, TEXT, FOOT_SIZE) - 20
        canvas.drawString(MARGIN, FOOT, fitting(canvas, client, room, size=FOOT_SIZE))
        canvas.endForm()
