"""A line's directions as stages of its phase."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sennight.domain.courses.courses import Pause, PauseMode
from sennight.domain.courses.plan import Plan
from sennight.domain.courses.protocols import Line, Step
from sennight.domain.courses.revising import plan_course
from sennight.domain.schedule.titration import titration
from support.samples import START, course, day, phase, take

DROPS = Line(
    "t2",
    take("5 drop bd"),
    (Step(3, take("10 drop bd")), Step(7, take("15 drop bd")), Step(21, take("20 drop bd"))),
)
"""A tincture begun with few drops: common practice."""


def told(plan: Plan, line: Line, at: int = 0) -> list[tuple[int, int | None, date | None]]:
    stages = titration(plan, plan.course.protocol.phases[at], line)
    return [(one.first, one.last, one.span.first if one.span else None) for one in stages]


def test_each_stage_ends_where_the_next_begins_and_the_last_with_its_phase() -> None:
    plan = plan_course(course(phase("one", "2 w", DROPS), phase("two", "1 w")))
    assert told(plan, DROPS) == [
        (1, 3, day(1)),
        (4, 7, day(4)),
        (8, 14, day(8)),
        (22, None, None),
    ]
    stages = titration(plan, plan.course.protocol.phases[0], DROPS)
    assert [str(stage.directions)[:2] for stage in stages] == ["5 ", "10", "15", "20"]
    assert stages[1].span
    assert stages[1].span.last == day(7)


def test_a_freeze_moves_the_real_days_alone() -> None:
    freeze = Pause(on=START, first=day(5), last=day(9), mode=PauseMode.FREEZE)
    plan = plan_course(replace(course(phase("one", "4 w", DROPS)), revisions=(freeze,)))
    assert told(plan, DROPS)[:3] == [(1, 3, day(1)), (4, 7, day(4)), (8, 21, day(13))]


def test_a_flare_up_plan_has_days_of_its_own_and_no_dates() -> None:
    plan = plan_course(course(phase("one", "4 w"), phase("rescue", "5 d", DROPS)))
    assert told(plan, DROPS, at=1) == [(1, 3, None), (4, 5, None), (8, 21, None), (22, None, None)]
    alone = Line("t2", take("5 drop bd"))
    assert told(plan, alone, at=1) == [(1, 5, None)]
    open_rescue = replace(plan.course.protocol.phases[1], length=None)
    (stage,) = titration(plan, open_rescue, alone)
    assert (stage.first, stage.last) == (1, None)
