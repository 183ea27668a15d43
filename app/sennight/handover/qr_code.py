"""QR codes as rows of dark and light squares, to be drawn by whoever shows them."""

from __future__ import annotations

import segno

QUIET_ZONE = 4
"""Light squares around the code, without which cameras do not see it (ISO/IEC 18004)."""

Squares = tuple[tuple[bool, ...], ...]


def qr_squares(text: str) -> Squares:
    """The code of a text, True for a dark square, its quiet zone included."""
    code = segno.make(text, error="m", micro=False)
    rows = code.matrix_iter(border=QUIET_ZONE)
    return tuple(tuple(bool(square) for square in row) for row in rows)
