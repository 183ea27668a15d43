"""A plain receipt: what a client got on a day, and what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from reportlab.platypus import Flowable, Spacer

from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.pricing import Price, Prices
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet, ruled
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import columns

TITLE = "Receipt"


@dataclass(frozen=True, slots=True)
class Item:
    """A line of a receipt; `price` is None where a cost is not known, to be filled in by hand."""

    name: str
    quantity: str
    batch: str
    price: Price | None


def receipt_pdf(
    client: str,
    day: date,
    items: Sequence[Item],
    prices: Prices,
    card: PracticeCard,
    *,
    paper: str = "A4",
) -> bytes:
    """The receipt, with the tax of each rate in a line where there is any."""
    known = [item.price for item in items if item.price is not None]
    is_whole = len(known) == len(items)
    total = sum((price.total for price in known), Fraction(0))
    tax = sum((price.tax for price in known), Fraction(0))

    def story(page: Page) -> list[Flowable]:
        lines = [
            (
                item.name,
                item.quantity,
                item.batch,
                prices.words(item.price.total) if item.price else "",
            )
            for item in items
        ]
        lines.append(("", "", "Total", prices.words(total) if is_whole else ""))
        if tax and is_whole:
            lines.append(("", "", "Tax included", prices.words(tax)))
        table = columns(page, ("Item", "Amount", "Batch", "Price"), lines, (9, 5, 5, 4))
        return [
            Spacer(0, 4),
            text(f"{client}, {plain_date(day)}"),
            Spacer(0, 8),
            table,
            Spacer(0, 6),
            ruled(page, [("Paid", ())]),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=client)
