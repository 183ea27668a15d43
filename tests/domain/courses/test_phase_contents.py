"""What a phase holds beside plain lines: steps in days, the course's cycles, ceilings, advice."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.courses import Advance, Course, Extend, Join, Pause, PauseMode
from sennight.domain.courses.least_time import early_end_words, early_ends
from sennight.domain.courses.phase_words import (
    advice_words,
    ceiling_words,
    line_remarks,
    phase_remarks,
    remark_changes,
)
from sennight.domain.courses.problems import protocol_problems
from sennight.domain.courses.protocols import (
    AdviceLine,
    Ceiling,
    CountFrom,
    Line,
    Protocol,
    Step,
)
from sennight.domain.courses.revising import plan_course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import ClientDay
from sennight.domain.directions.parser import parse_timing
from sennight.domain.remedies.forms import Form
from support.samples import START, course, day, line, phase, take

DAY = ClientDay.at()
THREE_OFF = "1 cup bd 9 w on 3 w off"
"""“3 weeks off every 3 months”, three months being 12 weeks."""


def from_course(text: str = THREE_OFF) -> Line:
    return replace(line("t1", text), count_from=CountFrom.COURSE)


def days_off(one: Course) -> list[tuple[date, date]]:
    return [(rest.span.first, rest.span.last) for rest in lay_out(one).rests]


def test_a_cycle_from_the_course_goes_on_through_a_change_of_phase() -> None:
    """Nine weeks of six in loading and three in maintenance; then off in weeks 10 to 12."""
    both = course(phase("one", "6 w", from_course()), phase("two", "20 w", from_course()))
    assert days_off(both) == [(day(64), day(84)), (day(148), day(168))]
    own = course(
        phase("one", "6 w", line("t1", THREE_OFF)), phase("two", "20 w", line("t1", THREE_OFF))
    )
    assert days_off(own)[0] == (day(106), day(126))


def test_it_stays_where_a_phase_gets_longer_or_ends_early_and_moves_with_a_freeze() -> None:
    both = course(phase("one", "6 w", from_course()), phase("two", "20 w", from_course()))
    extend = Extend(on=START, phase="one", by=2, in_weeks=True)
    advance = Advance(on=START, to="two", first=day(22))
    for revision in (extend, advance):
        assert days_off(replace(both, revisions=(revision,)))[0] == (day(64), day(84))
    freeze = Pause(on=START, first=day(10), last=day(16), mode=PauseMode.FREEZE)
    skip = replace(freeze, mode=PauseMode.SKIP)
    assert days_off(replace(both, revisions=(freeze,)))[0] == (day(71), day(91))
    assert days_off(replace(both, revisions=(skip,)))[0] == (day(64), day(84))


def test_a_step_of_such_a_line_keeps_the_beat() -> None:
    stepped = replace(from_course(), steps=(Step(45, take("1 cup od 9 w on 3 w off")),))
    assert days_off(course(phase("one", "20 w", stepped))) == [(day(64), day(84))]


def test_a_step_comes_on_any_day() -> None:
    rub = Line("t1", take("1 cup every 1-3 h prn"), (Step(3, take("1 cup bd")),))
    first, second = lay_out(course(phase("one", "2 w", rub))).stretches
    assert (first.span.last, second.span.first) == (day(3), day(4))
    assert [str(step.after) for step in (Step(3, rub.directions), Step(14, rub.directions))] == [
        "3 d",
        "2 w",
    ]


# Ceilings


def bounded(*lines: Line, most: int = 4) -> Course:
    one = course(phase("one", "2 w", *lines))
    return replace(one, protocol=replace(one.protocol, ceilings=(Ceiling(("t1", "t2"), most),)))


def needed(*lines: Line, most: int = 4) -> list[int | None]:
    return [stretch.as_needed_max for stretch in lay_out(bounded(*lines, most=most)).stretches]


def test_a_ceiling_bounds_what_is_taken_as_needed() -> None:
    hourly = line("t1", "1 cup every 1-3 h prn")
    assert needed(hourly) == [4]
    assert needed(hourly, most=20) == [16]
    assert needed(line("t1", "1 cup tds and prn max 3/day")) == [1]
    assert needed(line("t1", "1 cup qds and prn max 3/day")) == [None]
    assert needed(line("t3", "1 cup every 1-3 h prn")) == [16]


def test_a_bounded_line_says_so() -> None:
    one = bounded(line("t1", "1 cup every 1-3 h prn"))
    (stretch,) = lay_out(one).stretches
    assert str(stretch.directions) == "1 cup every 1-3 h prn max 4/day"
    timed = take("1 cup tds")
    assert within_ceilings(one.protocol, "t1", timed, DAY) is timed


def test_a_remedy_that_joined_has_no_line() -> None:
    one = course(phase("one", "2 w", line("t1", "1 cup od")))
    join = Join(on=START, remedy="t2", first=day(3), directions=take("1 cup od"))
    layout = lay_out(replace(one, revisions=(join,)))
    assert [layout.line_of(stretch) for stretch in layout.stretches] == [
        one.protocol.phases[0].lines[0],
        None,
    ]


# Least time


def test_ending_before_the_least_time_is_told_and_not_refused() -> None:
    joint = replace(phase("loading", "12 w"), at_least_weeks=6)
    one = course(joint, phase("maintenance", "12 w"))
    assert early_ends(plan_course(one)) == ()
    exactly = replace(one, revisions=(Advance(on=START, to="maintenance", first=day(43)),))
    assert early_ends(plan_course(exactly)) == ()
    early = replace(one, revisions=(Advance(on=START, to="maintenance", first=day(42)),))
    (told,) = early_ends(plan_course(early))
    assert early_end_words(told) == ("Loading lasts 41 days; it should last at least 6 weeks.")
    freeze = Pause(on=START, first=day(2), last=day(8), mode=PauseMode.FREEZE)
    paused = replace(early, revisions=(freeze, *exactly.revisions))
    assert early_ends(plan_course(paused))[0].days == 35


# Words


@pytest.mark.parametrize(
    ("advice", "said"),
    [
        (AdviceLine("leave out coffee"), "Leave out coffee."),
        (AdviceLine("Sleep before midnight!"), "Sleep before midnight!"),
        (
            AdviceLine("walk for 20 minutes.", parse_timing("od on mon wed")),
            "Walk for 20 minutes: at breakfast; on Mondays and Wednesdays.",
        ),
    ],
)
def test_advice_is_said_with_when_it_is_for(advice: AdviceLine, said: str) -> None:
    assert advice_words(advice, DAY) == said


def test_what_a_line_says_beside_its_directions() -> None:
    rub = replace(line("t1", "1 cup od"), site="right knee only", note="with friction.")
    assert line_remarks(rub, Form.RUB) == ("Where: right knee only.", "With friction.")
    assert line_remarks(replace(rub, note=""), Form.RUB) == ("Where: right knee only.",)
    assert line_remarks(replace(rub, site=""), Form.RUB) == ("With friction.",)
    deep = replace(rub, site="left hip", note="")
    assert len(line_remarks(deep, Form.CREAM)) == 2
    assert line_remarks(deep, Form.TEA) == ("Where: left hip.",)
    full = replace(
        phase("one", "2 w", rub, line("t2", "1 cup od")),
        at_least_weeks=1,
        advice=(AdviceLine("rest"),),
    )
    assert phase_remarks(full, {"t1": "Rub"}, DAY) == (
        "At least 1 week.",
        "Rub: right knee only. With friction.",
        "Rest.",
    )
    for trigger in ("the knee is hot and swollen.", "When the knee is hot and swollen"):
        (said,) = phase_remarks(replace(phase("rescue", "3 d"), trigger=trigger), {}, DAY)
        assert said.lower() == "start when the knee is hot and swollen."


def test_what_two_courses_say_otherwise_is_told() -> None:
    plain = course(phase("one", "2 w", line("t1", "1 cup od")))
    rich = replace(phase("one", "2 w", line("t1", "1 cup od")), advice=(AdviceLine("rest"),))
    protocol = Protocol("Test", (rich,), (), (Ceiling(("t1",), 2),))
    advised = replace(plain, protocol=protocol)
    assert remark_changes(plain, plain) == ()
    assert remark_changes(plain, advised) == (
        "New, in One: Rest.",
        "New, in all phases: Remedy t1: no more than twice a day.",
    )
    assert remark_changes(advised, plain)[0] == "No longer, in One: Rest."


def test_a_ceiling_names_its_remedies() -> None:
    names = {"t1": "Warm rub", "t2": "Cool rub"}
    assert ceiling_words(Ceiling(("t1",), 1), names) == "Warm rub: no more than once a day."
    assert ceiling_words(Ceiling(("t1", "t2"), 4), names) == (
        "Warm rub and Cool rub, all together: no more than four times a day."
    )


# Problems


def problems(protocol: Protocol) -> list[str]:
    return [str(problem) for problem in protocol_problems(protocol, ("t1", "t2"))]


def test_what_is_wrong_with_ceilings_and_flare_up_plans() -> None:
    sound = Protocol("Test", (phase("one", "2 w"),))
    wrong = (Ceiling((), 2), Ceiling(("t9", "t1", "t1"), 2))
    assert problems(replace(sound, ceilings=wrong)) == [
        "protocol.ceiling[1].remedies: expected one remedy at least",
        "protocol.ceiling[2].remedies[1]: no remedy “t9”; expected one of t1, t2",
        "protocol.ceiling[2].remedies[3]: “t1” is named before; expected each once",
    ]
    plan = replace(phase("rescue", "3 d", line("t2", "1 cup od"), from_course()), at_least_weeks=1)
    early = replace(sound.phases[0], trigger="the knee is hot")
    assert problems(replace(sound, phases=(early,))) == [
        "protocol.phase[1].trigger: only a flare-up plan waits for a trigger; leave it out"
    ]
    assert problems(replace(sound, phases=(*sound.phases, plan))) == [
        "protocol.phase[2].at_least_weeks: a flare-up plan ends with the flare; leave it out",
        (
            "protocol.phase[2].line[2].count_from: a flare counts from its own first day; leave "
            "it out"
        ),
    ]
    steps = (Step(10, take("1 cup od")), Step(3, take("1 cup bd")))
    disordered = phase("one", "2 w", replace(line("t1", "1 cup od"), steps=steps))
    (told,) = problems(replace(sound, phases=(disordered,)))
    assert told.startswith("protocol.phase[1].line[1].steps[2].after_days: 3 days does not come")
