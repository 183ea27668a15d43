"""Edits of phases and lines, and what is typed for steps."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from sennight.domain.courses.courses import Advance, Course, End, Extend, Flare
from sennight.domain.courses.editing import (
    EditError,
    add_line,
    add_phase,
    copy_phase,
    move_phase,
    remove_line,
    remove_phase,
    rename_phase,
    split_phase,
    with_directions,
    with_length,
    with_line,
    with_remedy,
    with_steps,
)
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import Phase, Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.courses.typed_lines import steps_text
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Directions, SameTimeError
from support import samples
from support.draws import draws

FEW = settings(
    max_examples=draws(20),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def protocol() -> Protocol:
    return Protocol(
        "Test",
        (
            samples.phase("loading", "6 w", samples.line("t1", "1 cup tds", (4, "1 cup bd"))),
            samples.phase("maintenance", None, samples.line("t1", "1 cup od")),
            samples.phase("rescue", "1 w", samples.line("t2", "2 mL qds")),
        ),
    )


def ids(one: Protocol) -> list[str]:
    return [phase.id for phase in one.phases]


def test_a_line_is_added_changed_and_removed() -> None:
    more = add_line(protocol(), "loading", samples.line("t2", "2 mL bd"))
    more = with_directions(more, "loading", "t2", samples.take("3 mL bd"))
    more = with_steps(more, "loading", "t1", ())
    phase = more.phase("loading")
    assert phase is not None
    assert [(x.remedy, str(x.directions), x.steps) for x in phase.lines] == [
        ("t1", "1 cup tds", ()),
        ("t2", "3 mL bd", ()),
    ]
    assert remove_line(remove_line(more, "loading", "t2"), "loading", "t1").phases[0].lines == ()


def test_a_second_line_for_a_remedy_is_refused() -> None:
    with pytest.raises(EditError, match="at most one line"):
        add_line(protocol(), "loading", samples.line("t1", "1 cup od"))
    more = add_line(protocol(), "loading", samples.line("t2", "2 mL bd"))
    with pytest.raises(EditError, match="at most one line"):
        with_line(more, "loading", "t2", samples.line("t1", "1 cup od"))


def test_phases_are_added_copied_moved_and_removed() -> None:
    added, new = add_phase(protocol(), "maintenance", "taper")
    assert new == "taper"
    assert ids(added) == ["loading", "taper", "maintenance", "rescue"]
    copied, copy = copy_phase(added, "loading")
    assert ids(copied) == ["loading", copy, "taper", "maintenance", "rescue"]
    assert copy == "loading 2"
    assert ids(move_phase(copied, "taper", -1))[1:3] == ["taper", "loading 2"]
    assert ids(remove_phase(copied, "loading"))[0] == "loading 2"


def test_an_open_phase_stays_the_last_and_one_phase_stays() -> None:
    with pytest.raises(EditError, match="stay the last"):
        move_phase(protocol(), "loading", 1)
    with pytest.raises(EditError, match="stands at that end"):
        move_phase(protocol(), "loading", -1)
    with pytest.raises(EditError, match="only the last"):
        with_length(protocol(), "loading", None)
    with pytest.raises(EditError, match="no place in the sequence"):
        move_phase(protocol(), "rescue", -1)
    with pytest.raises(EditError, match="only phase"):
        remove_phase(remove_phase(protocol(), "loading"), "maintenance")


def test_phases_and_lines_that_are_not_there_are_told() -> None:
    with pytest.raises(EditError, match="no phase “none”"):
        remove_phase(protocol(), "none")
    with pytest.raises(EditError, match="“t3” has no line in phase “loading”"):
        with_directions(protocol(), "loading", "t3", samples.take("1 cup od"))


def test_split_keeps_directions_and_moves_later_steps() -> None:
    parts, new = split_phase(protocol(), "loading", 2)
    first, second = parts.phases[:2]
    assert (first.length, second.length) == (
        Length(2, CalendarUnit.WEEKS),
        Length(4, CalendarUnit.WEEKS),
    )
    assert new == second.id == "loading 2"
    assert first.lines[0].steps == ()
    assert steps_text(second.lines[0].steps) == "2 w: 1 cup bd"
    on_the_step, _ = split_phase(protocol(), "loading", 4)
    assert str(on_the_step.phases[1].lines[0].directions) == "1 cup bd"
    with pytest.raises(EditError, match="week inside"):
        split_phase(protocol(), "loading", 6)


def test_an_open_phase_is_split_into_weeks_and_an_open_one() -> None:
    rest = Phase("rest", "maintenance", None, (samples.line("t1", "1 cup od"),))
    parts, new = split_phase(Protocol("T", (rest,)), "rest", 3)
    lengths = [(phase.id, phase.length) for phase in parts.phases]
    assert lengths == [("rest", Length(3, CalendarUnit.WEEKS)), (new, None)]
    months = replace(rest, length=Length(2, CalendarUnit.MONTHS))
    with pytest.raises(EditError, match="counted in months; expected weeks or days"):
        split_phase(Protocol("T", (months,)), "rest", 3)


@FEW
@given(samples.courses(), st.integers(1, 8))
def test_split_changes_no_dose_where_nothing_is_counted_from_an_anchor(
    course: Course, weeks: int
) -> None:
    phase = _uncounted(course.protocol.phases[0])
    phases = (phase, *course.protocol.phases[1:])
    course = replace(course, protocol=replace(course.protocol, phases=phases))
    try:
        parts, _ = split_phase(course.protocol, phase.id, weeks)
        before = lay_out(course)
    except (EditError, LayoutError, SameTimeError):
        reject()
    after = lay_out(replace(course, protocol=parts))
    assert _days(before.stretches) == _days(after.stretches)


def _uncounted(phase: Phase) -> Phase:
    """The phase without cycles and without days that are counted."""

    def take(one: Directions) -> Directions:
        return replace(one, cycle=None, days=replace(one.days, every=1))

    lines = (
        replace(
            line,
            directions=take(line.directions),
            steps=tuple(replace(step, directions=take(step.directions)) for step in line.steps),
        )
        for line in phase.lines
    )
    return replace(phase, lines=tuple(lines))


def _days(stretches: tuple[object, ...]) -> set[tuple[object, ...]]:
    return {
        (day, s.remedy, s.amount, s.unit, s.times)  # type: ignore[attr-defined]
        for s in stretches
        for day in s.days_taken()  # type: ignore[attr-defined]
    }


def test_a_phase_that_a_decision_names_keeps_its_name() -> None:
    course = samples.course(*protocol().phases)
    renamed = rename_phase(course, "loading", "  first   weeks ")
    assert rename_phase(course, "loading", " loading ") is course
    assert ids(renamed.protocol)[0] == "first weeks"
    extended = replace(course, revisions=(Extend(on=samples.START, phase="loading", by=7),))
    with pytest.raises(EditError, match="names “loading”"):
        rename_phase(extended, "loading", "other")
    decided = replace(
        course,
        revisions=(
            Flare(on=samples.day(8), first=samples.day(8), rescue="rescue"),
            Advance(on=samples.day(20), to="maintenance", first=samples.day(21)),
            End(on=samples.day(90), first=samples.day(99)),
        ),
    )
    assert ids(rename_phase(decided, "loading", "first").protocol)[0] == "first"
    for named in ("rescue", "maintenance"):
        with pytest.raises(EditError, match=f"names “{named}”"):
            rename_phase(decided, named, "other")
    with pytest.raises(EditError, match="name of its own"):
        rename_phase(course, "loading", "rescue")
    with pytest.raises(EditError, match="has no name"):
        rename_phase(course, "loading", "  ")


def test_a_remedy_joins_a_course_once() -> None:
    plan = samples.course(*protocol().phases)
    new = samples.remedy("t4")
    with_new = with_remedy(plan, new)
    assert [one.id for one in with_new.remedies] == ["t1", "t2", "t3", "t4"]
    assert with_remedy(with_new, new) is with_new


def test_what_is_left_of_the_least_time_goes_to_the_second_part() -> None:
    plan = protocol()
    loading = replace(plan.phases[0], at_least_weeks=5)
    plan = replace(plan, phases=(loading, *plan.phases[1:]))
    for weeks, left in ((2, 3), (5, None)):
        parts, new = split_phase(plan, "loading", weeks)
        first, second = parts.phase("loading"), parts.phase(new)
        assert first
        assert second
        assert (first.at_least_weeks, second.at_least_weeks) == (None, left)
