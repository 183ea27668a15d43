"""Prints papers page by page, each on its own size of paper."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QMarginsF, QRectF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from sennight.desktop.kit.paper_preview import image_of
from sennight.practice.page_pictures import page_picture
from sennight.practice.papers import Paper

DOTS = 300
"""Dots an inch: sharp enough for boxes that a photo is read by."""


def print_papers(papers: Sequence[Paper], printer: QPrinter) -> int:
    """Print all pages of the papers; how many there were. The diary's grid is no paper."""
    painter, printed = QPainter(), 0
    for paper in papers:
        if paper.suffix != ".pdf":
            continue
        number, pages = 0, 1
        while number < pages:
            picture = page_picture(paper.content, number, dots_per_inch=DOTS)
            pages = picture.pages
            size = QSizeF(picture.width_points, picture.height_points)
            printer.setPageSize(QPageSize(size, QPageSize.Unit.Point))
            printer.setPageMargins(QMarginsF(), QPageLayout.Unit.Point)
            printer.setFullPage(True)
            if printed:
                printer.newPage()
            elif not painter.begin(printer):
                return 0
            whole = printer.paperRect(QPrinter.Unit.DevicePixel)
            place = QRectF(0, 0, whole.width(), whole.height())
            painter.drawImage(place, image_of(picture))
            number, printed = number + 1, printed + 1
    if printed:
        painter.end()
    return printed
