"""What can be done about a finding, and that the finding is gone once it is done."""

from __future__ import annotations

from datetime import time

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course, Reformulate
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import Moment
from sennight.domain.directions.parser import parse_directions
from sennight.domain.safety.acting import (
    Act,
    GiveOtherwise,
    LeaveHerbOut,
    MoveHour,
    PauseOver,
    StopFrom,
    SwapHerb,
    acts,
    moved,
    with_formula,
    with_hour_moved,
    with_other_herb,
    without_herb,
)
from sennight.domain.safety.check import findings
from sennight.domain.safety.findings import Finding
from support.safety_samples import (
    MATERIA_MEDICA,
    RULES,
    START,
    course,
    day,
    found,
    remedy,
    with_facts,
)

IRON = with_facts(Fact("iron", at=(time(8, 0),)))


def all_found(made: Course) -> list[Finding]:
    return list(findings(lay_out(made), MATERIA_MEDICA, RULES))


def acts_on(made: Course, name: str) -> tuple[Act, ...]:
    return acts([finding for finding in all_found(made) if finding.id == name], made)


def test_a_dose_that_comes_too_near_is_moved_in_one_step() -> None:
    """Iron at 08:00: breakfast at 07:30 to 10:30, which is 2½ hours off, or to lunch."""
    made = course(remedy("nettle-leaf"), client=IRON, take="1 cup at breakfast")
    offered = acts_on(made, "hours.iron.nettle-leaf")
    assert offered == (
        MoveHour("r1", 450, Moment.MID_MORNING, 630),
        MoveHour("r1", 450, Moment.LUNCH, 750),
    )
    for act in offered:
        assert isinstance(act, MoveHour)
        after = with_hour_moved(made, act)
        assert "hours.iron.nettle-leaf" not in found(after)
        assert lay_out(after).stretches[0].times == (act.to_minute,)


def test_a_moment_must_be_far_enough_from_all_that_is_told_as_one() -> None:
    client = with_facts(Fact("iron", at=(time(8, 0),)), Fact("levothyroxine", at=(time(7, 0),)))
    made = course(remedy("nettle-leaf"), client=client, take="1 cup at breakfast")
    near = [finding for finding in all_found(made) if finding.id.startswith("hours.")]
    hours = [act for act in acts(near, made) if isinstance(act, MoveHour)]
    assert {act.moment for act in hours} <= set(Moment) - {Moment.RISING, Moment.MID_MORNING}


@pytest.mark.parametrize(
    ("directions", "then"),
    [
        ("1 cup bd", "1 cup at mid-morning,supper"),
        ("1 cup at 07:30", "1 cup at mid-morning"),
        ("1 cup od ac", "1 cup od ac"),
        ("1 cup at 07:30 ac", "1 cup at 10:30 ac"),
        ("1 cup every 6 h", "1 cup every 6 h"),
        ("1 cup prn max 2/day", "1 cup prn max 2/day"),
    ],
)
def test_only_the_dose_at_that_minute_moves(directions: str, then: str) -> None:
    act = MoveHour("r1", 450, Moment.MID_MORNING, 630)
    day_of_client = Client("Una Example").day
    assert moved(parse_directions(directions), act, day_of_client) == parse_directions(then)


def test_other_remedies_and_steps_stay_where_nothing_falls_there() -> None:
    made = course(remedy("nettle-leaf"), remedy("sage", name="r2"), client=IRON)
    after = with_hour_moved(made, MoveHour("r1", 450, Moment.MID_MORNING, 630))
    lines = {line.remedy: str(line.directions) for line in after.protocol.phases[0].lines}
    assert lines == {"r1": "1 cup at mid-morning,lunch,supper", "r2": "1 cup tds"}


def test_an_operation_is_paused_over_and_a_long_use_stopped() -> None:
    client = with_facts(Fact("planned-surgery", since=day(28)))
    made = course(remedy("chamomile"), client=client, weeks=8)
    assert PauseOver(day(14), day(35)) in acts_on(made, "chamomile.planned-surgery")
    long = course(remedy("liquorice"), weeks=10)
    assert StopFrom("r1", day(29)) in acts_on(long, "length.liquorice.max-course")


def test_too_much_is_given_otherwise() -> None:
    made = course(remedy("bogbean"))
    assert GiveOtherwise("r1") in acts_on(made, "over.bogbean")


def test_a_herb_is_left_out_where_it_is_not_alone_or_swapped() -> None:
    client = with_facts("anticoagulant")
    made = course(remedy("willow-bark", "rosehip"), client=client)
    offered = acts_on(made, "willow-bark.anticoagulant")
    assert LeaveHerbOut("r1", "willow-bark") in offered
    assert SwapHerb("r1", "willow-bark") in offered
    alone = acts_on(course(remedy("willow-bark"), client=client), "willow-bark.anticoagulant")
    assert alone == (SwapHerb("r1", "willow-bark"),)


def test_a_note_changes_no_formula() -> None:
    made = course(remedy("ginger", "rosehip"), client=with_facts("sertraline"))
    assert acts_on(made, "ginger.bleeding-risk") == ()


def test_a_formula_before_the_course_is_changed_in_it() -> None:
    made = course(remedy("willow-bark", "rosehip"), client=with_facts("anticoagulant"))
    changed = without_herb(made.remedies[0], "willow-bark")
    after = with_formula(made, changed, today=day(0), reason="")
    assert [part.herb for part in after.remedies[0].ingredients] == ["rosehip"]
    assert after.revisions == ()
    assert "willow-bark.anticoagulant" not in found(after)


def test_a_formula_in_a_running_course_is_a_decision_from_tomorrow_on() -> None:
    made = course(remedy("willow-bark", "rosehip"), client=with_facts("anticoagulant"))
    changed = with_other_herb(made.remedies[0], "willow-bark", "nettle-leaf")
    after = with_formula(made, changed, today=day(7), reason="Warfarin began")
    (revision,) = after.revisions
    assert isinstance(revision, Reformulate)
    assert (revision.on, revision.first, revision.formula) == (day(7), day(8), "r1-2")
    assert revision.reason == "Warfarin began"
    assert [one.id for one in after.remedies] == ["r1", "r1-2"]
    finding = found(after)["willow-bark.anticoagulant"]
    assert (finding.first, finding.last) == (START, day(7))
    again = with_formula(after, changed, today=day(9), reason="")
    assert again.remedies[-1].id == "r1-3"


def test_each_remedy_loses_only_the_herbs_that_it_holds() -> None:
    made = course(remedy("valerian"), remedy("passionflower", "hops", name="r2"))
    assert acts_on(made, "burden.sedatives.3") == (
        SwapHerb("r1", "valerian"),
        LeaveHerbOut("r2", "passionflower"),
        SwapHerb("r2", "passionflower"),
        LeaveHerbOut("r2", "hops"),
        SwapHerb("r2", "hops"),
    )
