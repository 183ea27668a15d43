"""Remedies that join a phase, formulas that take another's place, decisions that are struck out.

Worked by hand from the meaning of the words; days count from 1.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.courses.compare import compare
from sennight.domain.courses.compare_words import sentences
from sennight.domain.courses.courses import (
    Course,
    Extend,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
    kind_of,
)
from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.problems import course_problems
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.revising import RevisionError
from sennight.domain.courses.revision_kind import RevisionKind
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.exposure.intakes import intakes
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient
from sennight.domain.schedule.ways import ways_of
from sennight.domain.schedule.weeks import CourseWeeks, State
from support.samples import START, course, day, line, phase, take

RESCUE = Phase("flare", "rescue", phase("x", "1 w").length, (line("t2", "1 cup bd"),))
ON = START


def revised(*revisions: Revision) -> Course:
    phases = (
        phase("loading", "4 w", line("t1", "1 cup od")),
        phase("maintenance", "4 w", line("t1", "1 cup bd")),
        RESCUE,
    )
    return course(*phases, revisions=revisions)


def spans(plan: Course, remedy: str) -> list[tuple[int, int, str, str]]:
    """First and last day of each stretch, its directions and its formula."""
    return [
        (
            (s.span.first - START).days + 1,
            (s.span.last - START).days + 1,
            str(s.directions),
            s.formula,
        )
        for s in lay_out(plan).stretches
        if s.remedy == remedy
    ]


def join(first: int, text: str, last: int | None = None) -> Join:
    to = None if last is None else day(last)
    return Join(on=ON, remedy="t2", first=day(first), directions=take(text), last=to)


def test_a_remedy_joins_to_the_phases_end_without_changing_the_others() -> None:
    plan = revised(join(10, "1 cup od"))
    assert spans(plan, "t2") == [(10, 28, "1 cup od", "t2")]
    assert spans(plan, "t1") == spans(revised(), "t1")


def test_a_joined_cycle_is_anchored_on_the_day_of_joining() -> None:
    plan = revised(join(10, "1 cup od 5 d on 2 d off"))
    assert [(first, last) for first, last, *_ in spans(plan, "t2")] == [
        (10, 14),
        (17, 21),
        (24, 28),
    ]


def test_joining_ends_where_it_is_said_to_and_moves_in_a_freeze() -> None:
    freeze = Pause(on=ON, first=day(12), last=day(13), mode=PauseMode.FREEZE)
    plan = revised(join(10, "1 cup od", 15), freeze)
    assert [(a, b) for a, b, *_ in spans(plan, "t2")] == [(10, 11), (14, 17)]


def test_a_joined_remedy_can_be_redirected_stopped_and_replaced_in_a_flare() -> None:
    redirect = Redirect(on=ON, remedy="t2", first=day(12), directions=take("2 cups od"))
    flare = Flare(on=ON, first=day(15), rescue="flare", last=day(16))
    stop = Stop(on=ON, remedy="t2", first=day(20), reason="a rash")
    plan = revised(join(10, "1 cup od"), redirect, flare, stop)
    assert [(a, b, text) for a, b, text, _ in spans(plan, "t2")] == [
        (10, 11, "1 cup od"),
        (12, 14, "2 cup od"),
        (15, 16, "1 cup bd"),
        (17, 19, "2 cup od"),
    ]


@pytest.mark.parametrize(
    ("revisions", "field", "words"),
    [
        ((join(300, "1 cup od"),), "from", "outside the course"),
        ((join(10, "1 cup od", 5),), "to", "before it begins"),
        ((join(10, "1 cup od"), join(20, "1 cup bd")), "remedy", "already"),
        (
            (Join(on=ON, remedy="t1", first=day(3), directions=take("1 cup od")),),
            "remedy",
            "“t1” is taken in phase “loading” already",
        ),
        (
            (Reformulate(on=ON, remedy="t1", first=day(3), formula="t1"),),
            "with",
            "cannot take its own place",
        ),
    ],
)
def test_what_is_impossible_is_refused_at_its_field(
    revisions: tuple[Revision, ...], field: str, words: str
) -> None:
    with pytest.raises(RevisionError, match=words) as raised:
        lay_out(revised(*revisions))
    assert raised.value.field == field


def test_a_remedy_may_join_again_after_it_left() -> None:
    plan = revised(join(5, "1 cup od", 8), join(12, "1 cup bd"))
    assert [(a, b) for a, b, *_ in spans(plan, "t2")] == [(5, 8), (12, 28)]


# Formulas


def replacing(first: int, formula: str = "t3") -> Reformulate:
    return Reformulate(on=ON, remedy="t1", first=day(first), formula=formula)


def test_a_formula_takes_the_place_from_its_day_on_in_every_phase() -> None:
    plan = revised(replacing(10))
    assert spans(plan, "t1") == [
        (1, 9, "1 cup od", "t1"),
        (10, 28, "1 cup od", "t3"),
        (29, 56, "1 cup bd", "t3"),
    ]
    assert spans(plan, "t3") == [], "it keeps the letter of the remedy that it replaces"
    assert [remedy.id for remedy in plan.lanes] == ["t1", "t2"]


def test_of_two_replacements_the_one_listed_last_holds_from_its_day() -> None:
    plan = revised(replacing(20), replacing(10, "t2"), replacing(30, "t1"))
    assert [(a, b, its) for a, b, _, its in spans(plan, "t1")] == [
        (1, 9, "t1"),
        (10, 28, "t2"),
        (29, 29, "t2"),
        (30, 56, "t1"),
    ]


def test_a_formula_that_has_the_place_between_two_days_taken_is_never_taken() -> None:
    """Every 7 days is days 1, 8, 15, 22: the formula of days 3 to 5 has none of them."""
    weekly = phase("loading", "4 w", line("t1", "1 cup od every 7 days"))
    plan = course(weekly, revisions=(replacing(3, "t3"), replacing(6, "t2")))
    assert [(a, b, its) for a, b, _, its in spans(plan, "t1")] == [(1, 2, "t1"), (8, 28, "t2")]


def test_amounts_follow_the_formula() -> None:
    """Every herb that is counted on a day is one of the formula that is taken then."""
    known_herbs = {"t1": "ginger", "t2": "turmeric", "t3": "nettle-leaf"}
    plan = revised(replacing(10))
    own = (
        replace(remedy, ingredients=(Ingredient(known_herbs[remedy.id], Fraction(1)),))
        for remedy in plan.remedies
    )
    plan = replace(plan, remedies=tuple(own))
    known = {remedy.id: {one.herb for one in remedy.ingredients} for remedy in plan.remedies}
    for intake in intakes(lay_out(plan)):
        its = "t1" if intake.span.first < day(10) else "t3"
        assert intake.herb in known[its]


def test_a_formula_of_another_measure_is_refused() -> None:
    plan = revised(replacing(10, "t2"))
    drops = tuple(
        replace(remedy, form=Form.TINCTURE) if remedy.id == "t2" else remedy
        for remedy in plan.remedies
    )
    protocol = replace(plan.protocol, phases=plan.protocol.phases[:2])
    plan = replace(plan, remedies=drops, protocol=protocol)
    assert [str(problem) for problem in course_problems(plan)] == [
        (
            "course.revision[1].with: “t1” is taken in cup, and a tincture is not measured in it; "
            "expected a formula of the same kind"
        )
    ]


# Struck out


def test_nothing_follows_from_what_was_struck_out() -> None:
    wrong = Extend(on=ON, phase="nowhere", by=3, void="meant for someone else", void_on=day(2))
    assert lay_out(revised(wrong)).stretches == lay_out(revised()).stretches
    longer = Extend(on=ON, phase="loading", by=7)
    assert lay_out(revised(wrong, longer)).stretches == lay_out(revised(longer)).stretches


def test_of_a_course_that_was_struck_out_nothing_is_taken() -> None:
    flare = Flare(on=ON, first=day(10), rescue="flare")
    struck = replace(revised(flare), void="meant for someone else", void_on=day(2))
    layout = lay_out(struck)
    assert (layout.stretches, layout.phases, layout.flares, layout.days.days) == ((), (), (), 0)
    assert list(possible_flares(layout)) == []


def test_what_was_struck_out_is_said_so() -> None:
    struck = Extend(on=ON, phase="loading", by=3, void="wrong client", void_on=day(2))
    said = revision_sentence(struck, revised())
    assert said.endswith("Entered in error, struck out on 5 January 2027: wrong client.")


# In words


def test_a_formula_that_is_taken_in_many_runs_is_told_once() -> None:
    pauses = tuple(
        Pause(on=ON, first=day(n), last=day(n), mode=PauseMode.SKIP) for n in (15, 20, 25)
    )
    before = lay_out(revised(*pauses))
    made = compare(before, lay_out(revised(*pauses, replacing(10))))
    told = [text for text in sentences(made, revised()) if "made like" in text]
    assert len(told) == 1
    assert told[0].startswith("Remedy t1: made like Remedy t3 from 13 January to")


def test_each_is_told_before_it_is_decided() -> None:
    before = lay_out(revised())
    joined = compare(before, lay_out(revised(join(10, "1 cup od"))))
    assert "Remedy t2: 1 cup od from 13 to 31 January 2027." in sentences(joined, revised())
    made = compare(before, lay_out(revised(replacing(10))))
    assert sentences(made, revised()) == (
        "Remedy t1: made like Remedy t3 from 13 to 31 January 2027.",
        "Remedy t1: made like Remedy t3 from 1 to 28 February 2027.",
    )
    words = revision_sentence(replacing(10), revised())
    assert words == "4 January 2027: Remedy t1 is made like Remedy t3 from 13 January 2027."
    words = revision_sentence(join(10, "1 cup od"), revised())
    assert words == "4 January 2027: Remedy t2 is added: 1 cup od from 13 January 2027."


# What people are told


def test_a_joined_remedy_has_its_days_on_the_sheet() -> None:
    layout = lay_out(revised(join(10, "1 cup od", 15)))
    ways = [way.span for way in ways_of(layout, layout.days) if way.remedy == "t2"]
    assert ways == [Span.of_days(day(10), day(15))]


def test_a_pause_is_marked_for_what_joined_on_the_days_that_it_is_there() -> None:
    skip = Pause(on=ON, first=day(14), last=day(18), mode=PauseMode.SKIP)
    weeks = CourseWeeks(lay_out(revised(join(10, "1 cup od", 15), skip)))
    paused = [
        (cell.day - START).days + 1
        for week in weeks
        for cell in week.cells
        for mark in cell.marks
        if mark.remedy == "t2" and mark.state is State.PAUSED
    ]
    assert paused == [14, 15]


def test_to_stay_is_a_decision_that_changes_no_day() -> None:
    stay = Stay(on=ON, reason="wait for the scores")
    assert kind_of(stay) is RevisionKind.STAY
    assert lay_out(revised(stay)).stretches == lay_out(revised()).stretches
