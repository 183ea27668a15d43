"""What remedies cost and what is asked for them: rules, a price list, receipts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path

from sennight.domain.amounts import rounded
from sennight.domain.courses.courses import Course
from sennight.domain.dispensary.batches import Batch
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.preparing import unit_of
from sennight.domain.dispensary.pricing import (
    Price,
    PriceRule,
    Prices,
    batch_cost,
    material_costs,
    price_of,
    remedy_cost,
    unit_costs,
)
from sennight.domain.dispensary.stock import Material
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import SupplySettings
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import list_remedies
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths
from sennight.store.unit import UnitOfWork

__all__ = [
    "Costed",
    "Costing",
    "Price",
    "PriceRule",
    "Priced",
    "Prices",
    "cost_of_batch",
    "costing_of",
    "keep_prices",
    "price_list",
    "prices_of",
    "receipt",
    "write_price_list",
]

LIST_HEADS = ("remedy", "form", "container", "cost", "price", "Tax included")


@dataclass(frozen=True, slots=True)
class Priced:
    """A remedy of the shelf in its usual container; without a cost no price is told."""

    remedy: Remedy
    container: Quantity
    cost: Fraction | None
    price: Price | None


def prices_of(practice: OpenPractice) -> Prices:
    """How the practice prices."""
    with practice.file.reading() as unit:
        return unit.pricing.prices()


def keep_prices(practice: OpenPractice, prices: Prices, *, now: datetime) -> None:
    """Price in this way from now on; what was given out keeps its receipt."""
    with practice.file.writing() as unit:
        unit.pricing.keep(prices, recorded=now)


def price_list(practice: OpenPractice) -> tuple[Priced, ...]:
    """Every remedy of the shelf in its usual container, by name."""
    with practice.file.reading() as unit:
        costs, prices = _costs(unit), unit.pricing.prices()
        supply = unit.pricing.settings().supply
    remedies = (entry.remedy for entry in list_remedies(practice))
    return tuple(_priced(remedy, costs, prices, supply) for remedy in remedies)


def _costs(unit: UnitOfWork) -> Mapping[Material, Fraction]:
    return material_costs(unit.dispensary.deliveries(), unit.dispensary.movements())


def _priced(
    remedy: Remedy, costs: Mapping[Material, Fraction], prices: Prices, supply: SupplySettings
) -> Priced:
    unit = unit_of(remedy.form)
    container = Quantity(supply.container_of(remedy, unit) or Fraction(1), unit)
    try:
        cost = remedy_cost(remedy, container.amount, costs)
    except CalculationError:
        cost = None
    price = None if cost is None else price_of(cost, 1, prices.rule_of(remedy))
    return Priced(remedy, container, cost, price)


def cost_of_batch(practice: OpenPractice, batch: Batch, amount: Fraction) -> Fraction | None:
    """What so much of a batch cost; None where the cost of one of its parts is not known."""
    with practice.file.reading() as unit:
        costs = unit_costs(unit.dispensary.deliveries(), unit.dispensary.movements())
    cost = batch_cost(batch, costs) if batch.parts else None
    return None if cost is None else cost * amount / batch.amount.amount


@dataclass(frozen=True, slots=True)
class Costing:
    """What materials cost last, and how the practice prices, read once for many courses."""

    costs: Mapping[Material, Fraction]
    prices: Prices
    supply: SupplySettings

    def of_course(self, course: Course, supplies: Iterable[PhaseSupply]) -> Costed | None:
        """What the containers to add for a course cost; None where one is not known."""
        parts = [self._of_phase(course, supply) for supply in supplies if supply.containers != 0]
        known = [part for part in parts if part is not None]
        if not known or len(known) < len(parts):
            return None
        return Costed(
            sum((part.cost for part in known), Fraction(0)),
            sum((part.price for part in known), Fraction(0)),
        )

    def of_phases(
        self, course: Course, supplies: Iterable[PhaseSupply]
    ) -> tuple[tuple[str, Costed], ...]:
        """The same for each phase in order, its id first; those with an unknown cost are not."""
        rows = tuple(supplies)
        costed = (
            (phase, self.of_course(course, (row for row in rows if row.phase == phase)))
            for phase in dict.fromkeys(row.phase for row in rows)
        )
        return tuple((phase, cost) for phase, cost in costed if cost is not None)

    def _of_phase(self, course: Course, supply: PhaseSupply) -> Costed | None:
        size = self.supply.size_of(supply.bottle)
        if size is None or supply.containers is None:
            return None
        remedy = course.remedy(supply.bottle.formula)
        try:
            cost = remedy_cost(remedy, size * supply.containers, self.costs)
        except CalculationError:
            return None
        if cost is None:
            return None
        price = price_of(cost, supply.containers, self.prices.rule_of(remedy))
        return Costed(cost, price.total)


@dataclass(frozen=True, slots=True)
class Costed:
    """What something costs the practice, and what is asked for it with tax."""

    cost: Fraction
    price: Fraction


def costing_of(practice: OpenPractice) -> Costing:
    """What materials cost last, and how the practice prices."""
    with practice.file.reading() as unit:
        return Costing(_costs(unit), unit.pricing.prices(), unit.pricing.settings().supply)


def write_price_list(practice: OpenPractice, path: Path) -> Path:
    """Write the price list as CSV; raises FolderError."""
    from sennight.publish.csv.courses import csv_bytes

    rows = (
        (
            priced.remedy.name,
            priced.remedy.form,
            quantity_words(priced.container),
            None if priced.cost is None else rounded(priced.cost, 2),
            None if priced.price is None else rounded(priced.price.total, 2),
            None if priced.price is None else rounded(priced.price.tax, 2),
        )
        for priced in price_list(practice)
    )
    (written,) = write_paths({path: csv_bytes(LIST_HEADS, rows)}, plans=work_folder(practice.path))
    return written


def receipt(practice: OpenPractice, client_id: str, day: date, *, paper: str = "A4") -> bytes:
    """What a client got on a day, with what is asked for it; raises MissingRecordError.

    What has a part whose cost is not known has no price: it is filled in by hand.
    """
    from sennight.publish.pdf.receipt import Item, receipt_pdf

    with practice.file.reading() as unit:
        client = unit.clients.get(client_id).client
        costs = unit_costs(unit.dispensary.deliveries(), unit.dispensary.movements())
        prices, card = unit.pricing.prices(), unit.card.get()
        that_day = [part for part in unit.dispensary.handed_to(client_id) if part.day == day]
        batches = unit.dispensary.batches_by_id(part.batch for part in that_day)
        items = []
        for handed in that_day:
            batch = batches[handed.batch]
            cost = batch_cost(batch, costs)
            price = None
            if cost is not None:
                share = cost * handed.amount.amount / batch.amount.amount
                price = price_of(share, handed.containers, prices.rule_of(batch.remedy))
            words = quantity_words(handed.amount)
            items.append(Item(batch.remedy.name, words, batch.number, price))
    return receipt_pdf(client.name, day, items, prices, card, paper=paper)
