"""Label stocks: how labels lie on a sheet or a roll, in millimetres.

Sizes are those that stationers sell (common practice); none is of one maker alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class LabelStock:
    """Labels of one size on a page: millimetres from the page's upper left corner.

    `across` and `down` are from one label's edge to the next one's, `corner` how far content stays
    from a label's edge. On a roll every label is a page.
    """

    name: str
    page: tuple[float, float]
    label: tuple[float, float]
    columns: int = 1
    rows: int = 1
    first: Place = (0, 0)
    across: float = 0
    down: float = 0
    corner: float = 2.5

    @property
    def per_page(self) -> int:
        """How many labels a page has."""
        return self.columns * self.rows

    def places(self, start: int = 1) -> Iterator[tuple[int, Place]]:
        """The pages, from 0, and upper left corners of one label after another.

        `start` is the label of the first sheet to begin with, 1 to `per_page`; ValueError else.
        """
        if not 1 <= start <= self.per_page:
            raise ValueError(
                f"the first sheet has no label {start}; expected 1 to {self.per_page}"
            )
        number = start - 1
        while True:
            page, place = divmod(number, self.per_page)
            row, column = divmod(place, self.columns)
            x, y = self.first
            yield page, (x + column * self.across, y + row * self.down)
            number += 1


A4, LETTER = (210.0, 297.0), (215.9, 279.4)

STOCKS = (
    LabelStock("A4, 8 labels, 99 × 68 mm", A4, (99.1, 67.7), 2, 4, (4.65, 13.1), 101.6, 67.7),
    LabelStock("A4, 14 labels, 99 × 38 mm", A4, (99.1, 38.1), 2, 7, (4.65, 15.15), 101.6, 38.1),
    LabelStock("A4, 12 labels, 64 × 72 mm", A4, (63.5, 72), 3, 4, (7.25, 4.5), 66, 72),
    LabelStock("A4, 21 labels, 64 × 38 mm", A4, (63.5, 38.1), 3, 7, (7.25, 15.15), 66, 38.1),
    LabelStock(
        "Letter, 10 labels, 4 × 2 in", LETTER, (101.6, 50.8), 2, 5, (4.1, 12.7), 106.1, 50.8
    ),
    LabelStock("Roll, 102 × 64 mm", (102, 64), (102, 64)),
    LabelStock("Roll, 76 × 51 mm", (76, 51), (76, 51)),
    LabelStock("Roll, 57 × 32 mm", (57, 32), (57, 32), corner=1.5),
)
"""What can be printed on; the first is the usual one."""


def usual_stock(paper: str) -> LabelStock:
    """The first stock of a paper, A4 or Letter; ValueError for another."""
    for stock in STOCKS:
        if stock.name.startswith(f"{paper},"):
            return stock
    raise ValueError(f"no labels on paper “{paper}”; expected A4 or Letter")


def stock_named(name: str) -> LabelStock:
    """The stock of a name; ValueError where there is none."""
    for stock in STOCKS:
        if stock.name == name:
            return stock
    names = ", ".join(f"“{stock.name}”" for stock in STOCKS)
    raise ValueError(f"no label stock “{name}”; expected one of {names}")
