"""Publishing again: single cases of what a phone is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.reminders.events import Event, EventKind, ReminderChoices
from sennight.domain.reminders.published import (
    CalendarUpdate,
    Issued,
    PhoneCalendar,
    Published,
    first_issue,
    is_another_plan,
    is_calendar_of,
    plan_name,
)
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.republishing import (
    FileKind,
    client_note,
    fresh_set,
    remove_all,
    revise,
)
from sennight.domain.reminders.runs import Run
from support.samples import START, course, day, line, phase, take

NAME = plan_name("c0ffee")
DOSES_ONLY = ReminderChoices(zone="Europe/London", markers=False)
PLAN = course(
    phase("loading", "4 w", line("t1", "1 cup od"), line("t2", "2 mL nocte")),
    phase("maintenance", "8 w", line("t1", "2 cups od")),
)


def events_of(plan: Course, choices: ReminderChoices = DOSES_ONLY) -> tuple[Event, ...]:
    return reminder_events(lay_out(plan), choices)


def stamp(number: int) -> datetime:
    return datetime(START.year, START.month, START.day, 12, tzinfo=UTC) + timedelta(days=number)


FIRST = revise(Published(PLAN.id), events_of(PLAN), today=START, stamp=stamp(0))


def after(*revisions: Revision, today: int) -> CalendarUpdate:
    """The second publication, on a course day, after revisions."""
    plan = replace(PLAN, revisions=revisions)
    return revise(FIRST.published, events_of(plan), today=day(today), stamp=stamp(today))


def rows(publication: CalendarUpdate) -> list[tuple[int, int, str, int, bool]]:
    """Events as (first and last course day, title, sequence, whether cancelled)."""
    return [
        (
            (entry.event.run.first - START).days + 1,
            (entry.event.run.last - START).days + 1,
            entry.event.title,
            entry.sequence,
            entry.is_cancelled,
        )
        for entry in publication.issued
    ]


def by_uid(issued: tuple[Issued, ...]) -> dict[str, Issued]:
    return {entry.uid: entry for entry in issued}


def test_the_first_time_all_is_new() -> None:
    assert rows(FIRST) == [
        (1, 28, "Remedy t1: 1 cup", 0, False),
        (1, 28, "Remedy t2: 2 mL", 0, False),
        (29, 84, "Remedy t1: 2 cups", 0, False),
    ]
    assert FIRST.published.issued == FIRST.issued


def test_an_untouched_course_is_sent_unchanged() -> None:
    assert after(today=40).issued == FIRST.issued


def test_uids_never_depend_on_the_run() -> None:
    again = revise(Published(PLAN.id), events_of(PLAN), today=day(9), stamp=stamp(9))
    assert list(by_uid(again.issued)) == list(by_uid(FIRST.issued))
    other = revise(Published("other"), events_of(PLAN), today=START, stamp=stamp(0))
    assert not by_uid(other.issued).keys() & by_uid(FIRST.issued).keys()


def test_a_longer_phase_goes_on_and_the_next_one_moves() -> None:
    found = after(Extend(on=day(20), phase="loading", by=7), today=20)
    assert rows(found) == [
        (1, 35, "Remedy t1: 1 cup", 1, False),
        (1, 35, "Remedy t2: 2 mL", 1, False),
        (19, 19, "No longer: Remedy t1: 2 cups", 1, True),
        (36, 91, "Remedy t1: 2 cups", 0, False),
    ]
    assert {entry.stamp for entry in found.issued} == {stamp(20)}


def test_an_event_ahead_that_changes_keeps_its_uid() -> None:
    found = after(End(on=day(20), first=day(57)), today=20)
    assert rows(found) == [
        (1, 28, "Remedy t1: 1 cup", 0, False),
        (1, 28, "Remedy t2: 2 mL", 0, False),
        (29, 56, "Remedy t1: 2 cups", 1, False),
    ]
    assert by_uid(found.issued).keys() == by_uid(FIRST.issued).keys()
    assert [entry.stamp for entry in found.issued] == [stamp(0), stamp(0), stamp(20)]


def test_one_that_has_begun_is_cut_off_and_has_a_successor() -> None:
    found = after(
        Redirect(on=day(10), remedy="t1", first=day(10), directions=take("3 cups od")), today=10
    )
    assert rows(found) == [
        (1, 9, "Remedy t1: 1 cup", 1, False),
        (1, 28, "Remedy t2: 2 mL", 0, False),
        (10, 28, "Remedy t1: 3 cups", 0, False),
        (29, 84, "Remedy t1: 2 cups", 0, False),
    ]


def test_one_that_begins_today_is_still_ahead() -> None:
    """Corrected under its own UID, or taken away: nothing of it lies in the past."""
    changed = after(
        Redirect(on=day(1), remedy="t1", first=day(1), directions=take("3 cups od"), last=day(28)),
        today=1,
    )
    assert rows(changed) == [
        (1, 28, "Remedy t1: 3 cups", 1, False),
        (1, 28, "Remedy t2: 2 mL", 0, False),
        (29, 84, "Remedy t1: 2 cups", 0, False),
    ]
    assert by_uid(changed.issued).keys() == by_uid(FIRST.issued).keys()
    stopped = after(Stop(on=day(1), remedy="t2", first=day(1)), today=1)
    assert rows(stopped) == [
        (0, 0, "No longer: Remedy t2: 2 mL", 1, True),
        (1, 28, "Remedy t1: 1 cup", 0, False),
        (29, 84, "Remedy t1: 2 cups", 0, False),
    ]
    shorter = after(End(on=day(29), first=day(57)), today=29)
    assert rows(shorter)[-1] == (29, 56, "Remedy t1: 2 cups", 1, False)
    assert by_uid(shorter.issued).keys() == by_uid(FIRST.issued).keys()
    gone = after(End(on=day(29), first=day(29)), today=29)
    assert rows(gone)[-1] == (28, 28, "No longer: Remedy t1: 2 cups", 1, True)


def test_a_change_back_in_time_leaves_what_was_told() -> None:
    """Decided on day 10, entered on day 15: days 10 to 14 stay as the client was reminded."""
    change = Redirect(on=day(10), remedy="t1", first=day(10), directions=take("3 cups od"))
    assert rows(after(change, today=15))[::2] == [
        (1, 14, "Remedy t1: 1 cup", 1, False),
        (15, 28, "Remedy t1: 3 cups", 0, False),
    ]


def test_none_goes_on_from_one_phase_s_file_into_another_s() -> None:
    """Moved on early to a phase in which the same is taken; a whole calendar may be split."""
    plan = course(
        phase("loading", "4 w", line("t1", "1 cup od")),
        phase("maintenance", "8 w", line("t1", "1 cup od")),
    )
    moved = replace(plan, revisions=(Advance(on=day(8), to="maintenance", first=day(8)),))
    for by_phase, days in ((True, [(1, 7), (8, 63)]), (False, [(1, 63)])):
        choices = replace(DOSES_ONLY, by_phase=by_phase)
        first = revise(Published(plan.id), events_of(plan, choices), today=START, stamp=stamp(0))
        found = revise(first.published, events_of(moved, choices), today=day(8), stamp=stamp(8))
        assert [row[:2] for row in rows(found) if not row[4]] == days
    split = replace(DOSES_ONLY, by_phase=True)
    whole = revise(Published(plan.id), events_of(plan), today=START, stamp=stamp(0))
    found = revise(whole.published, events_of(plan, split), today=day(8), stamp=stamp(8))
    assert [row[:4] for row in rows(found)] == [
        (1, 28, "Remedy t1: 1 cup", 1),
        (29, 84, "Remedy t1: 1 cup", 0),
    ]


def test_a_pause_that_has_passed_changes_nothing() -> None:
    pause = Pause(on=day(5), first=day(5), last=day(8), mode=PauseMode.SKIP)
    assert after(pause, today=15).issued == FIRST.issued


def test_one_that_ended_before_a_pause_does_not_go_on_across_it() -> None:
    pause = Pause(on=day(1), first=day(8), last=day(10), mode=PauseMode.SKIP)
    paused = replace(PLAN, revisions=(pause,))
    first = revise(Published(PLAN.id), events_of(paused), today=START, stamp=stamp(0))
    later = revise(first.published, events_of(paused), today=day(20), stamp=stamp(20))
    assert later.issued == first.issued


def test_a_marker_that_moves_to_today_is_a_new_one() -> None:
    """A freeze entered late, from the first day on, lets the phase begin today."""
    shown = ReminderChoices()
    first = revise(Published(PLAN.id), events_of(PLAN, shown), today=START, stamp=stamp(0))
    freeze = Pause(on=day(2), first=day(1), last=day(1), mode=PauseMode.FREEZE)
    moved = events_of(replace(PLAN, revisions=(freeze,)), shown)
    found = revise(first.published, moved, today=day(2), stamp=stamp(2))
    begins = [entry.event.run for entry in found.issued if entry.event.kind is EventKind.START]
    assert begins == [Run(day(1), day(1)), Run(day(2), day(2))]


STOPPED = replace(PLAN, revisions=(Stop(on=day(5), remedy="t1", first=day(29)),))


def published_again(before: CalendarUpdate, plan: Course, today: int) -> CalendarUpdate:
    return revise(before.published, events_of(plan), today=day(today), stamp=stamp(today))


def test_a_cancellation_is_told_again_until_its_last_day_is_past() -> None:
    ended = published_again(FIRST, STOPPED, 5)
    (gone,) = (entry for entry in ended.issued if entry.is_cancelled)
    assert (gone.sequence, gone.latest) == (1, day(84))
    assert (gone.event.title, gone.event.run) == (
        "No longer: Remedy t1: 2 cups",
        Run(day(4), day(4)),
    )
    assert gone.event.minute is gone.event.alarm is None
    again = published_again(ended, STOPPED, 5)
    assert again.issued == ended.issued
    late = published_again(again, STOPPED, 84)
    assert gone in late.issued
    over = published_again(late, STOPPED, 85)
    assert gone not in over.issued
    assert over.published.cancelled == (gone,)


def test_the_last_day_is_that_of_any_file() -> None:
    """A phone may have read the first alone, in which the event was longer."""
    shorter = replace(PLAN, revisions=(End(on=day(5), first=day(60)),))
    cut = published_again(FIRST, shorter, 5)
    gone = published_again(cut, STOPPED, 6).published.cancelled
    assert [entry.latest for entry in gone] == [day(84)]


def test_one_that_comes_back_is_raised_above_its_cancellation() -> None:
    quiet = published_again(published_again(FIRST, STOPPED, 5), STOPPED, 6)
    (gone,) = quiet.published.cancelled
    back = published_again(quiet, PLAN, 7)
    assert by_uid(back.issued)[gone.uid].sequence == 2
    assert back.published.cancelled == ()


def test_a_second_change_on_a_day_is_stamped_later_than_the_first() -> None:
    """The command line gives the same moment to all that it publishes on a day."""
    first = revise(Published(PLAN.id), events_of(PLAN), today=START, stamp=stamp(0))
    again = revise(first.published, events_of(STOPPED), today=START, stamp=stamp(0))
    (gone,) = again.published.cancelled
    assert gone.stamp == stamp(0) + timedelta(seconds=1)
    assert revise(again.published, events_of(STOPPED), today=START, stamp=stamp(0)) == again


@pytest.mark.parametrize(
    "choices",
    [
        replace(DOSES_ONLY, discreet=True),
        replace(DOSES_ONLY, zone="Asia/Kolkata"),
        replace(DOSES_ONLY, alarm=15),
    ],
)
def test_other_choices_do_not_rewrite_the_past(choices: ReminderChoices) -> None:
    found = revise(FIRST.published, events_of(PLAN, choices), today=day(10), stamp=stamp(10))
    past = Span(START, day(10))
    standing = found.published.issued
    begun = [entry for entry in standing if entry.event.run.first < day(10)]
    assert [entry.event for entry in begun] == [
        entry.event.within(past) for entry in FIRST.issued[:2]
    ]
    assert [entry.sequence for entry in begun] == [1, 1]
    coming = [entry.event for entry in standing if entry.event.run.first >= day(10)]
    later = (event.within(Span(day(10), date.max)) for event in events_of(PLAN, choices))
    assert coming == list(later)


def test_a_fresh_set_has_new_uids_and_no_past() -> None:
    found = fresh_set(FIRST.published, events_of(PLAN), today=day(10), stamp=stamp(10))
    assert rows(found) == [
        (10, 28, "Remedy t1: 1 cup", 0, False),
        (10, 28, "Remedy t2: 2 mL", 0, False),
        (29, 84, "Remedy t1: 2 cups", 0, False),
    ]
    assert not by_uid(found.issued).keys() & by_uid(FIRST.issued).keys()
    assert FIRST.published.calendar_name == NAME
    assert found.published.calendar_name == f"{NAME} set 2"
    assert FIRST.published.phone_calendar(fresh=True) == PhoneCalendar(f"{NAME} set 2", NAME)
    assert found.published.phone_calendar(fresh=False) == PhoneCalendar(f"{NAME} set 2")
    later = revise(found.published, events_of(PLAN), today=day(12), stamp=stamp(12))
    assert later.issued == found.issued


def test_an_empty_publication_is_a_publication() -> None:
    """What was not told for days before today is not told now."""
    empty = revise(Published(PLAN.id), (), today=START, stamp=stamp(0))
    later = revise(empty.published, events_of(PLAN), today=day(10), stamp=stamp(10))
    assert {entry.event.run.first for entry in later.issued} == {day(10), day(29)}


def test_what_the_client_is_told_with_each_file() -> None:
    fresh = fresh_set(FIRST.published, events_of(PLAN), today=day(10), stamp=stamp(10)).published
    assert f"add all its events to a new calendar named “{NAME}”" in client_note(
        FileKind.FIRST, FIRST.published
    )
    assert f"it corrects the calendar “{NAME}”" in client_note(FileKind.UPDATE, FIRST.published)
    assert "Open each of these 3 files on your phone and add all its events to a new calendar" in (
        client_note(FileKind.FIRST, FIRST.published, files=3)
    )
    assert client_note(FileKind.FRESH, fresh).startswith(
        f"Remove the old calendar “{NAME}” from your phone first"
    )


def test_a_first_issue_has_the_uids_of_a_first_publication() -> None:
    """So a single file given by hand and the record of what is published know each other."""
    issued = first_issue(PLAN.id, events_of(PLAN), stamp(0))
    assert sorted(issued, key=lambda one: one.uid) == sorted(FIRST.issued, key=lambda one: one.uid)
    removed = remove_all(FIRST.published, today=day(90), stamp=stamp(90)).published
    assert f"removes all reminders from the calendar “{NAME}”" in client_note(
        FileKind.REMOVAL, removed
    )


def test_an_older_record_keeps_its_calendars_name() -> None:
    old = replace(FIRST.published, name="My remedies")
    assert old.calendar_name == "My remedies"
    assert replace(old, generation=1).calendar_name == "My remedies set 2"


def test_courses_have_calendars_of_different_names() -> None:
    assert len({plan_name(f"course {n}") for n in range(20)}) > 15


def test_removing_all_cancels_what_stands_once_and_tells_what_was_cancelled_before() -> None:
    stopped = published_again(FIRST, STOPPED, 5)
    removed = remove_all(stopped.published, today=day(90), stamp=stamp(90))
    assert {entry.uid for entry in removed.issued} == {entry.uid for entry in FIRST.issued}
    assert all(entry.is_cancelled for entry in removed.issued)
    assert removed.published.issued == ()
    again = remove_all(removed.published, today=day(91), stamp=stamp(91))
    assert again.issued == removed.issued


def test_from_a_discreet_publication_on_nothing_names_a_remedy() -> None:
    hidden = replace(DOSES_ONLY, discreet=True)
    stopped = published_again(FIRST, STOPPED, 5)
    found = revise(
        stopped.published,
        events_of(STOPPED, hidden),
        today=day(10),
        stamp=stamp(10),
        discreet=True,
    )
    assert not [entry for entry in found.issued if "Remedy" in str(entry.event)]
    past = [entry.event.run for entry in found.issued if entry.event.title == "Reminder"]
    assert past == [Run(START, day(9)), Run(START, day(9))]
    again = revise(
        found.published,
        events_of(STOPPED, hidden),
        today=day(12),
        stamp=stamp(12),
        discreet=True,
    )
    assert again.issued == found.issued


def test_a_calendar_is_told_by_its_name_from_another_courses() -> None:
    own, other = plan_name(PLAN.id), plan_name("another course")
    assert own != other
    assert is_calendar_of(own, PLAN.id)
    assert is_calendar_of(f"{own}, set 2", PLAN.id)
    assert not is_calendar_of(other, PLAN.id)
    assert is_another_plan(other, PLAN.id)
    assert not is_another_plan(own, PLAN.id)
    assert not is_another_plan("Holidays", PLAN.id)
