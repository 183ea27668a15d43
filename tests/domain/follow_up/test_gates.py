"""Gates read from ratings; the worked figures are those of tests/references/outcomes.yaml."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.courses import Flare
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.gate_words import gate_sentence, percent_down
from sennight.domain.follow_up.gates import GateReading, GateState, read_gates
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
            "one rating in this phase (7 on 4 January 2027) is no trend",
        ),
        (
            {1: "0", 8: "0"},
            GateState.NOT_SAID_YET,
            "the first rating in this phase is 0 on 4 January 2027, of which there is no percent",
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
    begin = {"met": "Met", "not met": "Not met"}.get(state, "Not to be said yet")
    assert gate_sentence(gate) == f"Moving on waits for pain to fall by 30 %. {begin}: {said}."


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
    assert "fell by 29.9 %" in gate_sentence(gate)
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
