"""A booklet: pages two by two on sheets of A4, to be printed on both sides, folded and nested.

Printed on both sides (turned on the short edge), the sheets are laid on each other as they come
and folded once; the pages are then in order. What is laid out so has no tags: the pages
themselves are for screens and screen readers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from ctypes import c_float
from hashlib import sha256
from io import BytesIO

_ON_A_SHEET = 4
"""Pages on a folded sheet: two on each side."""
_WIDTH, _HEIGHT = 841.89, 595.276
"""A4 on its side, in points."""
_MADE = re.compile(rb"(/CreationDate ?\(D:)(\d{14}[^)]*)(\))")
_NAME = re.compile(rb"<([0-9A-F]{32})>(?=<|\])")


def sides(pages: int) -> Iterator[tuple[int, int]]:
    """The pages of each side, left and right, counted from 1; the last ones may be blank.

    Side by side of the outermost sheet first, its inner side next, then the sheet within it.
    """
    whole = -(-pages // _ON_A_SHEET) * _ON_A_SHEET
    for sheet in range(whole // _ON_A_SHEET):
        first, last = 1 + 2 * sheet, whole - 2 * sheet
        yield last, first
        yield first + 1, last - 1


def folded(pdf: bytes) -> bytes:
    """The A5 pages of a paper as a booklet on A4; the same pages give the same bytes."""
    import pypdfium2  # type: ignore[import-untyped]
    from pypdfium2 import raw

    target = BytesIO()
    with pypdfium2.PdfDocument(pdf) as source, pypdfium2.PdfDocument.new() as ordered:
        count, (width, height) = len(source), source.get_page_size(0)
        order = [page for side in sides(count) for page in side]
        ordered.import_pages(source, [page - 1 for page in order if page <= count])
        for place, page in enumerate(order):
            if page > count:
                ordered.new_page(width, height, index=place)
        made = raw.FPDF_ImportNPagesToOne(ordered, c_float(_WIDTH), c_float(_HEIGHT), 2, 1)
        with pypdfium2.PdfDocument(made) as booklet:
            booklet.save(target)
    return _same_each_time(target.getvalue(), sha256(pdf).hexdigest().upper().encode())


def _same_each_time(pdf: bytes, mark: bytes) -> bytes:
    """The file without the time of its making, and with a mark of its content as its name."""
    made = _MADE.sub(lambda found: found[1] + b"20000101000000" + found[2][14:] + found[3], pdf)
    return _NAME.sub(lambda found: b"<" + mark[: len(found[1])] + b">", made)
