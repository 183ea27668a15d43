"""The order sheet: what has to be ordered, a table for each supplier, ticked off by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from itertools import groupby

from reportlab.platypus import Flowable, Spacer

from sennight.domain.amounts import rounded
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.wanted import Order
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import columns, section
from sennight.publish.pdf.worksheet import Box

TITLE = "Order"
NOBODY = "Supplier not known"


def order_sheet_pdf(
    orders: Sequence[Order],
    names: Mapping[str, str],
    card: PracticeCard,
    *,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The sheet; suppliers in order of their names, those that are not known last."""
    ordered = sorted(orders, key=lambda order: (not order.supplier, order.supplier))

    def story(page: Page) -> list[Flowable]:
        parts: list[Flowable] = [Spacer(0, 4), text(f"Printed on {plain_date(today)}.", "quiet")]
        for supplier, of_supplier in groupby(ordered, key=lambda order: order.supplier):
            heads = ("", "Material", "Order", "In stock")
            lines = [_line(order, names) for order in of_supplier]
            table = columns(page, heads, lines, (1, 13, 4, 4))
            parts += [Spacer(0, 8), *section(page, supplier or NOBODY, table), table]
        return parts if orders else [*parts, Spacer(0, 8), text("Nothing to order.")]

    return plain_sheet(TITLE, story, card=card, paper=paper)


def _line(order: Order, names: Mapping[str, str]) -> tuple[str | Flowable, ...]:
    unit = order.material.unit
    return (
        Box(),
        material_words(order.material, names),
        f"{rounded(order.amount, 2)} {unit}",
        f"{rounded(order.held, 2)} {unit}",
    )
