"""A gate in a sentence: what is waited for, whether it is met, and from which ratings."""

from __future__ import annotations

from fractions import Fraction
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.gates import GateReading, GateState


def gate_sentence(reading: GateReading) -> str:
    """`Moving on waits for pain to fall by 30 %. Met: it fell by 35.7 %, from 7 on … to 4.5 on ….`

    It tells, and proposes nothing.
    """
    gate = reading.gate
    return (
        f"Moving on waits for {gate.measure} to fall by {gate.fall_percent} %. {_state(reading)}"
    )


def _state(reading: GateReading) -> str:
    match reading.state:
        case GateState.MET:
            return f"Met: {_change(reading)}."
        case GateState.NOT_MET:
            return f"Not met: {_change(reading)}."
        case GateState.NOT_SAID_YET:
            return f"Not to be said yet: {_lack(reading)}."
        case _:
            assert_never(reading.state)


def _change(reading: GateReading) -> str:
    first, last = reading.ratings[0], reading.ratings[-1]
    fall = reading.fall or Fraction(0)
    if fall == 0:
        return (
            f"it is {plain_number(last.value)} on {plain_date(last.day)}, "
            f"as on {plain_date(first.day)}"
        )
    how = f"fell by {percent_down(fall)} %" if fall > 0 else f"rose by {percent_down(-fall)} %"
    return (
        f"it {how}, from {plain_number(first.value)} on {plain_date(first.day)} "
        f"to {plain_number(last.value)} on {plain_date(last.day)}"
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
        return f"one rating in this phase ({told}) is no trend"
    return f"the first rating in this phase is {told}, of which there is no percent"
