"""What is to be prepared next for running courses, and what has to be ordered for it."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.dispensary.lasting import Kept, Lasting, taken_usually
from sennight.domain.dispensary.preparing import Preparation
from sennight.domain.dispensary.stock import Delivery, Material
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.supply.needs import Bottle, DailyNeed, daily_needs, phase_needs
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings

AHEAD = timedelta(days=7)
"""How far ahead is looked: what is due within a week is prepared now (common practice)."""
FOR_WEEKS = timedelta(weeks=4)
"""For how long is prepared at a time: four weeks (common practice), or to the course's end."""


@dataclass(frozen=True, slots=True)
class ToPrepare:
    """A remedy of a course that runs out, or begins, and how much of it is wanted.

    `by` is the day by which it is wanted; `until` the last day that the amount is for, None for
    what is kept at home for a flare-up, whose `plan` is said then. `containers` is None for what
    is not measured out.
    """

    course: str
    bottle: Bottle
    remedy: Remedy
    amount: Quantity
    containers: int | None
    by: date
    until: date | None
    plan: str = ""


def to_prepare(
    layout: Layout,
    lasts: Iterable[Lasting],
    today: date,
    *,
    kept: Iterable[Kept] = (),
    settings: SupplySettings = USUAL_SUPPLY,
) -> tuple[ToPrepare, ...]:
    """What a course wants within a week of today, each for four weeks, by the day.

    `lasts` says how long what was handed over lasts; what is enough to the course's end is wanted
    no more, and of what was never handed over the next day taken decides. `kept` says what is at
    home for flare-ups: it is wanted from the course's beginning on until there is enough for one,
    and again after a flare. Of what is taken on usual days too, `lasts` decides once some was
    handed over.
    """
    daily = daily_needs(layout, settings.allowance)
    usual = taken_usually(layout, daily)
    for_flares = _for_flares(layout, kept, usual, today, settings)
    known = {row.bottle: row for row in lasts}
    wanted = []
    for bottle in dict.fromkeys(need.bottle for need in daily):
        own = [need for need in daily if need.bottle == bottle]
        due = _due(own, known.get(bottle), today)
        if due is None or due[0] > today + AHEAD:
            continue
        by, since = due
        needs = phase_needs(own, Span(since, since + FOR_WEEKS))
        if not needs:
            continue
        amount = sum((need.amount for need in needs), Fraction(0))
        until = max(need.last for need in needs)
        size = settings.size_of(bottle)
        containers = None if size is None else ceil(amount / size)
        whole = Quantity(amount, bottle.unit)
        remedy = layout.course.remedy(bottle.formula)
        wanted.append(ToPrepare(layout.course.id, bottle, remedy, whole, containers, by, until))
    return tuple(sorted((*wanted, *for_flares), key=lambda row: (row.by, row.remedy.name)))


def _for_flares(
    layout: Layout,
    kept: Iterable[Kept],
    usual: Container[Bottle],
    today: date,
    settings: SupplySettings,
) -> Iterator[ToPrepare]:
    """What is not at home of what a flare-up asks for; `usual` bottles are taken daily too."""
    for row in kept:
        supply = row.supply
        by = supply.order_by or layout.days.first
        is_told_by_use = row.at_home is not None and supply.bottle in usual
        if not row.missing or (supply.order_by is None and is_told_by_use):
            continue
        if by <= today + AHEAD and today < layout.days.end:
            size = settings.size_of(supply.bottle)
            containers = None if size is None else ceil(row.missing / size)
            whole = Quantity(row.missing, supply.bottle.unit)
            remedy = layout.course.remedy(supply.bottle.formula)
            number = layout.course.id
            yield ToPrepare(
                number, supply.bottle, remedy, whole, containers, by, None, supply.phase
            )


def _due(
    daily: Sequence[DailyNeed], lasts: Lasting | None, today: date
) -> tuple[date, date] | None:
    """The day by which more is wanted, and the first day that it is for; None for no more."""
    if lasts is not None and lasts.order_by is None:
        return None
    if lasts is not None and lasts.last_day is not None:
        since = max(today, lasts.last_day + timedelta(days=1))
        by = lasts.order_by or since
        return by, since
    first = _next_day(daily, today)
    return None if first is None else (first, first)


def _next_day(daily: Sequence[DailyNeed], today: date) -> date | None:
    days = [
        need.day_taken(need.days_taken(today) + 1)
        for need in daily
        if need.a_day and need.days_taken(today) < need.days_taken(need.stretch.span.end)
    ]
    return min(days, default=None)


@dataclass(frozen=True, slots=True)
class Order:
    """A material to be ordered: what is wanted of it, what is held in date, what to order.

    `supplier` is where it came from last, empty where it never came. `minimum` is what the
    practice wants to have left, None where it does not say.
    """

    material: Material
    wanted: Fraction
    held: Fraction
    minimum: Fraction | None
    supplier: str

    @property
    def amount(self) -> Fraction:
        """How much is missing, so that the minimum is left when all is prepared; 0 or more."""
        return max(Fraction(0), self.wanted + (self.minimum or Fraction(0)) - self.held)


def orders(
    preparations: Iterable[Preparation],
    deliveries: Sequence[Delivery],
    stock: Mapping[str, Fraction],
    minimums: Mapping[Material, Fraction],
    today: date,
) -> tuple[Order, ...]:
    """What has to be ordered, by supplier and name; what is out of date counts as not held."""
    wanted: dict[Material, Fraction] = {}
    for preparation in preparations:
        for measured in preparation.to_measure:
            if measured.is_at_hand:
                continue
            before = wanted.get(measured.material, Fraction(0))
            wanted[measured.material] = before + measured.amount
    suppliers = {delivery.material: delivery.supplier for delivery in deliveries}
    found = [
        Order(
            material,
            wanted.get(material, Fraction(0)),
            _held(material, deliveries, stock, today),
            minimums.get(material),
            suppliers.get(material, ""),
        )
        for material in dict.fromkeys((*wanted, *minimums))
    ]
    missing = (order for order in found if order.amount)
    return tuple(sorted(missing, key=_by_supplier))


def _by_supplier(order: Order) -> tuple[bool, str, str]:
    """Those of no known supplier come last."""
    return not order.supplier, order.supplier.casefold(), order.material.name


def _held(
    material: Material,
    deliveries: Iterable[Delivery],
    stock: Mapping[str, Fraction],
    today: date,
) -> Fraction:
    usable = (
        max(Fraction(0), stock.get(delivery.id, Fraction(0)))
        for delivery in deliveries
        if delivery.material == material and not delivery.is_out_of_date(today)
    )
    return sum(usable, Fraction(0))
