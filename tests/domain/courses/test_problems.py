from __future__ import annotations

from dataclasses import replace
from datetime import date, time
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Join,
    Redirect,
    Reformulate,
    Revision,
    Stop,
)
from sennight.domain.courses.problems import (
    Problem,
    course_problems,
    join_warnings,
    nearest,
    place_name,
    protocol_problems,
    step_warnings,
    unit_problems,
    unknown,
)
from sennight.domain.courses.protocols import LOADING, Protocol
from sennight.domain.courses.revising import plan_course
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.portions import UNMEASURED_DROPPER
from sennight.domain.remedies.remedies import Portion, Remedy
from support.samples import START, course, day, line, phase, remedy, take

LINE = line("t1", "1 cup od")


def told(one: Course) -> list[str]:
    return [str(problem) for problem in course_problems(one)]


def told_of(*phases: object) -> list[str]:
    protocol = Protocol("Test", phases)  # type: ignore[arg-type]
    return [str(problem) for problem in protocol_problems(protocol, ("t1", "t2"))]


def test_a_sound_course_has_no_problems() -> None:
    assert told(course(phase("one", "2 w", LINE), phase("two", None))) == []


def test_places_are_counted_from_1() -> None:
    place = ("protocol", "phase", 1, "line", 0, "take")
    assert place_name(place) == "protocol.phase[2].line[1].take"
    assert str(Problem(place, "no")) == "protocol.phase[2].line[1].take: no"
    assert str(Problem((), "no")) == "no"


def test_the_nearest_word_is_told_where_there_is_one() -> None:
    assert nearest("Brekfast", ("breakfast", "lunch")) == "; did you mean “breakfast”?"
    assert nearest("xyz", ("breakfast", "lunch")) == ""


@pytest.mark.parametrize(
    ("phases", "said"),
    [
        ([phase("one", "2 w", line("t9", "1 cup od"))], "protocol.phase[1].line[1].remedy: no re"),
        ([phase("one", "2 w", LINE, LINE)], "protocol.phase[1].line[2].remedy: a second line fo"),
        ([phase("one", "2 w"), phase("one", "3 w")], "protocol.phase[2].id: “one” is already the"),
        ([phase("one", None), phase("two", "3 w")], "protocol.phase[1].open: only the last phase"),
        (
            [phase("one", "2 w"), phase("rescue", None)],
            "protocol.phase[2].open: a flare-up plan h",
        ),
        ([phase("rescue", "2 w")], "protocol.phase: expected at least one phase that is not a fl"),
        ([], "protocol.phase: expected at least one phase"),
        ([phase("one", "2 w", stand_in=True)], "protocol.phase[1].stand_in: only a flare-up plan"),
        (
            [phase("one", "9 w", line("t1", "1 cup od", (4, "1 cup bd"), (2, "1 cup tds")))],
            "protocol.phase[1].line[1].steps[2].after_weeks: 2 weeks does not come after 4 weeks",
        ),
        (
            [phase("one", "9 w", line("t1", "1 cup od", (4, "1 cup bd"), (4, "1 cup tds")))],
            "protocol.phase[1].line[1].steps[2].after_weeks: 4 weeks does not come after 4 weeks",
        ),
    ],
)
def test_a_protocols_structure_is_checked(phases: list[object], said: str) -> None:
    (problem,) = told_of(*phases)
    assert problem.startswith(said)


def test_an_open_phase_may_stand_before_a_rescue_phase() -> None:
    assert told_of(phase("one", None), phase("rescue", "1 w")) == []


def test_two_remedies_of_one_id_are_told() -> None:
    one = replace(course(phase("one", "2 w")), remedies=(remedy("t1"), remedy("t1")))
    assert told(one) == [
        "remedy[2].id: “t1” is already the id of remedy[1]; expected another id for this remedy"
    ]


def test_contradicting_dates_are_told() -> None:
    fact = Fact("gout", since=date(2027, 2, 2), until=date(2027, 2, 1))
    client = Client("Una Example", born=START, medicines=(fact,))
    found = told(course(phase("one", "2 w"), client=client, until=date(2026, 1, 1)))
    assert [problem.split(":")[0] for problem in found] == [
        "client.born",
        "client.medicines[1].to",
        "course.until",
    ]


def test_doses_at_one_time_are_told_where_the_directions_stand() -> None:
    client = Client("Una Example", day=ClientDay.at({Moment.LUNCH: time(13, 0)}))
    clash = "1 cup at lunch,13:00"
    one = course(
        phase("one", "9 w", line("t1", clash, (1, clash))),
        client=client,
        revisions=(Redirect(on=day(1), remedy="t1", first=day(3), directions=take(clash)),),
    )
    assert [problem.split(":")[0] for problem in told(one)] == [
        "protocol.phase[1].line[1].take",
        "protocol.phase[1].line[1].steps[1].take",
        "course.revision[1].take",
    ]


def test_every_impossible_revision_is_told_by_its_own_place() -> None:
    one = course(
        phase("one", "2 w", LINE),
        phase("two", "2 w", LINE),
        revisions=(
            Extend(on=day(1), phase="one", by=1),
            Advance(on=day(1), to="one", first=day(3)),
            Flare(on=day(1), first=day(3), rescue="none"),
            Stop(on=day(1), remedy="t1", first=day(4), reason="x"),
            Extend(on=day(1), phase="two", by=-14),
            End(on=day(1), first=day(400)),
        ),
    )
    assert [problem.split(": ")[0] for problem in told(one)] == [
        "course.revision[2].to",
        "course.revision[3].rescue",
        "course.revision[5]",
        "course.revision[6].from",
    ]


def test_steps_in_order_have_no_problem() -> None:
    steps = line("t1", "1 cup tds", (2, "1 cup bd"), (4, "1 cup od"))
    assert told_of(phase("one", "9 w", steps)) == []


def test_an_end_on_the_first_day_is_told_and_the_others_are_still_looked_at() -> None:
    one = course(
        phase("one", "2 w", LINE),
        revisions=(End(on=day(1), first=day(1)), Extend(on=day(1), phase="one", by=-14)),
    )
    ends, extends = told(one)
    assert ends.startswith("course.revision[1].from: end decided on 2027-01-04: no day is left")
    assert extends.startswith("course.revision[2]")


def test_an_end_that_was_struck_out_ends_nothing() -> None:
    end = End(on=day(1), first=day(1), void="entered in error", void_on=day(1))
    assert told(course(phase("one", "2 w", LINE), revisions=(end,))) == []


def test_an_open_phase_without_a_day_is_told_at_the_last_day_or_the_phase() -> None:
    phases = (phase("one", "20 w"), phase("two", None))
    assert told(course(*phases, until=day(3)))[0].startswith("course.until: the open phase “two”")
    longest = (phase("one", "53 w"), phase("two", None))
    assert told(course(*longest))[0].startswith("protocol.phase[2]: the open phase “two” would")


@pytest.mark.parametrize("span", ["99999 mo", "9999 w", "4500 mo"])
def test_a_course_past_all_sense_is_told(span: str) -> None:
    found = told(course(phase("one", span), phase("two", "9999 mo")))
    assert found == ["protocol.phase: the phases reach past the year 2400; expected shorter ones"]


def test_a_unit_that_does_not_fit_the_form_is_refused() -> None:
    one = course(phase(LOADING, "2 w", line("t1", "1 capsule od", (1, "1 cup od"))))
    assert told(one) == [
        (
            "protocol.phase[1].line[1].take: “1 capsule od” measures a tea in capsule; "
            "expected one of cup, mL, tsp, tbsp, g"
        )
    ]
    rub = replace(one, remedies=(remedy("t1", Form.CAPSULE),))
    assert [place_name(problem.place) for problem in unit_problems(rub)] == [
        "protocol.phase[1].line[1].steps[1].take"
    ]


def test_dropperfuls_of_an_unmeasured_dropper_are_asked_about() -> None:
    """In directions, and where another formula takes the place of one that is measured."""
    drops = Remedy("t1", "T1", Form.TINCTURE, (), dropperful=Portion(Fraction(1), Unit.ML))
    other = replace(drops, id="t2", dropperful=None)
    instead = Reformulate(on=day(1), remedy="t1", first=day(3), formula="t2")
    one = course(phase(LOADING, "2 w", line("t1", "2 dropperful tds")), revisions=(instead,))
    unmeasured = f"of “t2” {UNMEASURED_DROPPER}"
    (misfit,) = unit_problems(replace(one, remedies=(drops, other)))
    assert str(misfit) == (f"course.revision[1].with: “t1” is taken in dropperfuls; {unmeasured}")
    asked, _ = unit_problems(replace(one, remedies=(replace(drops, dropperful=None), other)))
    assert UNMEASURED_DROPPER in asked.message
    assert place_name(asked.place) == "protocol.phase[1].line[1].take"
    assert not list(unit_problems(replace(one, remedies=(drops,))))
    measured = replace(other, dropperful=Portion(Fraction(30), Unit.DROP))
    assert not list(unit_problems(replace(one, remedies=(drops, measured))))


def test_a_step_after_the_phases_end_is_a_warning() -> None:
    late = line("t1", "1 cup od", (1, "1 cup bd"), (2, "1 cup tds"))
    phases = (phase("one", "2 w", late), phase("two", "15 d", late), phase("three", None, late))
    (warning,) = step_warnings(plan_course(course(*phases)))
    assert str(warning) == (
        "protocol.phase[1].line[1].steps[2].after_weeks: the phase ends before this step, which "
        "never comes"
    )
    longer = Extend(on=day(1), phase="one", by=1)
    assert not list(step_warnings(plan_course(course(*phases, revisions=(longer,)))))


def test_a_joining_that_its_phase_cuts_short_is_told() -> None:
    phases = (phase("a", "2 w", line("t1", "1 cup od")), phase("b", "2 w", line("t1", "1 cup bd")))

    def warned(last: date | None, *others: Revision, void: str = "") -> list[str]:
        joined = Join(
            on=START,
            remedy="t2",
            first=day(3),
            directions=take("1 mL od"),
            last=last,
            void=void,
        )
        plan = plan_course(course(*phases, revisions=(joined, *others)))
        return [str(problem) for problem in join_warnings(plan)]

    assert warned(day(15)) == [
        f"course.revision[1].to: the phase ends on {day(14)}, and the joining with it"
    ]
    again = Join(on=START, remedy="t3", first=day(5), directions=take("1 capsule od"))
    assert len(warned(day(20), again)) == 1
    for last in (None, day(14)):
        assert warned(last) == []
    assert warned(day(15), void="typed twice") == []
    assert warned(day(15), Extend(on=START, phase="a", by=1, in_weeks=True)) == []


def test_days_of_a_fact_that_follow_each_other_are_no_problem() -> None:
    """One day alone is from and to in one; a fact without an end has none to come before."""
    facts = (Fact("gout", START, START), Fact("asthma", START, day(2)), Fact("eczema", day(9)))
    client = Client("Una Example", conditions=facts)
    assert told(course(phase("one", "2 w", LINE), client=client)) == []


def test_a_clients_facts_lie_under_their_topics() -> None:
    gout, iron, nuts = Fact("gout"), Fact("iron"), Fact("nuts")
    client = Client("Una Example", conditions=(gout,), medicines=(iron,), allergies=(nuts,))
    assert [client.facts(topic) for topic in Topic] == [(gout,), (iron,), (nuts,), ()]


def test_a_word_as_long_as_a_file_is_not_said_again() -> None:
    word = "k" * 9000
    assert place_name(("client", word)) == f"client.{'k' * 60}…"
    assert unknown("remedy", word, ["k" * 50]) == (
        f"no remedy “{'k' * 60}…”; expected one of {'k' * 50}"
    )
    assert nearest("netle", ["nettle"]) == "; did you mean “nettle”?"
    assert nearest(word, ["nettle"]) == ""
