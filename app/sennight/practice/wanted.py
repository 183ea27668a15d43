"""What is to be prepared for running courses, and what has to be ordered for it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from pathlib import Path

from sennight.domain.amounts import rounded
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.dispensary.batches import Batch, has_same_contents
from sennight.domain.dispensary.lasting import kept_for_flares, lasting
from sennight.domain.dispensary.preparing import (
    Preparation,
    in_order_of_the_shelf,
    prepare,
    whole_containers,
)
from sennight.domain.dispensary.stock import Material, held
from sennight.domain.dispensary.wanted import AHEAD, Order, ToPrepare, orders, to_prepare
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.matters import Matter
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import SupplySettings
from sennight.practice.dispensary import left_among
from sennight.practice.opening import DamagedCourseError, OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths
from sennight.store.unit import UnitOfWork

LOOK_BACK = timedelta(days=56)
"""How long what ran out is still shown: what is older was let go (project's decision)."""
_BEGUN = timedelta(days=7)
"""For so long after it began a course without anything handed over is shown."""
ORDER_HEADS = ("supplier", "material", "held as", "ratio", "ethanol", "amount", "unit")


@dataclass(frozen=True, slots=True)
class Wanted:
    """A remedy that a client is to have; `made` is a batch that waits to be handed over."""

    client: str
    what: ToPrepare
    client_id: str = ""
    made: Batch | None = None


def wanted(practice: OpenPractice, today: date) -> tuple[Wanted, ...]:
    """What runs out or begins within a week over all courses, by the day.

    Courses for which nothing was ever handed over are looked at in their first week alone, and
    where a flare-up has used what was kept for it. What was made and is enough for one waits to
    be handed over, for whoever wants it first.
    """
    with practice.file.reading() as unit:
        rows = sorted(_wanted(unit, today), key=_by_day)
        fit = [batch for batch in _in_date(unit, rows, today) if _is_wanted(batch, rows)]
        left = dict(left_among(unit, fit))
    return tuple(_made(row, left) for row in rows)


def _in_date(unit: UnitOfWork, rows: Sequence[Wanted], today: date) -> Iterable[Batch]:
    made = unit.dispensary.batches() if rows else ()
    return (batch for batch in made if batch.use_by >= today)


def _is_wanted(batch: Batch, rows: Iterable[Wanted]) -> bool:
    return any(has_same_contents(batch.remedy, row.what.remedy) for row in rows)


def _made(row: Wanted, left: dict[Batch, Fraction]) -> Wanted:
    """The row with the batch that is made for it, the first to be used up; that is gone then."""
    amount = row.what.amount
    fit = [
        batch
        for batch, there in left.items()
        if there >= amount.amount
        and batch.amount.unit is amount.unit
        and has_same_contents(batch.remedy, row.what.remedy)
    ]
    if not fit:
        return row
    batch = min(fit, key=lambda batch: batch.use_by)
    left[batch] -= amount.amount
    return replace(row, made=batch)


def _by_day(row: Wanted) -> tuple[date, str, str]:
    return row.what.by, row.client.casefold(), row.what.remedy.name


def _wanted(unit: UnitOfWork, today: date) -> Iterable[Wanted]:
    standings = unit.matters.standings(today)
    since, settings = today - LOOK_BACK, unit.pricing.settings().supply
    rows = [
        *unit.matters.coming(since, today + AHEAD, (Matter.ORDER, Matter.FLARE)),
        *unit.matters.coming(today - _BEGUN, today + AHEAD, (Matter.BEGIN,)),
    ]
    numbers = dict.fromkeys(row.course for row in rows if row.course in standings)
    for number in numbers:
        try:
            entry = unit.courses.get(standings[number].course_id)
            layout = lay_out(entry.course)
        except (DamagedCourseError, LayoutError, SameTimeError):
            continue
        for row in _of_course(unit, layout, today, settings):
            yield Wanted(entry.client_name, row, entry.client_id)


def _of_course(
    unit: UnitOfWork, layout: Layout, today: date, settings: SupplySettings
) -> tuple[ToPrepare, ...]:
    number = layout.course.id
    handed = unit.dispensary.handed_for(number)
    returned = unit.dispensary.returned_of(number)
    lasts = lasting(layout, handed, returned, settings)
    kept = kept_for_flares(layout, handed, returned, today, settings)
    return to_prepare(layout, lasts, today, kept=kept, settings=settings)


def planned(
    practice: OpenPractice, rows: Iterable[Wanted], today: date
) -> tuple[tuple[Wanted, Preparation], ...]:
    """What to weigh and measure for each, in whole containers, from what is in stock.

    What one takes is gone for the next. What is made already is left out, and remedies whose
    formula does not say its parts.
    """
    with practice.file.reading() as unit:
        deliveries = unit.dispensary.deliveries()
        left = dict(held(unit.dispensary.movements()))
        settings = unit.pricing.settings()
    found = []
    for row in rows:
        if row.made is not None:
            continue
        try:
            made = prepare(
                row.what.remedy,
                filled(row.what, settings.supply),
                deliveries,
                left,
                today,
                settings.rounding,
            )
        except CalculationError:
            continue
        for measured in made.to_measure:
            for delivery, amount in measured.draw.amounts:
                left[delivery.id] -= amount
        found.append((row, made))
    return tuple(found)


def filled(what: ToPrepare, settings: SupplySettings) -> Quantity:
    """The amount that fills whole containers."""
    size = settings.size_of(what.bottle)
    if size is None:
        return what.amount
    return Quantity(whole_containers(what.amount.amount, size)[1], what.amount.unit)


def order_list(practice: OpenPractice, today: date, rows: Iterable[Wanted]) -> tuple[Order, ...]:
    """What is missing for what is `wanted`, and for what is to be left, by supplier."""
    made = [preparation for _, preparation in planned(practice, rows, today)]
    with practice.file.reading() as unit:
        return orders(
            made,
            unit.dispensary.deliveries(),
            held(unit.dispensary.movements()),
            unit.pricing.minimums(),
            today,
        )


def minimums(practice: OpenPractice) -> Mapping[Material, Fraction]:
    """How much of each material the practice wants to have left."""
    with practice.file.reading() as unit:
        return unit.pricing.minimums()


def keep_minimum(
    practice: OpenPractice, material: Material, amount: Fraction, *, now: datetime
) -> None:
    """Say how much of a material is to be left; 0 takes it back."""
    with practice.file.writing() as unit:
        unit.pricing.keep_minimum(material, amount, recorded=now)


def write_orders(practice: OpenPractice, rows: Iterable[Order], path: Path) -> Path:
    """Write an order list as CSV, by supplier; raises FolderError."""
    from sennight.publish.csv.courses import csv_bytes

    names = known_herbs(practice).names
    content = csv_bytes(ORDER_HEADS, (_order_row(order, names) for order in rows))
    (written,) = write_paths({path: content}, plans=work_folder(practice.path))
    return written


def order_sheet(
    practice: OpenPractice, rows: Sequence[Order], today: date, *, paper: str = "A4"
) -> bytes:
    """The order list to print, a table for each supplier."""
    from sennight.publish.pdf.order_sheet import order_sheet_pdf

    with practice.file.reading() as unit:
        card = unit.card.get()
    names = known_herbs(practice).names
    return order_sheet_pdf(rows, names, card, today=today, paper=paper)


def _order_row(order: Order, names: Mapping[str, str]) -> tuple[object, ...]:
    material = order.material
    return (
        order.supplier,
        names.get(material.name, material.name),
        material.held,
        None if material.ratio is None else f"1:{rounded(material.ratio, 2)}",
        None if material.ethanol is None else rounded(material.ethanol, 1),
        rounded(order.amount, 2),
        material.unit,
    )


def worksheet(
    practice: OpenPractice, rows: Iterable[Wanted], today: date, *, paper: str = "A4"
) -> bytes:
    """A sheet to weigh and measure by: the shelf first, then each remedy, with lines to sign."""
    from sennight.publish.pdf.worksheet import worksheet_pdf

    made = planned(practice, rows, today)
    with practice.file.reading() as unit:
        card = unit.card.get()
    return worksheet_pdf(
        [(row.client, row.what.by, preparation) for row, preparation in made],
        in_order_of_the_shelf(preparation for _, preparation in made),
        known_herbs(practice).names,
        card,
        today=today,
        paper=paper,
    )
