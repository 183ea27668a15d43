"""Pages of a PDF as pictures, for a look before anything is written, and for a printer."""

from __future__ import annotations

from dataclasses import dataclass

POINTS = 72
"""Points in an inch."""


@dataclass(frozen=True, slots=True)
class PagePicture:
    """A page as it looks: `pixels` are rows of blue, green, red and a byte unused, from above.

    `number` counts from 0, of `pages`; `width_points` and `height_points` are the paper's size.
    """

    pixels: bytes
    width: int
    height: int
    stride: int
    number: int
    pages: int
    width_points: float
    height_points: float


def page_picture(pdf: bytes, number: int, *, dots_per_inch: float) -> PagePicture:
    """A page, counted from 0; the last where there are fewer.

    Only one thread at a time may draw.
    """
    import pypdfium2  # type: ignore[import-untyped]

    with pypdfium2.PdfDocument(pdf) as document:
        pages = len(document)
        number = max(0, min(number, pages - 1))
        page = document[number]
        width, height = page.get_size()
        bitmap = page.render(scale=dots_per_inch / POINTS, prefer_bgrx=True)
        return PagePicture(
            bytes(bitmap.buffer),
            bitmap.width,
            bitmap.height,
            bitmap.stride,
            number,
            pages,
            width,
            height,
        )
