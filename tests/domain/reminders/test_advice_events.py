"""Reminders of a phase's advice: at its times, in entries of its own, or once without times."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.parser import parse_timing
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from support.samples import course, day, line, phase

LINE = line("t1", "1 cup at 08:00")


def advised(*advice: AdviceLine, cycle: str = "2 w") -> Course:
    return course(replace(phase("one", cycle, LINE), advice=advice), phase("two", "2 w", LINE))


def timed(text: str, rhythm: str) -> AdviceLine:
    return AdviceLine(text, parse_timing(rhythm), remind=True)


def events(plan: Course, choices: ReminderChoices | None = None) -> list[Event]:
    every = reminder_events(lay_out(plan), choices or ReminderChoices())
    return [event for event in every if event.kind is EventKind.ADVICE]


def days_of(event: Event) -> list[date]:
    return list(event.run)


def test_it_comes_at_its_times_while_its_phase_runs() -> None:
    (walk,) = events(advised(timed("walk for 20 minutes.", "at 08:00 on mon thu")))
    assert (walk.title, walk.minute) == ("Walk for 20 minutes", 480)
    assert days_of(walk) == [day(1), day(4), day(8), day(11)]


def test_it_never_shares_an_entry_with_a_dose() -> None:
    every = reminder_events(lay_out(advised(timed("walk", "at 08:00"))), ReminderChoices())
    titles = [event.title for event in every if event.minute == 480]
    assert sorted(titles) == ["Remedy t1: 1 cup", "Walk"]


def test_what_is_due_at_one_minute_is_one_entry() -> None:
    (both,) = events(advised(timed("walk", "at 08:00"), timed("stretch", "at 08:00")))
    assert both.title == "Walk, Stretch"
    assert len(days_of(both)) == 14


def test_only_what_is_wanted_comes() -> None:
    assert events(advised(replace(timed("walk", "od"), remind=False))) == []


def test_without_times_it_is_told_where_its_phase_begins() -> None:
    plan = advised(
        AdviceLine("leave out coffee", remind=True), timed("rub the knee", "prn max 3/day")
    )
    (told,) = events(plan)
    assert (told.run.first, told.minute) == (day(1), None)
    assert told.title == "From today: Leave out coffee, Rub the knee"
    assert told.text == "Leave out coffee.\nRub the knee: when needed, at most 3 times a day."


def test_a_cycle_of_advice_counts_from_its_phase_and_a_pause_changes_nothing() -> None:
    plan = advised(timed("walk", "at 08:00 3 d on 4 d off"))
    pause = Pause(on=day(1), first=day(1), last=day(2), mode=PauseMode.SKIP)
    days = [days_of(event) for event in events(replace(plan, revisions=(pause,)))]
    assert days == [[day(1), day(2), day(3)], [day(8), day(9), day(10)]]


def test_past_midnight_it_carries_the_next_date_and_flares_have_theirs() -> None:
    rescue = replace(phase("rescue", "2 d", LINE), advice=(timed("rest", "nocte"),))
    plan = course(phase("one", "2 w", LINE), rescue)
    late = replace(plan.client, day=ClientDay.at({Moment.BEDTIME: time(0, 30)}))
    flare = Flare(on=day(3), first=day(3), rescue="rescue")
    (told,) = events(replace(plan, client=late, revisions=(flare,)))
    assert (days_of(told), told.minute) == ([day(4), day(5)], 30)


def test_a_discreet_entry_tells_nothing() -> None:
    plan = advised(timed("rub the knee", "od"), AdviceLine("leave out gin", remind=True))
    for event in events(plan, ReminderChoices(discreet=True)):
        assert event.text == "See your sheet."
        assert event.title in ("Reminder", "Plan: something to do")
