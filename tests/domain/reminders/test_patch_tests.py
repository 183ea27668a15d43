"""Patch tests come before the first use of a rub; where they cannot, the first uses say so."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sennight.domain.courses.courses import (
    Advance,
    Course,
    Flare,
    Join,
    Pause,
    PauseMode,
    Reformulate,
    Revision,
)
from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import lay_out
from sennight.domain.remedies.forms import Form
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.wording import UNTESTED
from support.samples import START, course, day, line, phase, take

QUIET = ReminderChoices()
TEA = line("t1", "1 cup od")
RUB = line("t3", "1 application bd")


def a_course(*phases: Phase, revisions: tuple[Revision, ...] = ()) -> Course:
    plan = course(*phases, revisions=revisions)
    first, second, third = plan.remedies
    return replace(plan, remedies=(first, second, replace(third, form=Form.RUB)))


def entries(plan: Course, given: date | None = None) -> list[Event]:
    return list(reminder_events(lay_out(plan), QUIET, given=given))


def _days(events: list[Event]) -> list[int]:
    return [(e.run.first - START).days + 1 for e in events if e.kind is EventKind.PATCH_TEST]


def untested_days(events: list[Event]) -> list[int]:
    """Course days on which a use says that it needs a clear test first."""
    days = {when for e in events if UNTESTED in e.title for when in e.run}
    return sorted((when - START).days + 1 for when in days)


def test_a_rub_from_the_first_day() -> None:
    events = entries(a_course(phase("a", "2 w", TEA, RUB)))
    assert (_days(events), untested_days(events)) == ([1], [1, 2])
    titles = [event.title for event in events if event.minute and event.run.first == START]
    assert "Remedy t3: a thin layer, only if your skin test was clear" in titles
    (test,) = (event for event in events if event.kind is EventKind.PATCH_TEST)
    assert test.alarm == -420
    assert test.text.endswith("If it stays clear, use it from 6 January 2027.")


@pytest.mark.parametrize(
    ("given", "tested", "untested"), [(-1, [-1], []), (0, [0], [1]), (5, [1], [1, 2])]
)
def test_a_course_given_before_it_starts(
    given: int, tested: list[int], untested: list[int]
) -> None:
    events = entries(a_course(phase("a", "2 w", TEA, RUB)), given=day(given))
    assert (_days(events), untested_days(events)) == (tested, untested)


def test_a_later_phase_gives_time_enough() -> None:
    events = entries(a_course(phase("a", "2 w", TEA), phase("b", "2 w", RUB)))
    assert (_days(events), untested_days(events)) == ([13], [])


@pytest.mark.parametrize(
    "revision",
    [
        Flare(on=day(10), first=day(10), rescue="rescue"),
        Advance(on=day(10), to="rescue", first=day(10)),
    ],
)
def test_what_begins_on_the_day_of_its_decision_says_so(revision: Revision) -> None:
    rub_phase = phase("rescue", "2 w", RUB)
    if isinstance(revision, Advance):
        rub_phase = replace(rub_phase, purpose="more")
    plan = a_course(phase("a", "4 w", TEA), rub_phase, revisions=(revision,))
    events = entries(plan)
    assert (_days(events), untested_days(events)) == ([10], [10, 11])


def test_a_decision_that_brings_no_rub_leaves_the_test_where_it_is() -> None:
    pause = Pause(on=day(13), first=day(4), last=day(5), mode=PauseMode.SKIP)
    phases = phase("a", "2 w", TEA), phase("b", "2 w", RUB)
    events = entries(a_course(*phases, revisions=(pause,)))
    assert (_days(events), untested_days(events)) == ([13], [])


def test_a_rub_that_takes_another_s_place_is_tested_by_itself() -> None:
    plan = a_course(phase("a", "4 w", TEA, line("t2", "1 application od")))
    first, second, third = plan.remedies
    rubs = (first, replace(second, form=Form.RUB), third)
    change = Reformulate(on=day(10), remedy="t2", first=day(10), formula="t3")
    events = entries(replace(plan, remedies=rubs, revisions=(change,)))
    assert (_days(events), untested_days(events)) == ([1, 10], [1, 2, 10, 11])


def test_a_second_flare_needs_no_second_test() -> None:
    flares = (
        Flare(on=day(10), first=day(12), rescue="rescue", last=day(13)),
        Flare(on=day(20), first=day(20), rescue="rescue"),
    )
    plan = a_course(phase("a", "4 w", TEA), phase("rescue", "3 d", RUB), revisions=flares)
    events = entries(plan)
    assert (_days(events), untested_days(events)) == ([10], [])


def test_every_other_day_is_told_apart_as_well() -> None:
    every_other = line("t3", "1 application od alternate days")
    events = entries(a_course(phase("a", "2 w", every_other)))
    uses = [(event.title, event.run.count) for event in events if event.kind is EventKind.DOSE]
    assert uses == [
        (f"Remedy t3: a thin layer, {UNTESTED}", 1),
        ("Remedy t3: a thin layer", 6),
    ]


def test_a_rub_that_joins_a_phase_is_tested_when_the_client_hears_of_it() -> None:
    """Decided the day before its first use: tested on that day, and that use comes too soon."""
    joins = Join(on=day(10), remedy="t3", first=day(11), directions=take("1 application bd"))
    events = entries(a_course(phase("a", "4 w", TEA), revisions=(joins,)))
    assert (_days(events), untested_days(events)) == ([10], [11])


def test_a_formula_that_takes_a_rubs_place_is_tested_for_itself() -> None:
    """The first rub, from day 1, is known by then; the other's first use on day 20 is not."""
    replaces = Reformulate(on=day(19), remedy="t3", first=day(20), formula="t2")
    plan = a_course(phase("a", "4 w", TEA, RUB), revisions=(replaces,))
    first, second, third = plan.remedies
    plan = replace(plan, remedies=(first, replace(second, form=Form.RUB), third))
    events = entries(plan)
    assert (_days(events), untested_days(events)) == ([1, 19], [1, 2, 20])


def test_a_rub_used_only_before_its_test_has_had_its_time() -> None:
    events = entries(a_course(phase("a", "2 d", RUB), phase("b", "2 w", TEA)))
    assert (_days(events), untested_days(events)) == ([1], [1, 2])
