"""What a client takes of each herb: every ingredient of every stretch, in grams a day."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.sharing import Offer, shared_ceilings
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions
from sennight.domain.exposure.days import DayFilter
from sennight.domain.exposure.runs import Amount, FormDays, Intake
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.kept import kept
from sennight.domain.remedies.contents import HerbAmount, Unknown, herb_amounts
from sennight.domain.remedies.remedies import Remedy

_Amounts = tuple[tuple[str, TakenAs, Amount], ...]


@kept(8)
def intakes(layout: Layout) -> tuple[Intake, ...]:
    """The intakes of a course; each line's amounts are worked out once for all its stretches."""
    remedies = {remedy.id: remedy for remedy in layout.course.remedies}
    ceilings = layout.course.protocol.ceilings
    taken = []
    for stretch in layout.stretches:
        doses = len(stretch.times), stretch.as_needed_max or 0
        bounds = stretch.remedy, ceilings
        amounts = _amounts(remedies[stretch.formula], stretch.directions, *doses, *bounds)
        days = DayFilter.of(stretch)
        for herb, form, amount in amounts:
            taken.append(Intake(stretch.span, herb, FormDays(form, days), amount))
    return tuple(taken)


def intakes_of_a_day(remedy: Remedy, directions: Directions, day: ClientDay) -> tuple[Intake, ...]:
    """The intakes of one remedy by itself, on a day on which it is taken."""
    some_day = Span.of_days(date.min, date.min)
    as_needed = directions.as_needed.ceiling(day) if directions.as_needed else 0
    amounts = _amounts(remedy, directions, len(directions.minutes(day)), as_needed, remedy.id, ())
    every_day = DayFilter()
    return tuple(
        Intake(some_day, herb, FormDays(form, every_day), amount) for herb, form, amount in amounts
    )


@kept(256)
def _amounts(
    remedy: Remedy,
    directions: Directions,
    timed: int,
    as_needed: int,
    taken_as: str,
    ceilings: tuple[Ceiling, ...],
) -> _Amounts:
    """Of a range of amounts the least is the timed one, and the most is what a day may hold.

    `taken_as` is the remedy whose directions these are, which the ceilings name.
    """
    amounts = herb_amounts(remedy, directions.amount, directions.unit)
    larger = directions.largest / directions.amount
    bounds = shared_ceilings(ceilings, taken_as)
    offer = Offer(taken_as, timed, timed + as_needed, larger, bounds)
    return tuple((amount.herb, amount.form, _amount(amount, offer)) for amount in amounts)


def _amount(dose: HerbAmount, offer: Offer) -> Amount:
    """The grams of a day; each dose of the offer counts as the most of a range."""
    ratios = frozenset((dose.ratio,))
    if isinstance(dose.grams, Unknown):
        return Amount(Fraction(0), Fraction(0), ratios, frozenset((dose.grams.reason,)))
    own = offer.times(dose.grams)
    shared = (own,) if own.ceilings else ()
    return Amount(dose.grams * own.timed, own.each * own.doses, ratios, shared=shared)
