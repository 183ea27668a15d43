"""Markers of whole days."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pytest

from sennight.domain.courses.courses import Course, End, Extend, Flare, Pause, PauseMode, Stop
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import lay_out
from sennight.domain.remedies.forms import Form
from sennight.domain.reminders.events import (
    DEFAULT_CHOICES,
    EventKind,
    ReminderChoices,
)
from sennight.domain.reminders.markers import review_days
from sennight.domain.reminders.reminders import reminder_events
from support.samples import START, course, day, line, phase


def marks(plan: Course, *kinds: EventKind) -> list[tuple[int, str]]:
    """Markers of some kinds as (course day, title)."""
    return [
        ((event.run.first - START).days + 1, event.title)
        for event in reminder_events(lay_out(plan))
        if event.kind in kinds
    ]


def texts(
    plan: Course, *kinds: EventKind, choices: ReminderChoices = DEFAULT_CHOICES
) -> list[str]:
    events = reminder_events(lay_out(plan), choices)
    return [event.text for event in events if event.kind in kinds]


def test_the_first_day_of_each_phase_and_flare() -> None:
    plan = course(
        phase("loading", "2 w", line("t1", "1 cup tds")),
        phase("maintenance", "4 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 mL od")),
        revisions=(Flare(on=day(20), first=day(20), rescue="rescue"),),
    )
    assert marks(
        plan, EventKind.START, EventKind.PHASE, EventKind.FLARE, EventKind.FLARE_END, EventKind.END
    ) == [
        (1, "Your course starts"),
        (15, "Next stage of your course"),
        (20, "Your flare-up plan starts"),
        (23, "Your flare-up plan is over"),
        (42, "Last day of your course"),
    ]
    assert texts(plan, EventKind.START, EventKind.FLARE, EventKind.FLARE_END) == [
        "Week 1 of your course. See your sheet for what to take from today.",
        "To 25 January 2027. Week 3 of your course. See your sheet for what to take from today.",
        "Yesterday was the last day of your flare-up plan. Go back to your usual plan today.",
    ]


def test_what_is_taken_as_needed_alone_is_told_where_its_phase_begins() -> None:
    plan = course(
        phase("a", "2 w", line("t1", "1 cup prn max 3/day"), line("t2", "1 mL od")),
        phase("b", "2 w", line("t2", "1 mL od and prn max 2/day")),
    )
    (text,) = texts(plan, EventKind.START)
    assert text.splitlines()[1].startswith("Remedy t1: 1 cup when needed")
    assert len(text.splitlines()) == 2
    discreet = texts(plan, EventKind.START, choices=ReminderChoices(discreet=True))[0]
    assert discreet.splitlines()[1].startswith("Tea A: 1 cup when needed")


def test_the_days_on_which_what_is_taken_changes_ring_when_the_client_gets_up() -> None:
    plan = course(phase("a", "16 w", line("t1", "1 cup od 3 w on 1 w off")))
    events = [e for e in reminder_events(lay_out(plan)) if e.minute is None]
    assert {event.kind for event in events if event.alarm == -420} == {
        *(EventKind.START, EventKind.REST, EventKind.RETURN, EventKind.END)
    }
    assert {event.kind for event in events if event.alarm is None} == {EventKind.REVIEW}
    silent = reminder_events(lay_out(plan), ReminderChoices(alarm=None))
    assert {event.alarm for event in silent} == {None}


def test_a_flare_tells_what_its_own_days_have_as_needed() -> None:
    flares = [Flare(on=day(n), first=day(n), rescue="rescue") for n in (5, 20)]
    plan = course(
        phase("a", "4 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 mL prn max 3/day")),
        revisions=(flares[0], Stop(on=day(12), remedy="t2", first=day(12)), flares[1]),
    )
    first, second = texts(plan, EventKind.FLARE)
    assert "Remedy t2: 1 mL when needed" in first
    assert "Remedy t2" not in second


@pytest.mark.parametrize("mode", PauseMode)
def test_a_break_is_told_where_it_begins_and_where_it_ends(mode: PauseMode) -> None:
    pause = Pause(on=day(8), first=day(10), last=day(14), mode=mode)
    plan = course(phase("a", "4 w", line("t1", "1 cup od")), revisions=(pause,))
    assert marks(plan, EventKind.PAUSE, EventKind.RESUME) == [
        (10, "Break: take nothing from today"),
        (15, "Start again today"),
    ]
    assert texts(plan, EventKind.PAUSE) == [
        (
            "From today to 17 January 2027 take none of your remedies. "
            "You start again on 18 January 2027."
        )
    ]


def test_a_break_to_the_end_has_no_new_start_and_a_flare_up_plan_goes_on_in_it() -> None:
    plan = course(
        phase("a", "4 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 mL od")),
        revisions=(
            Pause(on=day(8), first=day(20), last=day(28), mode=PauseMode.SKIP),
            Flare(on=day(8), first=day(21), rescue="rescue"),
        ),
    )
    assert marks(plan, EventKind.PAUSE, EventKind.RESUME) == [
        (20, "Break: take nothing from today")
    ]
    assert texts(plan, EventKind.PAUSE, EventKind.FLARE_END) == [
        "From today to 31 January 2027 take only what your flare-up plan says.",
        "Yesterday was the last day of your flare-up plan. Your break goes on.",
    ]


def test_a_break_after_the_course_s_end_is_not_told() -> None:
    plan = course(
        phase("a", "4 w", line("t1", "1 cup od")),
        revisions=(
            Pause(on=day(8), first=day(20), last=day(22), mode=PauseMode.SKIP),
            End(on=day(9), first=day(15)),
        ),
    )
    assert marks(plan, EventKind.PAUSE, EventKind.RESUME) == []


def test_a_flare_up_plan_that_goes_into_another_or_to_the_end_has_no_end_of_its_own() -> None:
    plan = course(
        phase("a", "2 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 mL od")),
        revisions=(
            Flare(on=day(2), first=day(2), rescue="rescue"),
            Flare(on=day(5), first=day(5), rescue="rescue"),
            Flare(on=day(12), first=day(12), rescue="rescue"),
        ),
    )
    assert marks(plan, EventKind.FLARE_END) == [(8, "Your flare-up plan is over")]


def test_a_stopped_remedy_is_told_while_the_rest_goes_on() -> None:
    plan = course(
        phase("a", "4 w", line("t1", "1 cup od"), line("t2", "1 mL od")),
        phase("b", "1 w", line("t3", "1 mL od")),
        revisions=(
            Stop(on=day(8), remedy="t1", first=day(10)),
            Stop(on=day(9), remedy="t3", first=day(10)),
            End(on=day(9), first=day(15)),
        ),
    )
    assert marks(plan, EventKind.STOP) == [(10, "Stopped from today: Remedy t1")]
    assert texts(plan, EventKind.STOP) == [
        "From today take no more of Remedy t1. Keep to the rest of your plan."
    ]
    discreet = texts(plan, EventKind.STOP, choices=ReminderChoices(discreet=True))
    assert "t1" not in discreet[0]


def test_remedies_off_on_the_same_days_are_told_together() -> None:
    plan = course(
        phase(
            "a",
            "9 w",
            line("t1", "1 cup od 3 w on 1 w off"),
            line("t2", "1 mL od 3 w on 1 w off"),
            line("t3", "1 mL od 3 w on 2 w off"),
        )
    )
    assert marks(plan, EventKind.REST, EventKind.RETURN) == [
        (22, "Days off from today: Remedy t1, Remedy t2, Remedy t3"),
        (29, "Start again from today: Remedy t1, Remedy t2"),
        (36, "Start again from today: Remedy t3"),
        (50, "Days off from today: Remedy t1, Remedy t2"),
        (57, "Days off from today: Remedy t3"),
        (57, "Start again from today: Remedy t1, Remedy t2"),
    ]
    assert texts(plan, EventKind.REST)[0] == (
        "From today to 31 January 2027, leave out Remedy t1 and Remedy t2.\n"
        "From today to 7 February 2027, leave out Remedy t3."
    )
    assert texts(plan, EventKind.RETURN)[0] == "Start again today with Remedy t1 and Remedy t2."


def test_names_are_told_as_they_were_written() -> None:
    plan = course(phase("a", "5 w", line("t1", "1 cup od 3 w on 1 w off")))
    plan = replace(plan, remedies=(replace(plan.remedies[0], name="t2 (aM)"), *plan.remedies[1:]))
    told = [*texts(plan, *EventKind), *(title for _, title in marks(plan, *EventKind))]
    written = [text for text in told if "t2" in text.lower()]
    assert len(written) == 6  # two doses, and two marks of it with titles and texts
    assert all("t2 (aM)" in text for text in written)


def test_every_text_is_whole_sentences() -> None:
    first = phase(
        "a", "16 w", line("t1", "1 cup od 3 w on 1 w off"), line("t3", "1 application od")
    )
    plan = course(
        replace(first, advice=(AdviceLine("leave out coffee", remind=True),)),
        phase("b", "4 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 mL od")),
        revisions=(
            Flare(on=day(8), first=day(8), rescue="rescue"),
            Pause(on=day(8), first=day(14), last=day(15), mode=PauseMode.SKIP),
            Stop(on=day(20), remedy="t3", first=day(20)),
        ),
    )
    rub = replace(plan.remedies[2], form=Form.RUB)
    plan = replace(plan, remedies=(*plan.remedies[:2], rub, *plan.remedies[3:]))
    for discreet in (False, True):
        events = reminder_events(lay_out(plan), ReminderChoices(discreet=discreet))
        days = [event for event in events if event.minute is None]
        assert {event.kind for event in days} == set(EventKind) - {
            EventKind.DOSE,
            EventKind.REORDER,
        }
        for event in days:
            assert re.fullmatch(r"([A-Z][^.]*\. ?)+", event.text.replace("\n", " ")), event.text


def test_discreet_texts_send_the_client_to_the_sheet() -> None:
    plan = course(phase("a", "5 w", line("t1", "1 cup od 3 w on 1 w off")))
    discreet = ReminderChoices(discreet=True)
    assert texts(plan, EventKind.REST, choices=discreet) == [
        "From today to 31 January 2027, leave out what your sheet says."
    ]
    assert texts(plan, EventKind.RETURN, choices=discreet) == [
        "Start again today with what your sheet says."
    ]


def test_days_off_of_less_than_a_week_get_no_marker() -> None:
    plan = course(phase("a", "4 w", line("t1", "1 cup od 5 d on 2 d off")))
    assert marks(plan, EventKind.REST, EventKind.RETURN) == []


def test_time_off_that_a_pause_cuts_is_told_once() -> None:
    pause = Pause(on=day(1), first=day(24), last=day(25), mode=PauseMode.SKIP)
    plan = course(phase("a", "8 w", line("t1", "1 cup od 3 w on 2 w off")), revisions=(pause,))
    assert marks(plan, EventKind.REST, EventKind.RETURN) == [
        (22, "Days off from today: Remedy t1"),
        (36, "Start again from today: Remedy t1"),
    ]


def test_nothing_comes_again_after_the_last_time_off() -> None:
    plan = course(phase("a", "4 w", line("t1", "1 cup od 3 w on 1 w off")))
    assert marks(plan, EventKind.REST, EventKind.RETURN) == [
        (22, "Days off from today: Remedy t1")
    ]


def test_the_patch_test_comes_two_days_before_a_rub_or_on_the_first_day() -> None:
    plan = course(
        phase("a", "2 w", line("t1", "1 cup od"), line("t3", "1 application od")),
        phase("b", "2 w", line("t2", "1 application prn max 2/day")),
    )
    rubs = tuple(replace(r, form=Form.RUB) if r.id in {"t2", "t3"} else r for r in plan.remedies)
    assert marks(replace(plan, remedies=rubs), EventKind.PATCH_TEST) == [
        (1, "Patch test: Remedy t3"),
        (13, "Patch test: Remedy t2"),
    ]


def test_reviews_come_at_the_end_of_a_phase_and_every_twelve_weeks_in_it() -> None:
    layout = lay_out(
        course(
            phase("loading", "6 w", line("t1", "1 cup tds")),
            phase("maintenance", "24 w", line("t1", "1 cup od")),
        )
    )
    assert review_days(layout) == (day(42), day(127), day(210))
    longer = course(
        phase("loading", "6 w", line("t1", "1 cup tds")),
        revisions=(Extend(on=day(30), phase="loading", by=7),),
    )
    assert review_days(lay_out(longer)) == (day(49),)


def test_reorders_of_one_day_share_a_marker() -> None:
    layout = lay_out(course(phase("a", "2 w", line("t1", "1 cup od"))))
    told = ((day(5), "Joint tea: 250 g"), (day(5), "Night drops: 100 mL"))
    events = [
        e
        for e in reminder_events(layout, ReminderChoices(reorders=told))
        if e.kind is EventKind.REORDER
    ]
    assert [(e.run.first, e.title, e.text) for e in events] == [
        (date(2027, 1, 8), "Order supplies", "Joint tea: 250 g\nNight drops: 100 mL")
    ]


def test_markers_can_be_left_out() -> None:
    layout = lay_out(course(phase("a", "2 w", line("t1", "1 cup od"))))
    events = reminder_events(layout, ReminderChoices(markers=False))
    assert {event.kind for event in events} == {EventKind.DOSE}
