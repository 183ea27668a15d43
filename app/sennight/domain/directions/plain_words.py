"""Directions, amounts and dates in plain words for a client: no Latin, no codes.

    2 mL tds ac 3 w on 1 w off
    2 mL three times a day, half an hour before breakfast, lunch and supper;
        3 weeks on, then 1 week off, repeating

Clients misread codes and trailing zeros (ISMP list of error-prone abbreviations, Joint
Commission "Do Not Use" list), so neither ever leaves this module.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction
from itertools import groupby

from sennight.domain.amounts import is_decimal, plain_number, rounded
from sennight.domain.dates import CalendarUnit, Length, Span
from sennight.domain.day import DAY_MINUTES, MEALS, ClientDay, Moment, as_minutes, clock
from sennight.domain.directions.directions import (
    DAILY,
    AsNeeded,
    AtTimes,
    Cycle,
    DayRule,
    Directions,
    EveryHours,
    Food,
    Timing,
    Unit,
)

WEEKDAY_NAMES = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTH_NAMES = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

_VULGAR = {
    Fraction(1, 4): "¼",
    Fraction(1, 3): "⅓",
    Fraction(1, 2): "½",
    Fraction(2, 3): "⅔",
    Fraction(3, 4): "¾",
}
_METRIC = (Unit.ML, Unit.G, Unit.MG)
_SPOONS = {Unit.TSP: ("teaspoon", 5), Unit.TBSP: ("tablespoon", 15)}
_NUMERALS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_BEFORE_MEALS = {
    None: "at",
    Food.WITH: "with",
    Food.BEFORE: "half an hour before",
    Food.AFTER: "half an hour after",
}
FOOD_WORDS = {Food.WITH: "with food", Food.BEFORE: "before food", Food.AFTER: "after food"}
"""Where a dose is not at a meal, or it is not said at which."""


def listed(items: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} and {items[-1]}"


def counted(number: int, noun: str) -> str:
    """A number and its noun, which takes an s where the number is not 1."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def numeral(number: int) -> str:
    """A whole number up to ten as a word, a greater one in figures."""
    return _NUMERALS[number] if number < len(_NUMERALS) else str(number)


def times_over(number: int) -> str:
    """How often: once, twice, three times …, in figures above ten."""
    if number <= 2:
        return ("never", "once", "twice")[number]
    return f"{numeral(number)} times"


# Amounts


def plain_quantity(value: Fraction) -> str:
    """A number for the kitchen: ½, 1¼, 2; others as decimals, or as a fraction of two figures."""
    whole, rest = divmod(value, 1)
    if rest in _VULGAR:
        return f"{whole or ''}{_VULGAR[rest]}"
    return plain_number(value)


def plain_amount(amount: Fraction, unit: Unit) -> str:
    """`2.5 mL`, `½ cup`, `2 capsules`, `1 teaspoon (5 mL)`."""
    if unit in _METRIC:
        return f"{plain_number(amount) if is_decimal(amount) else plain_quantity(amount)} {unit}"
    noun, ml = _SPOONS.get(unit, (str(unit), 0))
    text = f"{plain_quantity(amount)} {noun if amount <= 1 else f'{noun}s'}"
    return f"{text} ({_in_ml(amount * ml)})" if ml else text


def plain_dose(directions: Directions) -> str:
    """One dose: `2 capsules`, and of a range `1 to 2 cups`."""
    amount, most, unit = directions.amount, directions.most, directions.unit
    if most is None:
        return plain_amount(amount, unit)
    least, largest = plain_amount(amount, unit), plain_amount(most, unit)
    if unit not in _SPOONS:
        return f"{least.split()[0]} to {largest}"
    _, ml = _SPOONS[unit]
    in_ml = f"{_in_ml(amount * ml).removesuffix(' mL')} to {_in_ml(most * ml)}"
    return f"{least.split()[0]} to {largest.split(' (')[0]} ({in_ml})"


def _in_ml(ml: Fraction) -> str:
    return f"{plain_number(ml)} mL" if is_decimal(ml) else f"about {rounded(ml, 1)} mL"


# Times and days


_MOMENTS = {Moment.RISING: "when you get up", Moment.SUPPER: "the evening meal"}
_ROW_MOMENTS = {Moment.RISING: "on getting up", Moment.SUPPER: "evening meal"}


def _usual_moments() -> Mapping[Moment, str]:
    return {moment: _MOMENTS.get(moment, str(moment)) for moment in Moment}


@dataclass(frozen=True, slots=True)
class TimeWords:
    """What the moments of a day are called within a sentence, and how clock times are written."""

    moments: Mapping[Moment, str] = field(default_factory=_usual_moments)
    clock: Callable[[int], str] = clock


USUAL_TIME_WORDS = TimeWords()


def plain_times(minutes: Iterable[int], words: TimeWords = USUAL_TIME_WORDS) -> str:
    """Clock times, `07:30, 12:30 and 18:30`; those of the next date say so."""
    return listed([_plain_time(minute, words) for minute in minutes])


def _plain_time(minute: int, words: TimeWords) -> str:
    return f"{words.clock(minute)}{' (after midnight)' if minute >= DAY_MINUTES else ''}"


def plain_moment(moment: Moment) -> str:
    """A moment as the head of a row: `on getting up`, `breakfast`, `bedtime`."""
    return _ROW_MOMENTS.get(moment, str(moment))


def plain_meal(meal: Moment) -> str:
    """A meal within a sentence: `lunch`, `the evening meal`."""
    return _MOMENTS.get(meal, str(meal))


def plain_days(rule: DayRule) -> str:
    """`every day`, `every other day`, `every 3 days`, `on Mondays and Fridays`."""
    if rule.weekdays:
        return f"on {listed([f'{WEEKDAY_NAMES[n]}s' for n in rule.weekdays])}"
    return {1: "every day", 2: "every other day"}.get(rule.every, f"every {rule.every} days")


def plain_length(length: Length) -> str:
    """`3 weeks`, `1 month`."""
    noun = {CalendarUnit.DAYS: "day", CalendarUnit.WEEKS: "week", CalendarUnit.MONTHS: "month"}[
        length.unit
    ]
    return counted(length.count, noun)


def plain_from(after: Length) -> str:
    """From when in a phase something holds: after 4 weeks `from week 5`, `from day 4`."""
    return f"from {'week' if after.unit is CalendarUnit.WEEKS else 'day'} {after.count + 1}"


def plain_cycle(cycle: Cycle) -> str:
    """`3 weeks on, then 1 week off, repeating`."""
    return f"{plain_length(cycle.on)} on, then {plain_length(cycle.off)} off, repeating"


# Dates


def plain_date(day: date) -> str:
    """`4 January 2027`."""
    return f"{day.day} {MONTH_NAMES[day.month - 1]} {day.year}"


def plain_day(day: date) -> str:
    """`Monday 4 January 2027`."""
    return f"{WEEKDAY_NAMES[day.weekday()]} {plain_date(day)}"


def plain_dates(span: Span) -> str:
    """`4 January to 14 February 2027`: both ends included, nothing said twice."""
    first, last = span.first, span.last
    if last <= first:
        return plain_date(first)
    if first.year != last.year:
        return f"{plain_date(first)} to {plain_date(last)}"
    if first.month != last.month:
        return f"{first.day} {MONTH_NAMES[first.month - 1]} to {plain_date(last)}"
    return f"{first.day} to {plain_date(last)}"


# Directions


def plain_directions(
    directions: Directions, day: ClientDay, words: TimeWords = USUAL_TIME_WORDS
) -> str:
    """The whole of a line's directions, a sentence without its full stop.

    Said for this client's day: the ceiling of doses as needed and the clock times of
    "every N hours" depend on it.
    """
    return f"{plain_dose(directions)} {plain_timing(directions.timing, day, words)}"


def plain_timing(timing: Timing, day: ClientDay, words: TimeWords = USUAL_TIME_WORDS) -> str:
    """When something is taken or done, without an amount: `once a day, at breakfast`."""
    parts = []
    if timing.rhythm is not None:
        parts.append(plain_rhythm(timing, day, words))
    if timing.as_needed is not None:
        needed = _as_needed(timing, timing.as_needed, day)
        parts.append(f"and {needed}" if timing.rhythm else needed)
    if timing.days != DAILY:
        parts.append(plain_days(timing.days))
    if timing.cycle is not None:
        parts.append(plain_cycle(timing.cycle))
    return "; ".join(parts)


def plain_rhythm(timing: Timing, day: ClientDay, words: TimeWords = USUAL_TIME_WORDS) -> str:
    """How often and when the timed doses of a day are taken, and with what food."""
    rhythm, food = timing.rhythm, timing.food
    if isinstance(rhythm, EveryHours):
        every = "every hour" if rhythm.hours == 1 else f"every {rhythm.hours} hours"
        text = f"{every}, at {plain_times(timing.minutes(day), words)}"
        return f"{text}, {FOOD_WORDS[food]}" if food else text
    times = rhythm.times if isinstance(rhythm, AtTimes) else ()
    in_order = sorted(times, key=lambda when: _place(when, day))
    at_times = _at_times(in_order, food, words)
    if len(times) == 1 and timing.days != DAILY:
        return at_times  # “at bedtime, on Mondays”: not once a day
    return f"{times_over(len(times))} a day, {at_times}"


def _at_times(in_order: Sequence[Moment | time], food: Food | None, words: TimeWords) -> str:
    """The times of a day in their order, those that share a preposition said together."""
    phrases = [_time_phrase(when, food, words) for when in in_order]
    groups = [
        f"{before} {listed([noun for _, noun in group])}".strip()
        for before, group in groupby(phrases, key=lambda phrase: phrase[0])
    ]
    last = " and " if not any(" and " in group for group in groups) else ", and "
    text = last.join([", ".join(groups[:-1]), groups[-1]] if len(groups) > 1 else groups)
    if food and not any(when in MEALS for when in in_order):
        return f"{text}, {FOOD_WORDS[food]}"
    if food is Food.WITH and not all(when in MEALS for when in in_order):
        return f"{text}, always with food"
    return text


def _place(when: Moment | time, day: ClientDay) -> int:
    return day.minute(when) if isinstance(when, Moment) else when.hour * 60 + when.minute


def _time_phrase(when: Moment | time, food: Food | None, words: TimeWords) -> tuple[str, str]:
    """The preposition and the noun of a time."""
    if not isinstance(when, Moment):
        return "at", words.clock(as_minutes(when))
    if when in MEALS:
        return _BEFORE_MEALS[food], words.moments[when]
    if when is Moment.BEDTIME:
        return "at", words.moments[when]
    return "", words.moments[when]


def _as_needed(timing: Timing, needed: AsNeeded, day: ClientDay) -> str:
    ceiling = needed.ceiling(day)
    often = counted(ceiling, "time")
    parts = ["when needed"]
    if timing.food and timing.rhythm is None:
        parts[0] += f" {FOOD_WORDS[timing.food]}"
    if timing.rhythm is None:
        parts.append(f"at most {'once' if ceiling == 1 else often} a day")
    else:
        more = "once more" if ceiling == 1 else f"up to {ceiling} more times"
        parts.append(f"{more} a day")
    wait = plain_wait(needed)
    return ", ".join([*parts, wait] if wait else parts)


def plain_doses(directions: Directions, day: ClientDay) -> str:
    """How many doses a day `every 8 h` comes to; empty where the plain words tell it already.

    They are counted from rising to bedtime, so it says that it is while awake where the clock
    round would hold more.
    """
    rhythm = directions.rhythm
    if not isinstance(rhythm, EveryHours):
        return ""
    doses = len(directions.minutes(day))
    text = f"{counted(doses, 'dose')} a day"
    return f"{text}, while awake" if doses * rhythm.hours * 60 < DAY_MINUTES else text


def plain_wait(needed: AsNeeded) -> str:
    """How long to wait between doses as needed, `at least 4 hours apart`; empty if not said.

    A gap goes before a shorter span of hours, so that a client reads one rule, not two.
    """
    least, most = needed.spaced or (0, 0)
    least, most = max(least, needed.gap or 0), max(most, needed.gap or 0)
    if most == 0:
        return ""
    if least == most:
        return f"at least {counted(least, 'hour')} apart"
    return f"{least} to {most} hours apart"
