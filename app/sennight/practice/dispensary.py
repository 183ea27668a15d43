"""The dispensary: what comes in, what is prepared from it, and where a delivery went."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from fractions import Fraction
from uuid import uuid4

from sennight.domain.dispensary.batches import (
    Batch,
    HandedOver,
    batch_number,
    left_of,
    usual_use_by,
)
from sennight.domain.dispensary.labels import quantity_words
from sennight.domain.dispensary.preparing import Preparation, prepare
from sennight.domain.dispensary.settings import DispensarySettings
from sennight.domain.dispensary.stock import (
    Delivery,
    Material,
    Movement,
    MovementKind,
    StockError,
    check_movement,
    counted,
    held,
    shelved,
)
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.quantities import Quantity
from sennight.practice.opening import OpenPractice
from sennight.store.unit import UnitOfWork

__all__ = [
    "DispensarySettings",
    "Made",
    "Received",
    "Shelf",
    "StockError",
    "Traced",
    "batch_left",
    "batches",
    "batches_left",
    "change_stock",
    "keep_settings",
    "make_batch",
    "plan_batch",
    "put_on_shelf",
    "recall",
    "recall_batch",
    "receive",
    "settings_of",
    "shelf",
    "take_stock",
]


@dataclass(frozen=True, slots=True)
class Received:
    """What comes in: so much of a material (above 0, in its unit), from whom, and its papers."""

    material: Material
    amount: Fraction
    supplier: str
    batch: str
    best_before: date | None = None
    cost: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """All deliveries and how much of each is held, by its id."""

    deliveries: tuple[Delivery, ...]
    stock: Mapping[str, Fraction]


@dataclass(frozen=True, slots=True)
class Made:
    """By whom and how a batch is made; without `use_by` the usual one holds."""

    maker: str
    use_by: date | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Traced:
    """Where a delivery went: the batches made with it, and who got anything of them."""

    batches: tuple[Batch, ...]
    handed: tuple[HandedOver, ...]


def receive(practice: OpenPractice, came: Received, *, day: date, now: datetime) -> Delivery:
    """Put a delivery on the shelf; raises StockError for an amount that is not above 0."""
    delivery = Delivery(
        uuid4().hex, came.material, came.supplier, came.batch, came.best_before, came.cost
    )
    arrived = Movement(delivery.id, day, MovementKind.RECEIVED, came.amount)
    check_movement(arrived)
    with practice.file.writing() as unit:
        unit.dispensary.receive(delivery, recorded=now)
        unit.dispensary.move((arrived,), recorded=now)
    return delivery


def put_on_shelf(
    practice: OpenPractice, batch_id: str, came: Received, *, day: date, now: datetime
) -> Delivery:
    """Put so much of a batch made here on the shelf, to be drawn from; raises StockError.

    A recall follows it into what is made of it. It keeps no longer than its batch.
    """
    delivery = Delivery(
        uuid4().hex,
        came.material,
        came.supplier,
        came.batch,
        came.best_before,
        came.cost,
        made_as=batch_id,
    )
    arrived = Movement(delivery.id, day, MovementKind.RECEIVED, came.amount)
    check_movement(arrived)
    with practice.file.writing() as unit:
        batch = unit.dispensary.batch(batch_id)
        _require_of_batch(batch, batch_left(unit, batch), came, day)
        unit.dispensary.receive(delivery, recorded=now)
        unit.dispensary.move((arrived,), recorded=now)
    return delivery


def _require_of_batch(batch: Batch, left: Fraction, came: Received, day: date) -> None:
    if batch.use_by < day:
        raise StockError(
            f"batch {batch.number} was to be used by {batch.use_by}; expected one in date"
        )
    if came.best_before is None or came.best_before > batch.use_by:
        raise StockError(f"it keeps no longer than its batch; expected {batch.use_by} or earlier")
    if came.material.unit is not batch.amount.unit or came.amount > left:
        words = quantity_words(Quantity(left, batch.amount.unit))
        raise StockError(f"{words} are left of batch {batch.number}; expected no more")


def _shelved(unit: UnitOfWork) -> Mapping[str, Fraction]:
    return shelved(unit.dispensary.deliveries(), unit.dispensary.movements())


def change_stock(practice: OpenPractice, movement: Movement, *, now: datetime) -> None:
    """Correct or throw away, with a reason; raises StockError.

    More than is held cannot be thrown away: what is on record is corrected first.
    """
    check_movement(movement)
    with practice.file.writing() as unit:
        on_record = held(unit.dispensary.movements(movement.delivery))[movement.delivery]
        if on_record + movement.amount < 0:
            raise StockError(
                "this is more than is held; expected at most what is held, or a stocktake first"
            )
        unit.dispensary.move((movement,), recorded=now)


def take_stock(
    practice: OpenPractice, found: Mapping[str, Fraction], *, day: date, now: datetime
) -> tuple[Movement, ...]:
    """A stocktake: what was found of each delivery, by its id. Gives the differences it made."""
    with practice.file.writing() as unit:
        shelved = _shelf(unit)
        differences = tuple(
            counted(delivery, day, found[delivery.id], shelved.stock[delivery.id])
            for delivery in shelved.deliveries
            if delivery.id in found
        )
        unit.dispensary.move(differences, recorded=now)
    return tuple(movement for movement in differences if movement.amount)


def settings_of(practice: OpenPractice) -> DispensarySettings:
    """How the practice reckons supply and rounds what is weighed and measured."""
    with practice.file.reading() as unit:
        return unit.pricing.settings()


def keep_settings(practice: OpenPractice, settings: DispensarySettings, *, now: datetime) -> None:
    """Reckon so from now on; what courses bring to Bench is read anew while it is in view."""
    with practice.file.writing() as unit:
        if settings != unit.pricing.settings():
            unit.pricing.keep_settings(settings, recorded=now)
            unit.standings.read_supply_anew()


def shelf(practice: OpenPractice) -> Shelf:
    """What is on the shelf."""
    with practice.file.reading() as unit:
        return _shelf(unit)


def _shelf(unit: UnitOfWork) -> Shelf:
    return Shelf(unit.dispensary.deliveries(), held(unit.dispensary.movements()))


def plan_batch(
    practice: OpenPractice,
    remedy: Remedy,
    amount: Quantity,
    *,
    today: date,
) -> Preparation:
    """What to weigh and measure for an amount; raises CalculationError as `prepare`."""
    with practice.file.reading() as unit:
        shelved, rounding = _shelf(unit), unit.pricing.settings().rounding
    return prepare(remedy, amount, shelved.deliveries, shelved.stock, today, rounding)


def make_batch(
    practice: OpenPractice,
    remedy: Remedy,
    amount: Quantity,
    made: Made,
    *,
    today: date,
    now: datetime,
) -> Batch:
    """Keep a batch, and take what it needed off the shelf, in one transaction.

    What no delivery has is kept as a part without one, so that nothing falls below zero unsaid.
    Raises CalculationError as `prepare`.
    """
    with practice.file.writing() as unit:
        shelved = _shelf(unit)
        rounding = unit.pricing.settings().rounding
        planned = prepare(remedy, amount, shelved.deliveries, shelved.stock, today, rounding)
        batch = _batch(
            planned, made, today, batch_number(today, unit.dispensary.batches_on(today))
        )
        unit.dispensary.make(batch, recorded=now)
        unit.dispensary.move(planned.movements(batch.id, today), recorded=now)
    return batch


def _batch(planned: Preparation, made: Made, today: date, number: str) -> Batch:
    drawn = (delivery for part in planned.to_measure for delivery, _ in part.draw.amounts)
    usual = usual_use_by(planned.remedy, today, (delivery.best_before for delivery in drawn))
    batch = Batch(
        uuid4().hex,
        number,
        planned.remedy,
        planned.amount,
        today,
        made.maker,
        usual,
        planned.parts,
    )
    return replace(batch, use_by=made.use_by or usual, note=made.note)


def batches(practice: OpenPractice) -> tuple[Batch, ...]:
    """All batches, the newest first."""
    with practice.file.reading() as unit:
        return unit.dispensary.batches()


def batches_left(practice: OpenPractice) -> tuple[tuple[Batch, Fraction], ...]:
    """All batches, the newest first, each with how much of it is still there.

    What was handed over and what was put on the shelf as a material is gone.
    """
    with practice.file.reading() as unit:
        return _left(unit, unit.dispensary.batches(), unit.dispensary.all_handed())


def left_among(unit: UnitOfWork, made: Iterable[Batch]) -> tuple[tuple[Batch, Fraction], ...]:
    """The same for some batches, as a part of what is read."""
    batches = tuple(made)
    return _left(unit, batches, unit.dispensary.handed_from([batch.id for batch in batches]))


def _left(
    unit: UnitOfWork, made: Iterable[Batch], parts: Iterable[HandedOver]
) -> tuple[tuple[Batch, Fraction], ...]:
    handed: dict[str, list[HandedOver]] = {}
    for part in parts:
        handed.setdefault(part.batch, []).append(part)
    on_shelf = _shelved(unit)
    return tuple((batch, left_of(batch, handed.get(batch.id, ()), on_shelf)) for batch in made)


def batch_left(unit: UnitOfWork, batch: Batch) -> Fraction:
    """How much of a batch is neither handed over nor on the shelf, in its unit."""
    return left_of(batch, unit.dispensary.handed_from((batch.id,)), _shelved(unit))


def recall_batch(practice: OpenPractice, batch_id: str) -> Traced:
    """Everyone who got any of a batch; also of what was made with it from the shelf."""
    with practice.file.reading() as unit:
        deliveries = unit.dispensary.deliveries()
        shelved = [delivery.id for delivery in deliveries if delivery.made_as == batch_id]
        within = [name for made in shelved for name in unit.dispensary.batches_with(made)]
        ids = tuple(dict.fromkeys((batch_id, *within)))
        return Traced(unit.dispensary.batches_of(ids), unit.dispensary.handed_from(ids))


def recall(practice: OpenPractice, delivery_id: str) -> Traced:
    """Everything that was made with a delivery, and everyone who got any of it."""
    with practice.file.reading() as unit:
        ids = unit.dispensary.batches_with(delivery_id)
        return Traced(unit.dispensary.batches_of(ids), unit.dispensary.handed_from(ids))
