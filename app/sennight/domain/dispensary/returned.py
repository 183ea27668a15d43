"""What was left at home when the client came, and how much of what was due has left the bottle.

The estimate is that of a count of what is left: taken = last count + what was handed over since −
what was lost − what is left now; by what should have been taken (pill count, table 1 of a review
of ways to measure adherence, NIHMS293825, PubMed Central; for liquids the same by volume). What
left the bottle is not what was taken: it is told with its bounds, beside the diary.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import ONE_DAY
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.follow_up.adherence import DayTaken
from sennight.domain.remedies.contents import Unknown
from sennight.domain.supply.as_needed import needed_doses
from sennight.domain.supply.needs import USUAL, Allowance, Bottle, DailyNeed
from sennight.domain.supply.quantities import Quantity, dispensed

BY_EYE = Fraction(5)
"""mL or g: how far a level or a weight told at home may be off (common practice)."""


@dataclass(frozen=True, slots=True)
class Returned:
    """What was left of a remedy of a course on the day on which the client came.

    `within` is by how much `left` may be off, 0 for what was counted; `lost` what was spilt,
    broken or given away since the last time. Where it is not `is_kept` it was handed back, and
    nothing of it is at home any more. All in the unit of `left`, from 0.
    """

    course: str
    remedy: str
    day: date
    left: Quantity
    within: Fraction = Fraction(0)
    lost: Fraction = Fraction(0)
    is_kept: bool = True
    note: str = ""

    @property
    def at_home(self) -> Fraction:
        """What the client goes on with."""
        return self.left.amount if self.is_kept else Fraction(0)


@dataclass(frozen=True, slots=True)
class Usage:
    """What left a remedy's containers from `since` until a count, beside what was due.

    `there` is what was at home before: the last count and what was handed over since. `due` is
    what the timed doses ask for, at their least and at their most; `as_needed` what may have been
    taken beside them.
    """

    returned: Returned
    since: date
    there: Fraction
    due: tuple[Fraction, Fraction]
    as_needed: Fraction
    bounds: tuple[Fraction, Fraction] | None

    @property
    def gone(self) -> Fraction:
        """What is neither left nor lost; below 0 where more is left than was there on record."""
        return self.there - self.returned.lost - self.returned.left.amount

    @property
    def proportion(self) -> Fraction | None:
        """Gone of due; None where nothing was due, or no one figure was."""
        least, most = self.due
        if not least or least != most or self.as_needed or self.gone < 0:
            return None
        return self.gone / least


def usages(
    layout: Layout,
    handed: Iterable[HandedOver],
    returned: Iterable[Returned],
    allowance: Allowance = USUAL,
) -> tuple[Usage, ...]:
    """What each count says, in the order of the days; those of what was never handed over not.

    The bounds hold the amount's own uncertainty, spillage, whether the doses of the first and the
    last day came out of the bottle, and what may have been taken as needed.
    """
    rows = tuple(handed)
    counts = sorted(returned, key=lambda count: count.day)
    before: dict[str, Returned] = {}
    found = []
    for count in counts:
        usage = _usage(layout, rows, count, before.get(count.remedy), allowance)
        if usage is not None:
            found.append(usage)
        before[count.remedy] = count
    return tuple(found)


def _usage(
    layout: Layout,
    handed: Sequence[HandedOver],
    count: Returned,
    last: Returned | None,
    allowance: Allowance,
) -> Usage | None:
    """What one count says; `last` is the one before it of the same remedy."""
    if last is not None and last.left.unit is not count.left.unit:
        last = None
    parts = [
        part
        for part in handed
        if part.remedy == count.remedy
        and part.amount.unit is count.left.unit
        and part.day < count.day
        and (last is None or part.day >= last.day)
    ]
    kept = last.at_home if last is not None else Fraction(0)
    if not parts and not kept:
        return None
    since = last.day if last is not None and kept else min(part.day for part in parts)
    there = kept + sum((part.amount.amount for part in parts), Fraction(0))
    asked = tuple(_asked(layout, count))
    exact = _due(asked, since, count.day)
    usage = Usage(count, since, there, exact[:2], exact[2], None)
    return _bounded(usage, asked, allowance)


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a stretch asks for on each of its days: least and most timed, and as needed."""

    need: DailyNeed
    least: Fraction
    most: Fraction
    as_needed: Fraction


def _asked(layout: Layout, count: Returned) -> Iterator[_Asked]:
    for needed in needed_doses(layout):
        stretch = needed.stretch
        if stretch.remedy != count.remedy:
            continue
        remedy, directions = layout.course.remedy(stretch.formula), stretch.directions
        least = dispensed(remedy, directions.amount, directions.unit)
        most = dispensed(remedy, directions.largest, directions.unit)
        if isinstance(least, Unknown) or isinstance(most, Unknown):
            continue
        if least.unit is count.left.unit:
            bottle = Bottle(stretch.remedy, stretch.formula, least.unit)
            times = len(stretch.times)
            yield _Asked(
                DailyNeed(stretch, bottle, most.amount),
                least.amount * times,
                most.amount * times,
                most.amount * needed.most,
            )


def _due(asked: Iterable[_Asked], first: date, end: date) -> tuple[Fraction, Fraction, Fraction]:
    """Least and most of the timed doses, and what may be taken beside them, before `end`."""
    least = most = as_needed = Fraction(0)
    for part in asked:
        days = max(0, part.need.days_taken(end) - part.need.days_taken(first))
        least += days * part.least
        most += days * part.most
        as_needed += days * part.as_needed
    return least, most, as_needed


def _bounded(usage: Usage, asked: Sequence[_Asked], allowance: Allowance) -> Usage:
    """The same with the least and the most share of the timed doses that it may stand for."""
    count = usage.returned
    _, most, as_needed = _due(asked, usage.since, count.day + ONE_DAY)
    least, _, _ = _due(asked, usage.since + ONE_DAY, count.day)
    if not most or not least or usage.gone < 0:
        return usage
    few = (usage.gone - count.within) / (1 + allowance.spillage) - as_needed
    many = usage.gone + count.within
    bounds = max(Fraction(0), few) / most, many / least
    return Usage(count, usage.since, usage.there, usage.due, usage.as_needed, bounds)


def by_the_diary(usage: Usage, days: Iterable[DayTaken]) -> Fraction | None:
    """What the diary says of the same remedy on the same days: taken of due; None without any."""
    count = usage.returned
    same = [
        day for day in days if day.remedy == count.remedy and usage.since <= day.day < count.day
    ]
    due = sum(day.due for day in same)
    return Fraction(sum(day.taken for day in same), due) if due else None
