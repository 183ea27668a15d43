"""Documents of one column: what every printed paper of a practice is set in."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from sennight.publish.pdf.style import BOTTOM, MARGIN, TOP, Page

DrawFoot = Callable[[Canvas, BaseDocTemplate], None]


class OneColumn(BaseDocTemplate):
    """One column of flowables, with a foot on each page; the same content gives the same bytes.

    The file's own properties name the practice alone, so `author` is the practice's name.
    """

    def __init__(
        self, target: BytesIO, page: Page, *, title: str, author: str, foot: DrawFoot
    ) -> None:
        super().__init__(
            target,
            pagesize=(page.width, page.height),
            title=title,
            author=author,
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
        self.addPageTemplates(PageTemplate(frames=[frame], onPage=foot))
