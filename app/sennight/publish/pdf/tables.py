"""Tables with hairlines, and sections that begin where there is room for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from math import inf
from typing import Any

from reportlab.platypus import CondPageBreak, Flowable, Table

from sennight.publish.pdf.paragraphs import Text, text
from sennight.publish.pdf.style import GUTTER, HAIRLINE, HAIRLINE_COLOUR, WHOLE_PAGE, Page
from sennight.publish.pdf.tags import decoration, grouped

HEADING_ROOM = 58
ROOM_FOR_SECTION = 80
KEPT_WHOLE = 260
TALL_GAP = 120


def section(page: Page, words: str, table: Ruled | None = None) -> list[Flowable]:
    """A section's heading, on a further page where what follows would not begin on this one."""
    room = HEADING_ROOM + (table.needs(page) if table else ROOM_FOR_SECTION)
    return [CondPageBreak(min(room, WHOLE_PAGE)), text(words, "section")]


def under(page: Page, heading: Text, table: Ruled) -> list[Flowable]:
    """A table beneath a heading of its own, on a further page where both would not begin here."""
    room = heading.style.leading + table.needs(page)
    return [CondPageBreak(min(room, WHOLE_PAGE)), heading, table]


def kept(page: Page, table: Ruled) -> list[Flowable]:
    """A table that is broken only where keeping it whole would leave much of a page empty."""
    return [CondPageBreak(min(table.needs(page), WHOLE_PAGE)), table]


class Ruled(Table):
    """Rows with hairlines between them that break across pages at a row where they can.

    The cells of its first column are heads, or where it is not `is_side_headed` those of its
    first rows; where it `is_headed_twice`, both. Of a part on a further page the rows that come
    again are decoration. From `whole_page` on a height counts as a page of its own; a row is
    broken rather than leave more than `gap` empty.
    """

    _rowHeights: Sequence[float]  # noqa: N815 - the library's name
    _curcellstyle: object
    of: object = None
    is_continued = False
    is_side_headed = True
    is_headed_twice = False
    is_table = True
    whole_page = WHOLE_PAGE
    gap = TALL_GAP

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:
        """Its parts: whole rows, unless not even one fits on a page of its own."""
        self.splitInRow, self.splitByRow = 0, 1
        parts: list[Flowable] = super().split(availWidth, availHeight)
        is_long = not parts and max(availHeight, self._first_rows()) >= self.whole_page
        if is_long or self._left_under(parts, availWidth, availHeight) > self.gap:
            self.splitInRow, self.splitByRow = 1, 0
            parts = super().split(availWidth, availHeight)
        self.of = self.of or object()
        for number, part in enumerate(parts):
            if isinstance(part, Ruled):
                part.of, part.is_continued = self.of, self.is_continued or number > 0
                part.is_side_headed = self.is_side_headed
                part.is_headed_twice = self.is_headed_twice
                part.whole_page, part.gap = self.whole_page, self.gap
        return parts

    @staticmethod
    def _left_under(parts: Sequence[Flowable], width: float, height: float) -> float:
        """How much of a height is left under the rows that fit whole."""
        return height - parts[0].wrap(width, height)[1] if parts else 0

    def needs(self, page: Page) -> float:
        """The height of what has to stand together: all, or of a tall one its first rows."""
        _, height = self.wrap(page.measure, page.text_height)
        return height if height <= KEPT_WHOLE else self._first_rows()

    @property
    def head_height(self) -> float:
        """The height of the rows that come again on a further page; wrapped before."""
        return sum(self._rowHeights[: self.repeatRows])

    def _first_rows(self) -> float:
        return sum(self._rowHeights[: self.repeatRows + 1])

    def draw(self) -> None:
        """Draw it, each row and cell under its tag."""
        self.of = self.of or object()
        self._row, self._column, self._height_of_row = -1, -1, inf
        with self._group("Table", of=self.of):
            super().draw()

    def _group(
        self, tag: str, *, of: object = None, scope: str = ""
    ) -> AbstractContextManager[None]:
        return grouped(self.canv, tag, of=of, scope=scope) if self.is_table else nullcontext()

    def _drawCell(  # noqa: N802 - the library's name
        self,
        cellval: object,
        cellstyle: object,
        pos: tuple[float, float],
        size: tuple[float, float],
    ) -> None:
        self._next_cell(pos[1])
        self._curcellstyle = cellstyle  # what is in the cells sets its own type and colour
        is_head, is_first = self._row < self.repeatRows, self._column == 0
        draw = partial(super()._drawCell, cellval, cellstyle, pos, size)  # type: ignore[misc]
        if is_head and self.is_continued:
            with decoration(self.canv):
                _draw_unless_empty(draw, cellval)
            return
        scope = self._scope(is_first=is_first, is_head=is_head)
        with (
            self._group("TR", of=self._row_is),
            self._group("TH" if scope else "TD", scope=scope),
        ):
            _draw_unless_empty(draw, cellval)

    def _scope(self, *, is_first: bool, is_head: bool) -> str:
        """Of which cells a cell is the head; empty for one that is none."""
        if is_head and (self.is_headed_twice or not self.is_side_headed):
            return "Column"
        return "Row" if is_first and (self.is_headed_twice or self.is_side_headed) else ""

    def _next_cell(self, height: float) -> None:
        """Count rows and columns, which are drawn in their order."""
        if height < self._height_of_row:
            self._row, self._column, self._height_of_row = self._row + 1, -1, height
            self._row_is = object()
        self._column += 1

    def _drawLines(self) -> None:
        with decoration(self.canv):
            super()._drawLines()  # type: ignore[misc] # the stubs leave it out


def _draw_unless_empty(draw: Callable[[], None], content: object) -> None:
    if content not in ("", []):
        draw()


def rows(
    page: Page, content: Sequence[list[Any]], *more: tuple[Any, ...], heads: int = 0
) -> Ruled:
    """Rows of side column and text column; the first `heads` come again on a further page."""
    commands = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (0, -1), GUTTER),
        ("TOPPADDING", (0, 0), (-1, -1), 4),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEABOVE", (0, 0), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ("NOSPLIT", (0, 0), (-1, heads)),
        *more,
    ]
    return Ruled(
        content,
        colWidths=page.columns,
        style=commands,
        repeatRows=heads,
        hAlign="LEFT",
    )


class Columns(Ruled):
    """What stands side by side and is no table: read column by column."""

    is_table = False


def columns(
    page: Page,
    heads: Sequence[str],
    content: Sequence[Sequence[str | Flowable]],
    widths: Sequence[float],
    *,
    cell: str = "cell",
) -> Ruled:
    """A table with a head above each column; `widths` are shares of the text's width.

    `cell` is the style of the words in it.
    """
    commands: list[Any] = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6),
        ("TOPPADDING", (0, 0), (-1, -1), 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
        ("LINEABOVE", (0, 1), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
    ]
    table = Ruled(
        [
            [text(head, "quiet") for head in heads],
            *([text(c, cell) if isinstance(c, str) else c for c in r] for r in content),
        ],
        colWidths=[page.measure * width / sum(widths) for width in widths],
        style=commands,
        repeatRows=1,
        hAlign="LEFT",
    )
    table.is_side_headed = False
    return table
