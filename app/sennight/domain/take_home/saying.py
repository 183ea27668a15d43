"""Dates, times and doses as the client's papers say them: plain words, nothing to work out.

A weekday stands with every date; the year only where it is not that of the first day. What is
taken past midnight belongs to the night before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.dates import Span
from sennight.domain.day import DAY_MINUTES, MEALS, ClientDay, Moment, clock
from sennight.domain.directions.directions import (
    FOOD_SHIFT,
    AsNeeded,
    Directions,
    Unit,
)
from sennight.domain.directions.plain_words import (
    FOOD_WORDS,
    MONTH_NAMES,
    WEEKDAY_NAMES,
    TimeWords,
    counted,
    listed,
    plain_cycle,
    plain_days,
    plain_rhythm,
)
from sennight.domain.remedies.dose_words import dose_words, is_layer
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.take_home.choices import ClockHours

_MOMENTS = {
    Moment.RISING: "when you get up",
    Moment.BREAKFAST: "breakfast",
    Moment.MID_MORNING: "in the middle of the morning",
    Moment.LUNCH: "lunch",
    Moment.MID_AFTERNOON: "in the middle of the afternoon",
    Moment.SUPPER: "your evening meal",
    Moment.BEDTIME: "bedtime",
}
_ROW_MOMENTS = {
    Moment.RISING: "getting up",
    Moment.MID_MORNING: "mid-morning",
    Moment.MID_AFTERNOON: "mid-afternoon",
    Moment.SUPPER: "evening meal",
}


@dataclass(frozen=True, slots=True)
class Saying:
    """How things are said to one client: the first day's year, the clock, the client's day."""

    year: int
    hours: ClockHours
    client_day: ClientDay

    # Dates

    def day(self, day: date) -> str:
        """`Monday 4 January`, with the year where it is another one."""
        year = "" if day.year == self.year else f" {day.year}"
        return f"{WEEKDAY_NAMES[day.weekday()]} {day.day} {MONTH_NAMES[day.month - 1]}{year}"

    def days(self, span: Span) -> str:
        """`Monday 4 to Sunday 10 January`: both ends included."""
        first, last = span.first, span.last
        if span.days == 1:
            return self.day(first)
        if (first.year, first.month) == (last.year, last.month):
            return f"{WEEKDAY_NAMES[first.weekday()]} {first.day} to {self.day(last)}"
        return f"{self.day(first)} to {self.day(last)}"

    def from_to(self, span: Span) -> str:
        """`From Monday 4 to Sunday 10 January`; `On Monday 4 January` for a day alone."""
        return f"{'On' if span.days == 1 else 'From'} {self.days(span)}"

    def with_year(self, span: Span) -> str:
        """`From Monday 4 to Sunday 10 January 2027`: with the year, or both."""
        if span.first.year == span.last.year:
            return f"{self.from_to(span)} {span.last.year}"
        return f"From {self.day(span.first)} {span.first.year} to {self.day(span.last)}"

    def spans(self, spans: Sequence[Span]) -> str:
        """Several runs of days: `…; …`."""
        return "; ".join(self.days(span) for span in spans)

    # Times

    def clock(self, minute: int) -> str:
        """`18:30` or `6:30 pm`; noon and midnight by their names on the 12-hour clock."""
        if self.hours is ClockHours.TWENTY_FOUR:
            return clock(minute)
        hour, rest = divmod(minute % DAY_MINUTES, 60)
        if rest == 0 and hour in (0, 12):
            return "12 midnight" if hour == 0 else "12 noon"
        return f"{(hour - 1) % 12 + 1}:{rest:02} {'am' if hour < 12 else 'pm'}"

    @property
    def time_words(self) -> TimeWords:
        """The moments and clock times for sentences."""
        return TimeWords(_MOMENTS, self.clock)

    def moment(self, minute: int) -> str:
        """What a row of the day calls a time; empty for a clock time alone."""
        name = self._named(minute)
        if minute >= DAY_MINUTES:
            return f"{name}, after midnight" if name else "after midnight"
        if minute < self.client_day.minute(Moment.RISING) and not name:
            return "in the night, before you get up"
        return name

    def _named(self, minute: int) -> str:
        for moment in Moment:
            name = _ROW_MOMENTS.get(moment, str(moment))
            at = self.client_day.minute(moment)
            if at == minute:
                return name
        for moment in MEALS:
            name = _ROW_MOMENTS.get(moment, str(moment))
            at = self.client_day.minute(moment)
            for shift, side in ((-FOOD_SHIFT, "before"), (FOOD_SHIFT, "after")):
                if at + shift == minute:
                    return f"{side} {name}"
        return ""

    # Doses

    def taking(self, directions: Directions, remedy: Remedy, first: Sequence[date] = ()) -> str:
        """One way of taking, dates aside; counted days are counted from the `first` ones."""
        what = f"{verb(directions, remedy.form)} {dose_words(directions, remedy)}"
        if directions.rhythm is None:
            food = f" {FOOD_WORDS[directions.food]}" if directions.food else ""
            how = f"{food.strip()} when you need it".strip()
        else:
            how = plain_rhythm(directions.timing, self.client_day, self.time_words)
        rule = directions.days
        is_said = rule.weekdays or (rule.every > 1 and not first)
        days = f", {plain_days(rule)}" if is_said else ""
        cycle = f"; {plain_cycle(directions.cycle)}" if directions.cycle else ""
        counted = self.counted_days(directions, first)
        sentences = (f"{what} {how}{days}{cycle}.", counted, self.needed(directions))
        return " ".join(sentence for sentence in sentences if sentence)

    def needed(self, directions: Directions) -> str:
        """Doses as needed, said alike everywhere: how many, how many in all, how long to wait."""
        needed = directions.as_needed
        if needed is None:
            return ""
        most = needed.ceiling(self.client_day)
        each = "time" if directions.unit is Unit.APPLICATION else "dose"
        if directions.rhythm is None:
            often = f"No more than {counted(most, each)} a day."
        else:
            timed = len(directions.minutes(self.client_day))
            extra = counted(most, f"extra {each}")
            often = (
                f"If you need more: up to {extra} a day. "
                f"That is no more than {counted(timed + most, each)} a day in all."
            )
        wait = wait_hours(needed)
        between = "in between" if each == "time" else "between doses"
        hours = f" Wait at least {counted(wait, 'hour')} {between}." if wait else ""
        return f"{often}{hours}"

    def counted_days(self, directions: Directions, first: Sequence[date]) -> str:
        """`Every other day: first on …, then again from …`; empty where days are not counted."""
        if not first:
            return ""
        start, *again = first
        rule = plain_days(directions.days)
        words = f"{rule[:1].upper()}{rule[1:]}: first on {self.day(start)}"
        if again:
            words += f", and after each gap again from {listed([self.day(d) for d in again])}"
        return f"{words}."


def wait_hours(needed: AsNeeded) -> int:
    """Hours to wait between doses as needed; 0 where none are said."""
    least = needed.spaced[0] if needed.spaced else 0
    return max(least, needed.gap or 0)


def verb(directions: Directions, form: Form) -> str:
    """What is done with a remedy of the form."""
    return "Rub in" if is_layer(directions, form) else form.facts.verb
