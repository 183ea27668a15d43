"""Documents of one column: what every printed paper of a practice is set in."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from io import BytesIO
from itertools import pairwise

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import ActionFlowable, BaseDocTemplate, Flowable, Frame, PageTemplate
from reportlab.platypus.doctemplate import LayoutError

from sennight.publish.pdf.scripts import draw_line
from sennight.publish.pdf.style import QUIET_COLOUR, Page
from sennight.publish.pdf.tags import TaggedCanvas, decoration
from sennight.publish.pdf.typeface import TEXT

FOOT_SIZE = 12
FOOT = 34
"""Points from the paper's edge to the foot's line."""
PDF_VERSION = (1, 7)


class CannotBeSetError(ValueError):
    """Something that does not fit on the paper, whatever is done; nothing was set."""


def one_column_pdf(
    page: Page, story: list[Flowable], *, title: str, author: str, foot: str
) -> bytes:
    """A paper of one column, with `foot` and the page of all pages at the foot of each.

    The same content gives the same bytes. The file's own properties name the practice alone, so
    `author` is the practice's name. Raises CannotBeSetError.
    """
    return one_column_pages(page, story, title=title, author=author, foot=foot)[0]


def one_column_pages(
    page: Page, story: list[Flowable], *, title: str, author: str, foot: str
) -> tuple[bytes, int]:
    """The same, with the number of its pages."""
    target = BytesIO()
    document = _OneColumn(target, page, title=title, author=author)
    feet = partial(_draw_feet, page=page, words=foot, firsts=document.firsts)
    canvas = partial(TaggedCanvas, before_save=feet, initialFontName=TEXT, pdfVersion=PDF_VERSION)
    try:
        document.build(story, canvasmaker=canvas)
    except LayoutError as error:
        raise CannotBeSetError(
            "something is too large for one page; expected shorter names, a larger paper or "
            "standard print"
        ) from error
    return target.getvalue(), document.page


class LetterBegins(ActionFlowable):
    """Stands at the top of a page with which one of several letters begins.

    The pages of each are counted by themselves, since each goes to somebody else.
    """

    def apply(self, document: BaseDocTemplate) -> None:
        """Note the page."""
        if isinstance(document, _OneColumn):
            document.firsts.append(document.page)


class _OneColumn(BaseDocTemplate):
    """`firsts` are the pages that letters begin with, in their order; none for one document."""

    def __init__(self, target: BytesIO, page: Page, *, title: str, author: str) -> None:
        super().__init__(
            target,
            pagesize=(page.width, page.height),
            title=title,
            author=author,
            subject="",
            creator="Sennight",
            lang="en-GB",
            invariant=1,
            initialFontName=TEXT,
            pageCompression=1,
        )
        frame = Frame(
            page.margin,
            page.bottom,
            page.measure,
            page.text_height,
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )
        self.firsts: list[int] = []
        self.addPageTemplates(PageTemplate(frames=[frame], onPage=_place_foot))


def _place_foot(canvas: Canvas, document: BaseDocTemplate) -> None:
    """Put a foot here; it is drawn once the number of pages is known."""
    with decoration(canvas):
        canvas.doForm(_foot_name(document.page))


def _foot_name(number: int) -> str:
    return f"foot-{number}"


def _draw_feet(canvas: Canvas, *, page: Page, words: str, firsts: Sequence[int]) -> None:
    breaks = [1, *(first for first in firsts if first > 1), canvas.getPageNumber()]
    lengths = [end - first for first, end in pairwise(breaks)]
    places = [(place + 1, length) for length in lengths for place in range(length)]
    for number, (place, pages) in enumerate(places, 1):
        canvas.beginForm(_foot_name(number), 0, 0, page.width, page.bottom)
        canvas.setFillColor(QUIET_COLOUR)
        canvas.setFont(TEXT, FOOT_SIZE)
        count = f"Page {place} of {pages}"
        canvas.drawRightString(page.width - page.margin, FOOT, count)
        room = page.measure - canvas.stringWidth(count, TEXT, FOOT_SIZE) - 20
        draw_line(canvas, words, (page.margin, FOOT), room=room, size=FOOT_SIZE)
        canvas.endForm()
