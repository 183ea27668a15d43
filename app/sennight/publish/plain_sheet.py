"""Printed sheets of plain text for practitioners: a letter, a report, the practitioner's copy.

The same content gives the same bytes. The file's own properties name the practice alone.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate, Spacer

from sennight.domain.practices import PracticeCard
from sennight.publish.handout_style import (
    BOTTOM,
    MARGIN,
    QUIET_COLOUR,
    TOP,
    Page,
    page_of,
    rows,
    text,
)
from sennight.publish.handout_tags import TaggedCanvas, decoration
from sennight.publish.typeface import TEXT, register_faces

FOOT_SIZE, FOOT = 10, 34
BLANK = "." * 90
"""A line to be filled in by hand."""

Row = tuple[str, Sequence[str]]
"""A name at the side, and paragraphs beside it."""


def plain_sheet(
    title: str,
    story: Callable[[Page], list[Flowable]],
    *,
    card: PracticeCard,
    paper: str = "A4",
) -> bytes:
    """A sheet under a title; `paper` is A4 or Letter (ValueError else).

    Letters that the typefaces lack are printed as a visible sign.
    """
    register_faces()
    page = page_of(paper)
    target = BytesIO()
    document = BaseDocTemplate(
        target,
        pagesize=(page.width, page.height),
        title=title,
        author=card.name,
        subject="",
        creator="Sennight",
        lang="en-GB",
        invariant=1,
        pageCompression=1,
    )
    frame = Frame(
        MARGIN,
        BOTTOM,
        page.measure,
        page.height - TOP - BOTTOM,
        leftPadding=0,
        rightPadding=0,
        topPadding=0,
        bottomPadding=0,
    )
    document.addPageTemplates(PageTemplate(frames=[frame], onPage=partial(_foot, title=title)))
    canvas = partial(TaggedCanvas, before_save=lambda _canvas: None, initialFontName=TEXT)
    document.build([*_letterhead(card), text(title, "title"), *story(page)], canvasmaker=canvas)
    return target.getvalue()


def _foot(canvas: Canvas, document: BaseDocTemplate, *, title: str) -> None:
    with decoration(canvas):
        canvas.setFillColor(QUIET_COLOUR)
        canvas.setFont(TEXT, FOOT_SIZE)
        canvas.drawString(MARGIN, FOOT, title)
        right = document.pagesize[0] - MARGIN
        canvas.drawRightString(right, FOOT, f"Page {document.page}")


def _letterhead(card: PracticeCard) -> list[Flowable]:
    who = " · ".join(part for part in (card.practitioner, card.name) if part)
    lines = [line for line in (*card.address, card.phone, card.email) if line]
    found: list[Flowable] = [text(who, "practice")] if who else []
    found += [text(line, "quiet") for line in lines]
    return [*found, Spacer(0, 14)] if found else []


def ruled(page: Page, content: Sequence[Row]) -> Flowable:
    """Rows of a name and what is said beside it; what is empty is a line to fill in.

    A name with points in it, such as a finding's id, has a line for each part.
    """
    return rows(
        page,
        [
            [
                [text(part, "name") for part in name.replace(".", ".\n").split("\n")],
                [text(one or BLANK) for one in said or ("",)],
            ]
            for name, said in content
        ],
    )
