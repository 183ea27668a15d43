"""How long what a client has at home lasts, and by when to order more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.returned import Returned
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.flare_plans import supplies_again, supplies_if_flare
from sennight.domain.supply.needs import (
    Bottle,
    DailyNeed,
    daily_needs,
    last_day_needed,
    lasts_until,
)
from sennight.domain.supply.settings import USUAL_SUPPLY, SupplySettings


@dataclass(frozen=True, slots=True)
class Lasting:
    """How long a remedy lasts that was handed over.

    `last_day` is the last day whose doses are covered, None where not one is. `order_by` is the
    day to order more, None where what is there is enough to the course's end. `plan` is the
    flare-up plan that it is kept for, where a flare has used up what was there for the next.
    """

    bottle: Bottle
    last_day: date | None
    order_by: date | None
    plan: str = ""


@dataclass(frozen=True, slots=True)
class Kept:
    """What is at home of a remedy that a flare-up plan asks for.

    `supply` is what one flare-up needs; its `order_by` is the last day of the last one.
    `at_home` is None where nothing was ever handed over.
    """

    supply: PhaseSupply
    at_home: Fraction | None

    @property
    def missing(self) -> Fraction:
        """What is not at home of what one flare-up needs; 0 or more."""
        return max(Fraction(0), self.supply.amount - (self.at_home or Fraction(0)))


def lasting(
    layout: Layout,
    handed: Iterable[HandedOver],
    returned: Iterable[Returned] = (),
    settings: SupplySettings = USUAL_SUPPLY,
) -> tuple[Lasting, ...]:
    """How long all that was handed over for a course lasts, remedy by remedy.

    It is used from the day on which it was handed over, at the timed doses and the share of what
    may be taken as needed; while there was nothing, nothing was taken, and later bottles owe
    nothing for it. What was left when the client came holds from that day on. What is measured
    otherwise than the course takes it is left out.
    """
    daily = daily_needs(layout, settings.allowance)
    changes = _changes(daily, handed, returned)
    found = {
        bottle: _lasting(daily, bottle, *_on_hand(daily, bottle, rows), settings)
        for bottle, rows in _by_bottle(changes).items()
    }
    for kept in _kept_again(layout, daily, changes, settings):
        bottle = kept.supply.bottle
        if kept.missing and bottle in found and found[bottle].order_by is None:
            flare = kept.supply
            found[bottle] = Lasting(bottle, flare.order_by, flare.order_by, flare.phase)
    return tuple(found.values())


def kept_for_flares(
    layout: Layout,
    handed: Iterable[HandedOver],
    returned: Iterable[Returned],
    day: date,
    settings: SupplySettings = USUAL_SUPPLY,
) -> tuple[Kept, ...]:
    """What of each plan that may still be called is at home on a day."""
    daily = daily_needs(layout, settings.allowance)
    changes = _changes(daily, handed, returned)
    plans = *supplies_if_flare(layout, settings), *supplies_again(layout, settings)
    return tuple(Kept(supply, _at_home(daily, changes, supply, day)) for supply in plans)


@dataclass(frozen=True, slots=True)
class _Change:
    """What a bottle had added, or was counted to hold, on a day; a count comes first on its day.

    `bottle` is None where nothing is taken from it on that day or later.
    """

    day: date
    amount: Fraction
    remedy: str
    unit: Unit
    bottle: Bottle | None
    is_added: bool = False


def _changes(
    daily: Sequence[DailyNeed], handed: Iterable[HandedOver], returned: Iterable[Returned]
) -> tuple[_Change, ...]:
    added = [
        _Change(
            part.day,
            part.amount.amount,
            part.remedy,
            part.amount.unit,
            _bottle(daily, part.remedy, part.amount.unit, part.day),
            is_added=True,
        )
        for part in handed
    ]
    told = [_told(daily, count, added) for count in returned]
    return tuple(sorted((*added, *told), key=lambda change: (change.day, change.is_added)))


def _told(daily: Sequence[DailyNeed], count: Returned, added: Iterable[_Change]) -> _Change:
    """A count is of the bottle that was filled last before it."""
    unit = count.left.unit
    before = [
        change
        for change in added
        if (change.remedy, change.unit) == (count.remedy, unit) and change.day < count.day
    ]
    last = max(before, key=lambda change: change.day, default=None)
    bottle = last.bottle if last else _bottle(daily, count.remedy, unit, count.day)
    return _Change(count.day, count.at_home, count.remedy, unit, bottle)


def _by_bottle(changes: Iterable[_Change]) -> dict[Bottle, list[_Change]]:
    rows: dict[Bottle, list[_Change]] = {}
    for change in changes:
        if change.bottle is not None:
            rows.setdefault(change.bottle, []).append(change)
    return rows


def _on_hand(
    daily: Sequence[DailyNeed], bottle: Bottle, changes: Sequence[_Change]
) -> tuple[date, Fraction]:
    """The day of the latest change, and what is there then."""
    day, held = changes[0].day, Fraction(0)
    for change in changes:
        held = max(Fraction(0), held - _used(daily, bottle, day, change.day))
        day = change.day
        held = held + change.amount if change.is_added else change.amount
    return day, held


def _used(daily: Sequence[DailyNeed], bottle: Bottle, first: date, end: date) -> Fraction:
    """What is taken from a bottle from a day up to, not including, another."""
    return sum(
        (
            need.a_day * (need.days_taken(end) - need.days_taken(first))
            for need in daily
            if need.bottle == bottle
        ),
        Fraction(0),
    )


def _bottle(daily: Sequence[DailyNeed], remedy: str, unit: Unit, day: date) -> Bottle | None:
    """The bottle of a remedy that is taken from on a day or next."""
    return next(
        (
            need.bottle
            for need in daily
            if need.bottle.remedy == remedy
            and need.bottle.unit is unit
            and need.stretch.span.end > day
        ),
        None,
    )


def _lasting(
    daily: Sequence[DailyNeed],
    bottle: Bottle,
    first: date,
    amount: Fraction,
    settings: SupplySettings,
) -> Lasting:
    end = last_day_needed(daily, bottle)
    last = lasts_until(daily, bottle, first, amount)
    if last is None:
        is_over = end is not None and end < first
        return Lasting(bottle, end if is_over else None, None if is_over else first)
    order_by = None if last == end else last - timedelta(days=settings.order_days)
    return Lasting(bottle, last, order_by)


# Flare-ups


def taken_usually(layout: Layout, daily: Iterable[DailyNeed]) -> frozenset[Bottle]:
    """The bottles that something is taken from without a flare."""
    plans = {phase.id for phase in layout.course.protocol.phases if phase.is_rescue}
    return frozenset(need.bottle for need in daily if need.stretch.phase not in plans)


def _kept_again(
    layout: Layout,
    daily: Sequence[DailyNeed],
    changes: Sequence[_Change],
    settings: SupplySettings,
) -> Iterable[Kept]:
    """What flares have used that is taken in flares alone, when all that is known has happened."""
    usual = taken_usually(layout, daily)
    for supply in supplies_again(layout, settings):
        if supply.bottle not in usual:
            yield Kept(supply, _at_home(daily, changes, supply, layout.days.end))


def _at_home(
    daily: Sequence[DailyNeed], changes: Iterable[_Change], supply: PhaseSupply, day: date
) -> Fraction | None:
    """What is at home on a day of what a plan asks for; None where there never was anything."""
    bottle = supply.bottle
    own = [
        change
        for change in changes
        if (change.remedy, change.unit) == (bottle.remedy, bottle.unit) and change.day <= day
    ]
    if not own:
        return None
    last, held = _on_hand(daily, bottle, own)
    return max(Fraction(0), held - _used(daily, bottle, last, max(day, last)))
