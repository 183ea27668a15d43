"""Draws a QR code (ISO/IEC 18004) of the smallest size, with a quarter of it to spare."""

from __future__ import annotations

from reportlab.graphics.barcode.qrencoder import (
    QRAlphaNum,
    QRCode,
    QRErrorCorrectLevel,
)
from reportlab.pdfgen.canvas import Canvas


def draw_code(canvas: Canvas, words: str, x: float, y: float, side: float) -> None:
    """Draw a code of 16 letters and figures at most, from its lower left corner, in points."""
    code = QRCode(1, QRErrorCorrectLevel.Q)
    code.addData(QRAlphaNum(words))
    code.make()
    rows = code.modules
    square = side / len(rows)
    for down, row in enumerate(rows):
        start = None
        for across, is_dark in enumerate((*row, False)):
            if is_dark and start is None:
                start = across
            elif not is_dark and start is not None:
                bottom = y + side - (down + 1) * square
                canvas.rect(x + start * square, bottom, (across - start) * square, square, 0, 1)
                start = None
