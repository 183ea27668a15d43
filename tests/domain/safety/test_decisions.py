"""How long a decision about a finding holds, and what makes it lapse."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client, Fact, Reaction
from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode, Reformulate
from sennight.domain.courses.protocols import Line, Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.fingerprints import formula_mark
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Remedy
from sennight.domain.safety.check import findings
from sennight.domain.safety.decision_words import lapse_text
from sennight.domain.safety.decisions import (
    AmountRose,
    Decision,
    FactAdded,
    NewFormula,
    NewPhase,
    NewRemedy,
    TimePassed,
    accept_of,
    decisions,
    known_facts,
    stopping,
)
from sennight.domain.safety.names import (
    Names,
)
from support.draws import draws
from support.safety_samples import MATERIA_MEDICA, RULES, START, course, day, remedy
from support.samples import line, phase

WILLOW = "willow-bark.anticoagulant"
CLIENT = Client("Una Example", medicines=(Fact("anticoagulant"),))


def willow(take: str = "5 mL tds", *, client: Client = CLIENT) -> Course:
    return course(remedy("willow-bark", form=Form.TINCTURE), client=client, take=take)


def accepted(made: Course, on: int = 1, finding: str = WILLOW) -> Accept:
    layout = lay_out(made)
    by_id = {one.id: one for one in findings(layout, MATERIA_MEDICA, RULES)}
    facts = known_facts(made.client)
    return accept_of(by_id[finding], layout, reason="INR watched", on=day(on), facts=facts)


def decided(made: Course, accept: Accept, today: int = 1) -> Decision:
    layout = lay_out(made)
    every = findings(layout, MATERIA_MEDICA, RULES)
    return decisions(every, (accept,), layout, day(today))[accept.finding]


def stops(made: Course, accept: Accept, today: int = 1) -> bool:
    layout = lay_out(made)
    every = findings(layout, MATERIA_MEDICA, RULES)
    known = decisions(every, (accept,), layout, day(today))
    return accept.finding in {one.id for one in stopping(every, known, day(today))}


def said(made: Course, decision: Decision) -> str:
    return lapse_text(decision, Names(made, MATERIA_MEDICA, RULES))


def test_what_a_decision_was_made_for_is_kept_with_it() -> None:
    accept = accepted(willow("5 mL tds and prn max 2/day"))
    (then,) = accept.taken or ()
    assert (then.remedy, then.phase, then.most, then.unit) == ("r1", "only", Fraction(25), Unit.ML)
    assert accept.facts == ("anticoagulant",)
    assert accept.on == START


def test_a_decision_holds_for_what_it_was_made_for() -> None:
    made = willow()
    assert decided(made, accepted(made)).holds
    assert not stops(made, accepted(made))
    assert said(made, decided(made, accepted(made))) == ""


def test_five_times_the_dose_is_not_what_was_decided_on() -> None:
    """An acceptance of a finding to avoid once held for ever, at any amount."""
    more = willow("25 mL tds")
    decision = decided(more, accepted(willow()))
    assert decision.lapses == (AmountRose("r1", Fraction(15), Fraction(75), Unit.ML),)
    assert stops(more, accepted(willow()))
    assert said(more, decision) == (
        "Decided on 4 January 2027, but to be decided again: r1 is now up to 75 mL a day, was "
        "15 mL."
    )


def test_of_a_range_of_amounts_the_most_counts() -> None:
    (then,) = accepted(willow("2.5-5 mL tds")).taken or ()
    assert then.most == 15


@given(st.integers(1, 12), st.integers(1, 12))
@settings(max_examples=draws(12))
def test_a_decision_lapses_exactly_when_the_amount_rises(then: int, now: int) -> None:
    accept = accepted(willow(f"{then} mL tds"))
    assert decided(willow(f"{now} mL tds"), accept).holds == (now <= then)


@given(st.lists(st.sampled_from(["gout", "asthma", "iron", "depression"]), max_size=3))
@settings(max_examples=draws(8))
def test_a_decision_lapses_exactly_when_a_fact_is_added(tags: list[str]) -> None:
    accept = accepted(willow())
    client = replace(CLIENT, conditions=tuple(map(Fact, tags)))
    decision = decided(willow(client=client), accept)
    assert decision.lapses == tuple(map(FactAdded, sorted(set(tags))))
    fewer = accepted(willow(client=client))
    assert decided(willow(), fewer).holds


@given(st.integers(-20, 200))
@settings(max_examples=draws(12))
def test_a_decision_holds_for_twelve_weeks_and_no_day_more(days: int) -> None:
    made = replace(willow(), protocol=Protocol("Test", (phase("only", "52 w", *lines()),)))
    accept = accepted(made, on=10)
    assert decided(made, accept, today=10 + days).holds == (days < 84)


def lines() -> list[Line]:
    return [line("r1", "5 mL tds")]


def test_a_decision_of_twelve_weeks_ago_says_so() -> None:
    made = replace(willow(), protocol=Protocol("Test", (phase("only", "52 w", *lines()),)))
    decision = decided(made, accepted(made), today=85)
    assert decision.lapses == (TimePassed(START),)
    assert "that was 12 weeks ago or longer" in said(made, decision)


def test_a_new_version_of_the_formula_is_decided_on_anew() -> None:
    """The same amounts by the spoon, but of another strength."""
    accept, made = accepted(willow()), willow()
    (one,) = made.remedies
    stronger = Ingredient("willow-bark", Fraction(1), Fraction(3), Fraction(45))
    other = replace(made, remedies=(replace(one, ingredients=(stronger,)),))
    decision = decided(other, accept)
    assert decision.lapses == (NewFormula("r1"),)
    assert "r1 has a different formula" in said(other, decision)
    beside = replace(one, id="r1b", name="stronger", ingredients=(stronger,))
    put_in = Reformulate(on=START, remedy="r1", first=day(8), formula="r1b")
    later = replace(made, remedies=(one, beside), revisions=(put_in,))
    assert decided(later, accept).lapses == (NewFormula("r1"),)
    renamed = replace(made, remedies=(replace(one, name="Other name"),))
    assert decided(renamed, accept).holds


def test_another_remedy_with_the_herb_is_decided_on_anew() -> None:
    accept = accepted(willow())
    tea = remedy("willow-bark", name="r2")
    both = course(*willow().remedies, tea, client=CLIENT)
    decision = decided(both, accept)
    assert decision.lapses == (NewRemedy("r2"),)
    assert "r2 is new." in said(both, decision)


def test_a_new_phase_is_decided_on_anew() -> None:
    accept, made = accepted(willow()), willow()
    further = replace(
        made, protocol=Protocol("Test", (*made.protocol.phases, phase("more", "4 w", *lines())))
    )
    decision = decided(further, accept)
    assert decision.lapses == (NewPhase("r1", "more"),)
    assert "r1 is now taken in More too" in said(further, decision)


def test_a_flare_that_was_decided_on_as_a_plan_is_covered_when_it_comes() -> None:
    plan = phase("rescue", "1 w", line("r1", "5 mL tds"))
    other = remedy("rosehip", name="r2")
    made = course(other, *willow().remedies, client=CLIENT)
    base = phase("only", "8 w", line("r2", "1 cup od"))
    made = replace(made, protocol=Protocol("Test", (base, plan)))
    accept = accepted(made)
    assert accept.taken is not None
    assert [then.phase for then in accept.taken] == ["rescue"]
    flared = replace(made, revisions=(Flare(on=day(5), first=day(5), rescue="rescue"),))
    assert decided(flared, accept, today=5).holds


def test_days_that_move_change_no_decision() -> None:
    made = willow()
    pause = Pause(on=START, first=day(3), last=day(9), mode=PauseMode.FREEZE)
    assert decided(replace(made, revisions=(pause,)), accepted(made)).holds


def test_a_reaction_that_is_added_lapses_a_decision_unless_it_was_struck_out() -> None:
    reaction = Reaction(START, "Tea", ("sage",), "Itching")
    client = replace(CLIENT, reactions=(reaction,))
    decision = decided(willow(client=client), accepted(willow()))
    assert decision.lapses == (FactAdded("reaction sage"),)
    assert "a reaction to Sage was added" in said(willow(client=client), decision)
    struck = replace(client, reactions=(replace(reaction, void="another client's"),))
    assert decided(willow(client=struck), accepted(willow())).holds
    more = willow(client=replace(CLIENT, conditions=(Fact("gout"),)))
    assert "“gout” was added" in said(more, decided(more, accepted(willow())))


def test_a_reaction_that_was_struck_out_is_no_finding() -> None:
    reaction = Reaction(START, "Tea", ("willow-bark",), "Itching")
    ids = {"willow-bark.reaction"}
    for void, there in (("", ids), ("another client's", set())):
        client = Client("Una Example", reactions=(replace(reaction, void=void),))
        every = findings(lay_out(willow(client=client)), MATERIA_MEDICA, RULES)
        assert {one.id for one in every} & ids == there


def test_a_unit_that_cannot_be_compared_counts_as_more() -> None:
    decision = decided(willow("1 tsp od"), accepted(willow()))
    assert decision.lapses == (AmountRose("r1", None, Fraction(1), Unit.TSP),)
    assert said(willow(), decision).endswith("r1 is now up to 1 teaspoon (5 mL) a day.")


def test_of_a_decision_of_an_earlier_program_only_its_age_is_known() -> None:
    """It counts as made on the first day of the course."""
    accept = Accept(WILLOW, "INR watched")
    assert decided(willow("50 mL tds"), accept).holds
    decision = decided(willow(), accept, today=85)
    assert decision.lapses == (TimePassed(START),)
    assert said(willow(), decision).startswith("Decided earlier, but")


def test_a_decision_that_was_struck_out_decides_nothing() -> None:
    accept = replace(accepted(willow()), void="meant for another client")
    assert stops(willow(), accept)


def test_of_several_decisions_one_that_holds_counts() -> None:
    made = willow("10 mL tds")
    layout = lay_out(made)
    every = findings(layout, MATERIA_MEDICA, RULES)
    for order in (
        (accepted(willow()), accepted(made)),
        (accepted(made), accepted(willow())),
    ):
        assert decisions(every, order, layout, START)[WILLOW].holds


def test_what_is_over_stops_nothing_any_more() -> None:
    """A past flare's finding once kept the sheet for the time after it from being given."""
    made = replace(willow(), accepts=())
    nothing = Accept("sage.pregnancy", "x")
    layout = lay_out(made)
    every = findings(layout, MATERIA_MEDICA, RULES)
    last = max(one.days[-1].last for one in every if one.id == WILLOW)
    for today, there in ((last, True), (last + timedelta(1), False)):
        stopped = {one.id for one in stopping(every, {}, today)}
        assert (WILLOW in stopped) == there
    assert decisions(every, (nothing,), layout, START) == {}


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (remedy("sage", name="a"), remedy("sage", name="b"), True),
        (remedy("sage", "thyme"), remedy("thyme", "sage"), True),
        (remedy("sage", amount="3"), remedy("sage", amount="2"), False),
        (remedy("sage"), remedy("thyme"), False),
        (remedy("sage"), remedy("sage", form=Form.TINCTURE), False),
        (remedy("sage", form=Form.RUB), remedy("sage", form=Form.TINCTURE), False),
        (replace(remedy("sage"), base=Base(parts=Fraction(1))), remedy("sage"), False),
        (replace(remedy("sage"), spoon_g=Fraction(2)), remedy("sage"), False),
    ],
)
def test_a_formulas_mark_tells_what_is_in_it_and_not_its_name(
    one: Remedy, other: Remedy, *, same: bool
) -> None:
    assert (formula_mark(one) == formula_mark(other)) is same
