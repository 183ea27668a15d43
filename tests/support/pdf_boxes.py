"""Where text stands on printed pages: each piece with the box around its letters."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import pypdfium2 as pdfium  # type: ignore[import-untyped]


@dataclass(frozen=True)
class Piece:
    """A run of letters on one line, and the box around them in points from the lower left."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float

    def covers(self, other: Piece, tolerance: float) -> bool:
        """Whether the two boxes share more than a sliver."""
        across = min(self.right, other.right) - max(self.left, other.left)
        up = min(self.top, other.top) - max(self.bottom, other.bottom)
        return across > tolerance and up > tolerance


def pieces(data: bytes) -> list[Piece]:
    """All text of a paper, page by page."""
    with pdfium.PdfDocument(data) as document:
        return [piece for n, page in enumerate(document, 1) for piece in _of_page(page, n)]


def _of_page(page: pdfium.PdfPage, number: int) -> Iterator[Piece]:
    words = page.get_textpage()
    for n in range(words.count_rects()):
        left, bottom, right, top = words.get_rect(n)
        text = " ".join(words.get_text_bounded(left, bottom, right, top).split())
        if text:
            yield Piece(number, text, left, bottom, right, top)


def overlapping(found: list[Piece], tolerance: float = 1.0) -> list[tuple[Piece, Piece]]:
    """The pairs of pieces on one page that stand in each other's place."""
    pairs = []
    by_page: dict[int, list[Piece]] = {}
    for piece in found:
        by_page.setdefault(piece.page, []).append(piece)
    for on_page in by_page.values():
        in_order = sorted(on_page, key=lambda piece: piece.bottom)
        for n, one in enumerate(in_order):
            for other in in_order[n + 1 :]:
                if other.bottom > one.top:
                    break
                if one.covers(other, tolerance):
                    pairs.append((one, other))
    return pairs
