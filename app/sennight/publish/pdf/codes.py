"""Draws QR codes (ISO/IEC 18004)."""

from __future__ import annotations

from functools import lru_cache

from reportlab.graphics.barcode.qrencoder import QRAlphaNum, QRCode, QRErrorCorrectLevel
from reportlab.pdfgen.canvas import Canvas

Rows = tuple[tuple[bool, ...], ...]
"""The squares of a code, dark or not, row by row from the top."""


def draw_small_code(canvas: Canvas, words: str, x: float, y: float, side: float) -> None:
    """Draw a code of the smallest size, with a quarter of it to spare.

    `words` are 16 letters and figures at most; the place is its lower left corner, in points.
    """
    _draw(canvas, _small(words), x, y, side)


def draw_code(canvas: Canvas, words: str, x: float, y: float, side: float) -> None:
    """Draw a code as large as any words need it, one light square around it."""
    rows = _any_size(words)
    square = side / (len(rows) + 2)
    _draw(canvas, rows, x + square, y + square, side - 2 * square)


@lru_cache(maxsize=64)  # each takes far longer than its drawing, and containers share theirs
def _small(words: str) -> Rows:
    code = QRCode(1, QRErrorCorrectLevel.Q)
    code.addData(QRAlphaNum(words))
    code.make()
    return tuple(map(tuple, code.modules))


@lru_cache(maxsize=64)
def _any_size(words: str) -> Rows:
    code = QRCode(None, QRErrorCorrectLevel.L)
    code.addData(words)
    code.make()
    return tuple(map(tuple, code.modules))


def _draw(canvas: Canvas, rows: Rows, x: float, y: float, side: float) -> None:
    square = side / len(rows)
    for down, row in enumerate(rows):
        bottom, start = y + side - (down + 1) * square, None
        for across, is_dark in enumerate((*row, False)):
            if is_dark and start is None:
                start = across
            elif not is_dark and start is not None:
                canvas.rect(x + start * square, bottom, (across - start) * square, square, 0, 1)
                start = None
