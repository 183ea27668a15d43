"""How a remedy is taken, as its label says it: over the days of the supply, and in flare-ups."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.phase_words import trigger_words
from sennight.domain.dates import Length, Span
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import (
    MONTH_NAMES,
    USUAL_TIME_WORDS,
    TimeWords,
    plain_date,
    plain_length,
    plain_timing,
)
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.tag_words import lower_first, upper_first

CALL_FIRST = "call us on the day that your symptoms flare up"
_TIME_WORDS = TimeWords({**USUAL_TIME_WORDS.moments, Moment.SUPPER: "your evening meal"})


@dataclass(frozen=True, slots=True)
class Period:
    """Days of a supply on which a remedy is taken in one way."""

    span: Span
    directions: Directions


@dataclass(frozen=True, slots=True)
class Plan:
    """How a remedy is taken by a flare-up plan.

    `trigger` says when to start, empty where the client calls first; `steps` are directions that
    follow the first ones, each with when. `name` is said where a remedy has several plans.
    """

    directions: Directions
    trigger: str
    length: Length | None = None
    steps: tuple[tuple[Length, Directions], ...] = ()
    name: str = "Flare-up plan"


@dataclass(frozen=True, slots=True)
class ForClient:
    """Whom a label is for: the client, the remedy's letter, and its directions.

    `usual` are the periods that the supply covers, in order, none for what is kept for flare-ups
    alone; `plans` are those that ask for it, each in place of the usual directions. `makes_sleepy`
    where it may, for this client.
    """

    name: str
    letter: str
    usual: tuple[Period, ...]
    day: ClientDay
    course: str
    plans: tuple[Plan, ...] = ()
    makes_sleepy: bool = False


def usual_words(client: ForClient, remedy: Remedy, supplied: date) -> tuple[str, ...]:
    """The usual directions, the dose said as on the sheet: with their days where they change.

    Bottles of one supply are opened in any order, so each says all of them. The last ones have no
    last day: the supply ends before they do, or with them. A year is said where it is not that of
    the day of supply.
    """
    periods = client.usual
    if len(periods) == 1:
        return (upper_first(_taken(client, periods[0].directions, remedy)),)
    return tuple(
        f"{_days(periods, place, supplied)}: {_taken(client, period.directions, remedy)}"
        for place, period in enumerate(periods)
    )


def _days(periods: Sequence[Period], place: int, supplied: date) -> str:
    """`To 20 December`, `From 21 December to 3 January 2027`, `From 4 January 2027`."""
    span = periods[place].span
    first, last = _day(span.first, supplied), _day(span.last, supplied)
    if place == 0:
        return f"To {last}"
    return f"From {first}" if place == len(periods) - 1 else f"From {first} to {last}"


def _day(day: date, supplied: date) -> str:
    if day.year != supplied.year:
        return plain_date(day)
    return f"{day.day} {MONTH_NAMES[day.month - 1]}"


def plan_words(client: ForClient, remedy: Remedy) -> tuple[str, ...]:
    """By each flare-up plan: when to start, then how it is taken.

    Whichever container of a remedy is at hand, its label says both, so that there is no wrong one.
    """
    return tuple(_planned(client, plan, remedy) for plan in client.plans)


def _planned(client: ForClient, plan: Plan, remedy: Remedy) -> str:
    taken = upper_first(_taken(client, plan.directions, remedy))
    start = trigger_words(plan.trigger, "start").rstrip(".") if plan.trigger else CALL_FIRST
    length = f", for {plain_length(plan.length)}" if plan.length else ""
    steps = (
        f"After {plain_length(after)}: {_taken(client, directions, remedy)}"
        for after, directions in plan.steps
    )
    instead = f"{plan.name}, instead" if client.usual else f"For the {lower_first(plan.name)}"
    return ". ".join((f"{instead}: {start}", f"{taken}{length}", *steps))


def _taken(client: ForClient, directions: Directions, remedy: Remedy) -> str:
    timing = plain_timing(directions.timing, client.day, _TIME_WORDS)
    return f"{dose_words(directions, remedy)} {timing}"
