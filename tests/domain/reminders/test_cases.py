"""Events of small courses, one case each."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.day import ClientDay, Moment, clock
from sennight.domain.reminders.events import EventKind, ReminderChoices
from sennight.domain.reminders.reminders import reminder_events
from support.samples import START, course, line, phase

QUIET = ReminderChoices(markers=False)


def rows(layout: Layout, choices: ReminderChoices = QUIET) -> list[tuple[int, int, str, str, str]]:
    """Events as (first and last course day, time, rule, title)."""
    return [
        (
            (e.run.first - START).days + 1,
            (e.run.last - START).days + 1,
            "" if e.minute is None else clock(e.minute),
            e.run.rule,
            e.title,
        )
        for e in reminder_events(layout, choices)
    ]


def test_doses_at_the_same_time_share_an_event_and_equal_stretches_one_run() -> None:
    layout = lay_out(
        course(
            phase("a", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL od")),
            phase("b", "2 w", line("t1", "1 cup bd"), line("t2", "2 mL bd")),
        )
    )
    assert rows(layout) == [
        (1, 28, "07:30", "daily", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
        (1, 14, "18:30", "daily", "Remedy t1: 1 cup"),
        (15, 28, "18:30", "daily", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
    ]


def test_weeks_off_split_a_run_and_the_rest_goes_on() -> None:
    layout = lay_out(
        course(phase("a", "8 w", line("t1", "1 cup od"), line("t2", "2 mL nocte 3 w on 1 w off")))
    )
    assert rows(layout) == [
        (1, 56, "07:30", "daily", "Remedy t1: 1 cup"),
        (1, 21, "22:30", "daily", "Remedy t2: 2 mL"),
        (29, 49, "22:30", "daily", "Remedy t2: 2 mL"),
    ]


def test_day_rules_at_one_time_are_told_apart_exactly() -> None:
    layout = lay_out(
        course(
            phase("a", "4 w", line("t1", "1 cup od"), line("t2", "2 mL od on mon wed fri")),
            phase("b", "4 w", line("t1", "1 cup od"), line("t2", "2 mL od alternate days")),
        )
    )
    assert rows(layout) == [
        (1, 26, "07:30", "mon wed fri", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
        (2, 28, "07:30", "tue thu sat sun", "Remedy t1: 1 cup"),
        (29, 55, "07:30", "every 2 days", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
        (30, 56, "07:30", "every 2 days", "Remedy t1: 1 cup"),
    ]


def test_every_second_and_every_third_day() -> None:
    layout = lay_out(
        course(
            phase(
                "a",
                "6 w",
                line("t1", "1 cup od alternate days"),
                line("t2", "2 mL od every 3 days"),
            )
        )
    )
    assert rows(layout) == [
        (1, 37, "07:30", "every 6 days", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
        (3, 39, "07:30", "every 6 days", "Remedy t1: 1 cup"),
        (4, 40, "07:30", "every 6 days", "Remedy t2: 2 mL"),
        (5, 41, "07:30", "every 6 days", "Remedy t1: 1 cup"),
    ]


def test_a_rare_dose_beside_a_daily_one_does_not_shred_it() -> None:
    layout = lay_out(
        course(phase("a", "9 w", line("t1", "1 cup od"), line("t2", "2 mL od every 30 days")))
    )
    assert rows(layout) == [
        (1, 61, "07:30", "every 30 days", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
        (2, 30, "07:30", "daily", "Remedy t1: 1 cup"),
        (32, 60, "07:30", "daily", "Remedy t1: 1 cup"),
        (62, 63, "07:30", "daily", "Remedy t1: 1 cup"),
    ]


def test_doses_past_midnight_carry_the_next_date_and_weekday() -> None:
    owl = Client("Una Example", day=ClientDay.at({Moment.BEDTIME: time(0, 30)}))
    layout = lay_out(
        course(
            phase("a", "2 w", line("t1", "1 cup nocte on mon"), line("t2", "2 mL at 00:30")),
            client=owl,
        )
    )
    assert rows(layout) == [
        (1, 14, "00:30", "mon wed thu fri sat sun", "Remedy t2: 2 mL"),
        (2, 9, "00:30", "tue", "Remedy t1: 1 cup, Remedy t2: 2 mL"),
    ]


def test_a_single_dose_has_no_rule() -> None:
    layout = lay_out(course(phase("a", "1 d", line("t1", "1 cup od"))))
    assert rows(layout) == [(1, 1, "07:30", "once", "Remedy t1: 1 cup")]


def times(layout: Layout, zone: str | None) -> list[tuple[int, int, str]]:
    """Events as (first and last day from 0, time)."""
    start = layout.course.start
    return [
        ((e.run.first - start).days, (e.run.last - start).days, clock(e.minute or 0))
        for e in reminder_events(layout, ReminderChoices(zone=zone, markers=False))
    ]


def test_a_time_that_clocks_skip_comes_when_they_go_on() -> None:
    layout = lay_out(
        course(phase("a", "2 w", line("t1", "1 cup at 01:30")), start=date(2027, 3, 22))
    )
    assert times(layout, "Europe/London") == [  # 28 March: 01:00 becomes 02:00
        (0, 5, "01:30"),
        (6, 6, "02:30"),
        (7, 13, "01:30"),
    ]
    for zone in ("Asia/Kolkata", None):
        assert times(layout, zone) == [(0, 13, "01:30")]


def test_it_shares_a_reminder_with_what_is_due_then() -> None:
    layout = lay_out(
        course(
            phase("a", "3 d", line("t1", "1 cup at 01:30"), line("t2", "2 mL at 02:30")),
            start=date(2027, 3, 27),
        )
    )
    events = reminder_events(layout, ReminderChoices(zone="Europe/London", markers=False))
    (both,) = (event for event in events if date(2027, 3, 28) in event.run)
    assert both.title == "Remedy t1: 1 cup, Remedy t2: 2 mL"
    assert both.text == "02:30 Remedy t1: 1 cup\n02:30 Remedy t2: 2 mL"


def test_a_dose_that_clocks_skip_at_midnight_keeps_its_date() -> None:
    """Cairo, 30 April 2027: 00:00 becomes 01:00."""
    layout = lay_out(
        course(phase("a", "3 d", line("t1", "1 cup at 00:15")), start=date(2027, 4, 29))
    )
    assert times(layout, "Africa/Cairo") == [(0, 0, "00:15"), (1, 1, "01:15"), (2, 2, "00:15")]


def test_every_other_day_is_cut_where_clocks_change_at_its_first_time_after() -> None:
    """28 March 2027 has a dose; it is before the change at 00:30, and after it at 07:30."""
    plan = course(
        phase("a", "12 d", line("t1", "1 cup at 00:30,07:30 alternate days")),
        start=date(2027, 3, 22),
    )
    assert times(lay_out(plan), "Europe/London") == [
        (0, 6, "00:30"),
        (0, 4, "07:30"),
        (6, 10, "07:30"),
        (8, 10, "00:30"),
    ]
    assert times(lay_out(plan), "Asia/Kolkata") == [(0, 10, "00:30"), (0, 10, "07:30")]


def test_every_other_day_that_begins_as_clocks_change_is_cut_nowhere() -> None:
    """28 March 2027 at 07:30 is the first dose: all come after the change."""
    plan = course(
        phase("a", "6 d", line("t1", "1 cup at 07:30 alternate days")), start=date(2027, 3, 28)
    )
    assert times(lay_out(plan), "Europe/London") == [(0, 4, "07:30")]


def test_every_other_day_from_the_day_of_a_change_on_is_one_run() -> None:
    plan = course(
        phase("a", "12 d", line("t1", "1 cup od alternate days")), start=date(2027, 3, 28)
    )
    assert times(lay_out(plan), "Europe/London") == [(0, 10, "07:30")]


def test_weekdays_are_cut_at_a_day_without_their_time_though_it_is_none_of_theirs() -> None:
    """28 March 2027 is a Sunday."""
    plan = course(
        phase("a", "2 w", line("t1", "1 cup at 01:30,07:30 on mon wed")), start=date(2027, 3, 22)
    )
    assert times(lay_out(plan), "Europe/London") == [
        (0, 2, "01:30"),
        (0, 9, "07:30"),
        (7, 9, "01:30"),
    ]


def test_by_phase_an_event_is_only_in_the_files_of_phases_that_have_it() -> None:
    plan = course(
        phase("a", "1 w", line("t1", "1 cup od")), phase("b", "1 w", line("t2", "2 mL od"))
    )
    events = reminder_events(lay_out(plan), ReminderChoices(markers=False, by_phase=True))
    assert [(event.part, event.title) for event in events] == [
        ("a", "Remedy t1: 1 cup"),
        ("b", "Remedy t2: 2 mL"),
    ]


def test_discreet_events_name_no_remedy() -> None:
    layout = lay_out(
        course(phase("a", "5 w", line("t1", "1 cup od"), line("t2", "2 mL od 2 w on 1 w off")))
    )
    events = reminder_events(
        layout, ReminderChoices(discreet=True, reorders=((START, "Order Remedy t1"),))
    )
    titles = {event.title for event in events if event.kind is EventKind.DOSE}
    assert titles == {"Reminder: A", "Reminder: A, B"}
    texts = {event.text for event in events if event.kind is EventKind.DOSE}
    assert texts == {"07:30 Tea A: 1 cup", "07:30 Tea A: 1 cup\n07:30 Tea B: 2 mL"}
    assert not [event for event in events if "Remedy" in f"{event.title} {event.text}"]
    assert events[-1].title.startswith("Plan: ")


@pytest.mark.parametrize(("first", "days"), [(28, 3), (26, 3), (28, 1)])
def test_a_time_that_clocks_skip_on_the_first_or_last_day(first: int, days: int) -> None:
    start = date(2027, 3, first)
    layout = lay_out(course(phase("a", f"{days} d", line("t1", "1 cup at 01:30")), start=start))
    events = reminder_events(layout, ReminderChoices(zone="Europe/London", markers=False))
    days_told = [when for event in events for when in event.run]
    assert days_told == [start + timedelta(days=n) for n in range(days)]
    shown = {event.run.first: clock(event.minute or 0) for event in events}
    assert shown[date(2027, 3, 28)] == "02:30"


def test_what_is_taken_as_needed_alone_reminds_of_nothing() -> None:
    layout = lay_out(course(phase("a", "2 w", line("t1", "1 cup prn max 3/day"))))
    assert rows(layout) == []


def test_weekdays_beside_every_fourteenth_day() -> None:
    """Wednesdays stay weekly; every other Monday has both."""
    layout = lay_out(
        course(
            phase(
                "a", "12 w", line("t1", "1 cup od on mon wed"), line("t2", "2 mL od every 14 days")
            )
        )
    )
    told = {when: event.title for event in reminder_events(layout, QUIET) for when in event.run}
    assert len(rows(layout)) == 3
    assert set(told) == {START + timedelta(days=n) for n in range(84) if n % 7 in (0, 2)}
    both = {when for when, title in told.items() if title == "Remedy t1: 1 cup, Remedy t2: 2 mL"}
    assert both == {START + timedelta(days=n) for n in range(0, 84, 14)}


def test_every_seventh_day_is_a_weekday() -> None:
    layout = lay_out(course(phase("a", "4 w", line("t1", "1 cup od every 7 days"))))
    assert rows(layout) == [(1, 22, "07:30", "mon", "Remedy t1: 1 cup")]
