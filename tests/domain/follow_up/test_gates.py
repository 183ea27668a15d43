"""Gates read from ratings; the worked figures are those of tests/references/outcomes.yaml."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.courses import Flare
from sennight.domain.courses.protocols import Gate, Threshold
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.gate_words import gate_sentence, percent_down
from sennight.domain.follow_up.gates import GateReading, GateState, is_against, read_gates
from sennight.domain.follow_up.measures import NO_OWN
from support.samples import course, day, line, phase

GATE = Gate("pain", 30)


def laid_out() -> Layout:
    """Two phases of two weeks, the first with a gate, and a flare of three days with one."""
    flare = Flare(on=day(10), first=day(10), rescue="rescue")
    return lay_out(
        course(
            replace(phase("one", "2 w", line("t1", "1 cup od")), gate=GATE),
            phase("two", "2 w", line("t1", "1 cup od")),
            replace(phase("rescue", "3 d", line("t2", "1 cup od")), gate=Gate("pain", 10)),
            revisions=(flare,),
        )
    )


LAYOUT = laid_out()


def scores(rated: dict[int, str], measure: str = "pain") -> list[Score]:
    return [Score(day(n), measure, Fraction(value)) for n, value in rated.items()]


def first_gate(rated: dict[int, str]) -> GateReading:
    return read_gates(LAYOUT, scores(rated)[::-1])[0]


@pytest.mark.parametrize(
    ("rated", "state", "said"),
    [
        ({}, GateState.NOT_SAID_YET, "it was not rated in this phase"),
        (
            {1: "7"},
            GateState.NOT_SAID_YET,
            "one rating in this phase (7 on 4 January 2027) is not a trend",
        ),
        (
            {1: "0", 8: "0"},
            GateState.NOT_SAID_YET,
            (
                "the first rating in this phase is 0 on 4 January 2027, "
                "so no percentage can be worked out"
            ),
        ),
        # 7 to 5 falls by 28.6 %, 8 to 5 by 37.5 %: worked rows nrs_7_5 and nrs_8_5
        (
            {1: "7", 8: "5"},
            GateState.NOT_MET,
            "it fell by 28.5 %, from 7 on 4 January 2027 to 5 on 11 January 2027",
        ),
        (
            {1: "8", 8: "5"},
            GateState.MET,
            "it fell by 37.5 %, from 8 on 4 January 2027 to 5 on 11 January 2027",
        ),
        (
            {1: "10", 8: "7"},
            GateState.MET,
            "it fell by 30 %, from 10 on 4 January 2027 to 7 on 11 January 2027",
        ),
        ({1: "5", 8: "5"}, GateState.NOT_MET, "it is 5 on 11 January 2027, as on 4 January 2027"),
        (
            {1: "5", 8: "6"},
            GateState.NOT_MET,
            "it rose by 20 %, from 5 on 4 January 2027 to 6 on 11 January 2027",
        ),
    ],
)
def test_a_gate_is_read_and_said(rated: dict[int, str], state: GateState, said: str) -> None:
    gate = first_gate(rated)
    assert gate.state is state
    begin = {"met": "Met", "not met": "Not met"}.get(state, "Not known yet")
    assert (
        gate_sentence(gate, day(9))
        == f"Moving on waits for pain to fall by 30 %. {begin}: {said}."
    )


def test_only_ratings_of_the_phase_and_its_measure_count() -> None:
    rated = [*scores({1: "8", 10: "1", 11: "0.5", 15: "1"}), *scores({1: "9", 8: "1"}, "sleep")]
    gates = read_gates(LAYOUT, rated)
    assert [(gate.run.phase.id, len(gate.ratings)) for gate in gates] == [
        ("one", 1),
        ("rescue", 2),
    ]
    assert [gate.state for gate in gates] == [GateState.NOT_SAID_YET, GateState.MET]


def test_a_fall_just_short_is_never_said_as_reached() -> None:
    gate = first_gate({1: "10", 8: "7.001"})
    assert gate.state is GateState.NOT_MET
    assert "fell by 29.9 %" in gate_sentence(gate, day(9))
    assert percent_down(Fraction(100, 3)) == "33.3"


RATING = st.integers(0, 40).map(lambda quarters: Fraction(quarters, 4))


@given(RATING, RATING, RATING, st.integers(1, 100))
def test_a_gate_is_met_by_its_first_and_last_rating_alone(
    first: Fraction, between: Fraction, last: Fraction, percent: int
) -> None:
    run = LAYOUT.phases[0]
    ratings = tuple(Score(day(n), "pain", v) for n, v in ((1, first), (5, between), (9, last)))
    gate = GateReading(run, Gate("pain", percent), ratings)
    assert gate.state is replace(gate, ratings=(ratings[0], ratings[2])).state
    assert replace(gate, ratings=ratings[:1]).state is GateState.NOT_SAID_YET
    if first == 0:
        assert gate.state is GateState.NOT_SAID_YET
        return
    # the same by multiplying out, without a division
    reached = last * 100 <= first * (100 - percent)
    assert gate.state is (GateState.MET if reached else GateState.NOT_MET)
    lower = replace(gate, gate=Gate("pain", max(1, percent - 1)))
    if gate.state is GateState.MET:
        assert lower.state is GateState.MET


def test_a_gate_without_two_ratings_has_no_level_unless_it_is_one() -> None:
    none = read_gates(LAYOUT, [])[0]
    assert none.level is None
    level = replace(none, gate=Gate("pain", Fraction(3), Threshold.AT_MOST))
    assert level.level == 3
    assert level.state is GateState.NOT_SAID_YET


@pytest.mark.parametrize(
    ("gate", "rated", "state", "said"),
    [
        (
            Gate("pain", Fraction(2), Threshold.FALL_POINTS),
            {1: "7", 8: "5"},
            GateState.MET,
            (
                "pain to fall by 2 points. Met: it fell by 2 points, from 7 on 4 January 2027 to "
                "5 on 11 January 2027."
            ),
        ),
        (
            Gate("sleep", Fraction(1), Threshold.RISE_POINTS),
            {1: "4", 8: "3.5"},
            GateState.NOT_MET,
            (
                "sleep to rise by 1 point. Not met: it fell by 0.5 points, from 4 on 4 January "
                "2027 to 3.5 on 11 January 2027."
            ),
        ),
        (
            Gate("activity: stairs", 50, Threshold.RISE_PERCENT),
            {1: "4", 8: "6"},
            GateState.MET,
            (
                "“stairs” to rise by 50 %. Met: it rose by 50 %, from 4 on 4 January 2027 to 6 on "
                "11 January 2027."
            ),
        ),
        (
            Gate("stiffness in minutes", Fraction(20), Threshold.FALL_POINTS),
            {1: "40", 8: "30"},
            GateState.NOT_MET,
            (
                "morning stiffness to fall by 20 minutes. Not met: it fell by 10 minutes, from 40 "
                "on 4 January 2027 to 30 minutes on 11 January 2027."
            ),
        ),
        (
            Gate("bloating", Fraction(3), Threshold.AT_MOST),
            {1: "3"},
            GateState.MET,
            "bloating to be 3 or less. Met: it is 3 on 4 January 2027.",
        ),
        (
            Gate("sleep", Fraction(7), Threshold.AT_LEAST),
            {1: "7", 8: "6"},
            GateState.NOT_MET,
            "sleep to be 7 or more. Not met: it is 6 on 11 January 2027.",
        ),
        (
            Gate("sleep", Fraction(3), Threshold.AT_MOST),
            {8: "3"},
            GateState.MET,
            (
                "sleep to be 3 or less. Met: it is 3 on 11 January 2027. Note: for sleep, "
                "higher is better."
            ),
        ),
        (
            Gate("pain", Fraction(3), Threshold.AT_LEAST),
            {8: "2"},
            GateState.NOT_MET,
            (
                "pain to be 3 or more. Not met: it is 2 on 11 January 2027. Note: for pain, lower "
                "is better."
            ),
        ),
    ],
)
def test_gates_of_every_kind(
    gate: Gate, rated: dict[int, str], state: GateState, said: str
) -> None:
    ratings = tuple(scores(rated, gate.measure))
    reading = GateReading(LAYOUT.phases[0], gate, ratings, NO_OWN.of(gate.measure))
    assert reading.state is state
    assert gate_sentence(reading, day(9)) == f"Moving on waits for {said}"
    assert is_against(gate, reading.measure) is ("Note" in said)


@pytest.mark.parametrize(
    ("rated", "today", "is_late"),
    [
        ({1: "7", 7: "4"}, 20, False),  # met in time
        ({1: "7", 8: "4"}, 20, True),  # met a day late
        ({1: "7", 7: "6"}, 7, False),  # not met, and the day is not over
        ({1: "7", 7: "6"}, 8, True),
    ],
)
def test_the_day_by_which_it_is_waited_for_is_told(
    rated: dict[int, str], today: int, is_late: bool
) -> None:
    gate = replace(first_gate(rated), gate=replace(GATE, by_weeks=1))
    said = gate_sentence(gate, day(today))
    assert said.startswith("Moving on waits for pain to fall by 30 % by 10 January 2027. ")
    assert said.endswith(" 10 January 2027 has passed.") is is_late


@given(RATING, RATING, st.sampled_from(Threshold), st.integers(1, 9))
def test_a_gate_is_met_from_its_level_on(
    first: Fraction, last: Fraction, wants: Threshold, amount: int
) -> None:
    ratings = tuple(Score(day(n), "ache", value) for n, value in ((1, first), (9, last)))
    reading = GateReading(LAYOUT.phases[0], Gate("ache", amount, wants), ratings)
    change = reading.change
    if reading.level is None:
        assert reading.state is GateState.NOT_SAID_YET
        assert change is None
        return
    way = -1 if wants.wants_less else 1
    assert (reading.state is GateState.MET) is (way * (last - reading.level) >= 0)
    if change is not None:
        assert (reading.state is GateState.MET) is (change >= amount)
