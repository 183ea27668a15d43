"""A gate in a sentence: what is waited for, whether it is met, and from which ratings."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.courses.protocols import Gate, Threshold
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.gates import GateReading, GateState, is_against
from sennight.domain.follow_up.measures import Measure, is_activity


def gate_sentence(reading: GateReading, today: date) -> str:
    """`Moving on waits for pain to fall by 30 %. Met: it fell by 35.7 %, from 7 on … to 4.5 on ….`

    It tells, and proposes nothing.
    """
    by = f" by {plain_date(reading.by)}" if reading.by else ""
    told = (
        f"Moving on waits for {wanted_words(reading.gate, reading.measure)}{by}. {_state(reading)}"
    )
    return " ".join((told, *_late(reading, today), *_against(reading)))


def wanted_words(gate: Gate, measure: Measure | None) -> str:
    """`pain to fall by 30 %`, `sleep to be 7 or more`."""
    return f"{_measure_words(gate.measure, measure)} to {threshold_words(gate, measure)}"


def _measure_words(measure_id: str, measure: Measure | None) -> str:
    if measure is None:
        return measure_id
    name = measure.name
    return f"“{name}”" if is_activity(measure_id) else f"{name[:1].lower()}{name[1:]}"


def threshold_words(gate: Gate, measure: Measure | None) -> str:
    """`fall by 30 %`, `rise by 2 points`, `be 3 or less`."""
    amount = plain_number(Fraction(gate.amount))
    match gate.wants:
        case Threshold.FALL_PERCENT:
            return f"fall by {amount} %"
        case Threshold.FALL_POINTS:
            return f"fall by {_points(measure, Fraction(gate.amount))}"
        case Threshold.RISE_PERCENT:
            return f"rise by {amount} %"
        case Threshold.RISE_POINTS:
            return f"rise by {_points(measure, Fraction(gate.amount))}"
        case Threshold.AT_MOST:
            return f"be {amount}{_unit(measure)} or less"
        case Threshold.AT_LEAST:
            return f"be {amount}{_unit(measure)} or more"
        case _:
            assert_never(gate.wants)


def _unit(measure: Measure | None) -> str:
    return f" {measure.unit}" if measure is not None and measure.unit else ""


def _points(measure: Measure | None, amount: Fraction) -> str:
    """So many points, or of the measure's unit."""
    return f"{plain_number(amount)}{_unit(measure) or (' point' if amount == 1 else ' points')}"


def _state(reading: GateReading) -> str:
    match reading.state:
        case GateState.MET:
            return f"Met: {_change(reading)}."
        case GateState.NOT_MET:
            return f"Not met: {_change(reading)}."
        case GateState.NOT_SAID_YET:
            return f"Not known yet: {_lack(reading)}."
        case _:
            assert_never(reading.state)


def _change(reading: GateReading) -> str:
    first, last = reading.ratings[0], reading.ratings[-1]
    gate, change = reading.gate, reading.change
    now = f"{plain_number(last.value)}{_unit(reading.measure)} on {plain_date(last.day)}"
    if change is None:
        return f"it is {now}"
    if change == 0:
        return f"it is {now}, as on {plain_date(first.day)}"
    how = "fell" if (change > 0) is gate.wants.wants_less else "rose"
    by = _points(reading.measure, abs(change))
    if gate.wants.is_percent:
        by = f"{percent_down(abs(change))} %"
    return (
        f"it {how} by {by}, from {plain_number(first.value)} on {plain_date(first.day)} to {now}"
    )


def percent_down(percent: Fraction) -> str:
    """A percentage of 0 or more to one decimal, rounded down so that none reads as reached."""
    return plain_number(Fraction(int(percent * 10), 10))


def _lack(reading: GateReading) -> str:
    if not reading.ratings:
        return "it was not rated in this phase"
    first = reading.ratings[0]
    told = f"{plain_number(first.value)} on {plain_date(first.day)}"
    if len(reading.ratings) == 1:
        return f"one rating in this phase ({told}) is not a trend"
    return f"the first rating in this phase is {told}, so no percentage can be worked out"


def _late(reading: GateReading, today: date) -> tuple[str, ...]:
    """That the day by which it was waited for has gone, where it was not met by then."""
    if reading.by is None or today <= reading.by:
        return ()
    if reading.state is GateState.MET and reading.ratings[-1].day <= reading.by:
        return ()
    return (f"{plain_date(reading.by)} has passed.",)


def _against(reading: GateReading) -> tuple[str, ...]:
    """That what is waited for is the worse, so that a slip is seen."""
    gate = reading.gate
    if not is_against(gate, reading.measure):
        return ()
    better = "higher" if gate.wants.wants_less else "lower"
    return (f"Note: for {_measure_words(gate.measure, reading.measure)}, {better} is better.",)
