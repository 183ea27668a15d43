"""The worksheet: what to weigh and measure for several remedies, ticked off and signed by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from reportlab.platypus import Flowable, Spacer

from sennight.domain.amounts import rounded
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.material_words import material_words
from sennight.domain.dispensary.preparing import Preparation, ToMeasure
from sennight.domain.dispensary.stock import Material
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet, ruled
from sennight.publish.pdf.style import HAIRLINE, INK_COLOUR, Page
from sennight.publish.pdf.tables import columns, section, under
from sennight.publish.pdf.tags import decoration

TITLE = "Worksheet"
SIDE = 8
"""Points: of a box to tick."""

OnShelf = Sequence[tuple[Material, Sequence[tuple[Preparation, ToMeasure]]]]


def worksheet_pdf(
    made: Sequence[tuple[str, date, Preparation]],
    on_shelf: OnShelf,
    names: Mapping[str, str],
    card: PracticeCard,
    *,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The sheet; `made` has the client and the day by which each is wanted.

    First what to take from the shelf, in its order, then each remedy with the amounts that go into
    it, the deliveries that they come from, and lines for number, use-by and signature.
    """

    def story(page: Page) -> list[Flowable]:
        parts: list[Flowable] = [Spacer(0, 4), text(f"Printed on {plain_date(today)}.", "quiet")]
        if not made:
            return [*parts, Spacer(0, 8), text("Nothing to prepare.")]
        shelf = columns(
            page,
            ("", "Take from the shelf", "Amount", "For"),
            [_on_shelf(material, uses, names) for material, uses in on_shelf],
            (1, 9, 4, 9),
        )
        parts += [*section(page, "From the shelf", shelf), shelf]
        for client, by, preparation in made:
            parts += _remedy(page, client, by, preparation, names)
        return parts

    return plain_sheet(TITLE, story, card=card, paper=paper)


def _on_shelf(
    material: Material,
    uses: Sequence[tuple[Preparation, ToMeasure]],
    names: Mapping[str, str],
) -> tuple[str | Flowable, ...]:
    whole = sum((measured.amount for _, measured in uses), Fraction(0))
    remedies = ", ".join(dict.fromkeys(preparation.remedy.name for preparation, _ in uses))
    return Box(), material_words(material, names), _amount(whole, material.unit), remedies


def _remedy(
    page: Page, client: str, by: date, preparation: Preparation, names: Mapping[str, str]
) -> list[Flowable]:
    lines = columns(
        page,
        ("", "Weigh or measure", "Amount", "From"),
        [_measured(measured, names) for measured in preparation.to_measure],
        (1, 9, 4, 9),
    )
    amount = quantity_words(preparation.amount)
    heading = text(f"{preparation.remedy.name}, {amount}", "section")
    by_hand = ruled(
        page,
        [("Batch number", ()), ("Use by", ()), ("Made by", ()), ("Checked by", ())],
    )
    told = text(f"For {client}, needed by {plain_date(by)}", "quiet")
    return [Spacer(0, 10), *under(page, heading, lines)[:2], told, lines, by_hand]


def _measured(measured: ToMeasure, names: Mapping[str, str]) -> tuple[str | Flowable, ...]:
    unit = measured.material.unit
    taken = [
        f"{_amount(amount, unit)} of {delivery.supplier} {delivery.batch}"
        for delivery, amount in measured.draw.amounts
    ]
    if measured.draw.missing:
        taken.append(f"{_amount(measured.draw.missing, unit)} not in stock")
    what = material_words(measured.material, names)
    return Box(), what, _amount(measured.amount, unit), "; ".join(taken)


def _amount(amount: Fraction, unit: Unit) -> str:
    return f"{rounded(amount, 2)} {unit}"


class Box(Flowable):
    """A box to tick, which says nothing to a screen reader."""

    def wrap(self, _availWidth: float, _availHeight: float) -> tuple[float, float]:
        """As high as a line of small print."""
        self.width, self.height = SIDE, SIDE + 3
        return self.width, self.height

    def draw(self) -> None:
        """Draw it."""
        with decoration(self.canv):
            self.canv.setStrokeColor(INK_COLOUR)
            self.canv.setLineWidth(2 * HAIRLINE)
            self.canv.rect(0, 0, SIDE, SIDE)
