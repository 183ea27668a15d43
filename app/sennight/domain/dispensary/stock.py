"""Stock: what came from whom, by the supplier's batch, and everything that moved since.

What is held is never stored; it is the sum of the movements. So nothing is lost or doubled, and
every amount can be followed back to a delivery. A correction needs its reason.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from fractions import Fraction
from typing import assert_never

from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Composition, Filling
from sennight.domain.remedies.forms import composition_of
from sennight.domain.remedies.remedies import Ingredient, Remedy

EXPIRING_WITHIN = timedelta(weeks=8)
"""How long before its best-before date a delivery is told of (common practice)."""


class Held(StrEnum):
    """As what a material is held."""

    DRIED = "dried"
    POWDER = "powder"
    EXTRACT = "extract"
    LIQUID = "liquid"
    OTHER = "other"
    """A base, an oil, empty capsules, a bought-in product, under a name of the practice's own."""


@dataclass(frozen=True, slots=True)
class Material:
    """Something that is stocked: a herb in one form, or another material by its own name.

    `name` is the herb's id, or the name of another material. `ratio` and `ethanol` are those of
    an ingredient: mL of liquid to 1 g of dried herb and % v/v, or g of extract to 1 g of herb.
    """

    name: str
    held: Held
    unit: Unit
    ratio: Fraction | None = None
    ethanol: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Delivery:
    """One supplier's batch of a material.

    `batch` is the supplier's number, `cost` what all of it cost, in the practice's currency;
    `made_as` the practice's own batch, where the material was prepared here.
    """

    id: str
    material: Material
    supplier: str
    batch: str
    best_before: date | None = None
    cost: Fraction | None = None
    made_as: str | None = None

    def is_out_of_date(self, today: date) -> bool:
        """Whether its best-before date has passed."""
        return self.best_before is not None and self.best_before < today


class MovementKind(StrEnum):
    """Why stock rose or fell."""

    RECEIVED = "received"
    USED = "used"
    """Went into a batch."""
    CORRECTED = "corrected"
    COUNTED = "counted"
    """The difference that a stocktake found."""
    DISCARDED = "discarded"


@dataclass(frozen=True, slots=True)
class Movement:
    """A rise (above 0) or fall of a delivery's stock, in its material's unit.

    `batch` is the practice's batch that it went into.
    """

    delivery: str
    day: date
    kind: MovementKind
    amount: Fraction
    reason: str = ""
    batch: str | None = None


class StockError(ValueError):
    """A movement that cannot be kept; the message says why and what was expected."""


def check_movement(movement: Movement) -> None:
    """Refuse a movement that says what cannot be; raises StockError."""
    match movement.kind:
        case MovementKind.RECEIVED:
            if movement.amount <= 0:
                raise StockError("nothing was received; expected an amount above 0")
        case MovementKind.USED:
            if movement.amount >= 0 or movement.batch is None:
                raise StockError("what is used goes into a batch; expected its number")
        case MovementKind.DISCARDED:
            if movement.amount >= 0:
                raise StockError("nothing was thrown away; expected an amount above 0")
            _needs_reason(movement)
        case MovementKind.CORRECTED:
            _needs_reason(movement)
        case MovementKind.COUNTED:
            return
        case _:
            assert_never(movement.kind)


def _needs_reason(movement: Movement) -> None:
    if not movement.reason.strip():
        raise StockError("no reason is given for the change; expected a few words")


def held(movements: Iterable[Movement]) -> Mapping[str, Fraction]:
    """How much of each delivery is held, by its id; below 0 where more went out than came in."""
    sums: dict[str, Fraction] = defaultdict(Fraction)
    for movement in movements:
        sums[movement.delivery] += movement.amount
    return sums


def shelved(
    deliveries: Iterable[Delivery], movements: Iterable[Movement]
) -> Mapping[str, Fraction]:
    """How much of each of the practice's own batches was put on the shelf, by the batch's id."""
    made_as = {delivery.id: delivery.made_as for delivery in deliveries if delivery.made_as}
    sums: dict[str, Fraction] = defaultdict(Fraction)
    for movement in movements:
        if movement.kind is MovementKind.RECEIVED and movement.delivery in made_as:
            sums[made_as[movement.delivery]] += movement.amount
    return sums


def material_made(remedy: Remedy) -> Material | None:
    """What a remedy of one herb is on the shelf; None for a mixture, which has to be named."""
    if len(remedy.ingredients) != 1 or composition_of(remedy.form) not in _MADE_PLAIN:
        return None
    return material_of(remedy, remedy.ingredients[0])


_MADE_PLAIN = (Composition.BY_WEIGHT, Composition.BY_VOLUME)


def counted(delivery: Delivery, day: date, found: Fraction, on_record: Fraction) -> Movement:
    """A stocktake: the movement that brings what is on record to what was found on the shelf."""
    if found < 0:
        raise StockError("stock cannot be below 0; expected 0 or more")
    return Movement(delivery.id, day, MovementKind.COUNTED, found - on_record)


def expiring(
    deliveries: Iterable[Delivery], stock: Mapping[str, Fraction], today: date
) -> tuple[Delivery, ...]:
    """Deliveries of which something is held that are out of date or soon will be, first first."""
    soon = today + EXPIRING_WITHIN
    dated = [
        (delivery.best_before, delivery.id, delivery)
        for delivery in deliveries
        if delivery.best_before is not None
        and delivery.best_before <= soon
        and stock.get(delivery.id, Fraction(0)) > 0
    ]
    return tuple(delivery for _, _, delivery in sorted(dated, key=lambda row: row[:2]))


_HELD = {
    Filling.POWDER: Held.POWDER,
    Filling.EXTRACT: Held.EXTRACT,
    Filling.TINCTURE: Held.LIQUID,
    Filling.SUBSTANCE: Held.OTHER,
    Filling.INFUSED_OIL: Held.OTHER,
    Filling.ESSENTIAL_OIL: Held.OTHER,
}


def material_of(remedy: Remedy, ingredient: Ingredient) -> Material:
    """The material that an ingredient of a remedy is taken from."""
    match composition_of(remedy.form):
        case Composition.BY_WEIGHT:
            return Material(ingredient.herb, Held.DRIED, Unit.G)
        case Composition.BY_VOLUME:
            return Material(
                ingredient.herb, Held.LIQUID, Unit.ML, ingredient.ratio, ingredient.ethanol
            )
        case Composition.BY_PIECE | Composition.IN_BASE:
            held = _HELD[ingredient.filling or Filling.POWDER]
            return Material(ingredient.herb, held, Unit.G, ingredient.ratio)
        case _:
            assert_never(remedy.form)


# First expired, first out


@dataclass(frozen=True, slots=True)
class Draw:
    """What is taken from which deliveries for an amount; `missing` is what none of them has."""

    amounts: tuple[tuple[Delivery, Fraction], ...]
    missing: Fraction


def draw(
    material: Material,
    amount: Fraction,
    deliveries: Sequence[Delivery],
    stock: Mapping[str, Fraction],
    today: date,
) -> Draw:
    """An amount of a material from what is held, what expires first being used first.

    Deliveries without a date come last, in the order in which they are listed; what is out of
    date is never drawn.
    """
    usable = [d for d in deliveries if d.material == material and not d.is_out_of_date(today)]
    amounts = []
    for delivery in sorted(usable, key=lambda d: d.best_before or date.max):
        part = min(amount, stock.get(delivery.id, Fraction(0)))
        if part > 0:
            amounts.append((delivery, part))
            amount -= part
    return Draw(tuple(amounts), amount)
