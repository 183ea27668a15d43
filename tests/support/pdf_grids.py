"""Tables of a day read back from printed pages: by where rules and letters stand, not by tags."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from support.pdf_boxes import Piece, pieces
from support.pdf_pages import Rule, level_rules

_TIME = r"(\d{1,2}:\d\d(?: [ap]m)?|12 noon|12 midnight|When needed)"
_NEAR = 2.0
_LEAST_WIDTH = 150.0
"""Rules that are shorter than this, in points, belong to no table."""


@dataclass(frozen=True)
class ReadRow:
    """A row of a table: the words at the heads of its columns, its time, moment and cells."""

    columns: tuple[str, ...]
    time: str
    moment: str
    cells: tuple[str, ...]


def read_rows(data: bytes) -> list[ReadRow]:
    """The rows of all tables of a day, page by page."""
    found: list[ReadRow] = []
    text, rules = pieces(data), level_rules(data)
    for page in sorted({piece.page for piece in text}):
        on_page = [piece for piece in text if piece.page == page]
        lefts: list[float] = []
        heads: tuple[str, ...] = ()
        for top, bottom in _bands([rule for rule in rules if rule.page == page]):
            inside = [p for p in on_page if bottom - 1 < (p.top + p.bottom) / 2 < top + 1]
            side = [p for p in inside if p.text.startswith("Time")]
            if side:
                lefts = _columns([p for p in inside if p not in side], side[0])
                heads = _cells(inside, lefts)
            elif lefts and (row := _row(inside, lefts, heads)):
                found.append(row)
            else:
                lefts = []
    return found


def _bands(rules: list[Rule]) -> list[tuple[float, float]]:
    """From one level rule to the next, from the top of a page down."""
    long = (rule for rule in rules if rule.right - rule.left > _LEAST_WIDTH)
    return list(pairwise(sorted({round(rule.y, 1) for rule in long}, reverse=True)))


def _columns(heads: list[Piece], side: Piece) -> list[float]:
    """Where the columns of remedies begin: the left edges of their heads."""
    lefts: list[float] = []
    for left in sorted(piece.left for piece in heads if piece.left > side.right):
        if not lefts or left - lefts[-1] > 40:
            lefts.append(left)
    return lefts


def _cells(inside: list[Piece], lefts: list[float]) -> tuple[str, ...]:
    """The words of each column, from the top down."""
    cells: list[list[Piece]] = [[] for _ in lefts]
    for piece in inside:
        at = [n for n, left in enumerate(lefts) if left - _NEAR - 1 <= piece.left]
        if at:
            cells[at[-1]].append(piece)
    return tuple(_said(cell) for cell in cells)


def _said(cell: list[Piece]) -> str:
    """The pieces of a cell, line by line."""
    lines: list[list[Piece]] = []
    for piece in sorted(cell, key=lambda piece: -piece.top):
        if lines and (piece.top + piece.bottom) / 2 > lines[-1][0].bottom:
            lines[-1].append(piece)
        else:
            lines.append([piece])
    in_order = (piece for line in lines for piece in sorted(line, key=lambda piece: piece.left))
    return " ".join(piece.text for piece in in_order)


def _row(inside: list[Piece], lefts: list[float], heads: tuple[str, ...]) -> ReadRow | None:
    side = _said([piece for piece in inside if piece.left < lefts[0] - 2 * _NEAR])
    told = re.match(rf"{_TIME} ?(.*)$", side)
    return ReadRow(heads, told[1], told[2], _cells(inside, lefts)) if told else None
