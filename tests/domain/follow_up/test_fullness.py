"""The diary by day, by week and by moment, against the figures of the adherence report."""

from __future__ import annotations

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.courses import Pause, PauseMode
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import Moment
from sennight.domain.follow_up.adherence import DayTaken, adherence
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.follow_up.fullness import (
    Fullness,
    MomentShare,
    fullness_by_day,
    fullness_by_moment,
    fullness_by_week,
)
from support.samples import course, day, line, phase

LAYOUT = lay_out(
    course(
        phase(
            "one",
            "4 w",
            line("t1", "1 cup tds pc"),
            line("t2", "2.5 mL at bedtime,08:15 1 w on 1 w off"),
            line("t3", "1 capsule every 6 h"),
        ),
        revisions=(Pause(on=day(20), first=day(20), last=day(22), mode=PauseMode.SKIP),),
    )
)


def read(*entries: tuple[int, str, int]) -> tuple[DayTaken, ...]:
    taken = [Taken(day(n), remedy, doses) for n, remedy, doses in entries]
    return adherence(LAYOUT, taken).days


def test_a_day_and_a_week_tell_taken_missed_and_unrecorded_apart() -> None:
    days = read((1, "t1", 2), (1, "t2", 2), (2, "t1", 5))
    by_day = dict(fullness_by_day(LAYOUT, days, day(21)))
    first = by_day[day(1)]
    assert (first, first.missed, first.unrecorded, first.share) == (
        Fullness(8, 5, 4),
        1,
        3,
        first.share,
    )
    assert by_day[day(2)] == Fullness(8, 3, 3)  # what is beyond the due counts for no other day
    assert by_day[day(8)] == Fullness(6, 0, 0)  # the drops have a week off
    assert by_day[day(8)].share is None
    assert by_day[day(21)] == Fullness(0, 0, 0)  # a break
    assert len(by_day) == 21
    weeks = {
        (week.remedy, week.week): week.fullness for week in fullness_by_week(LAYOUT, days, day(10))
    }
    assert weeks == {
        ("t1", 1): Fullness(21, 6, 5),
        ("t1", 2): Fullness(9, 0, 0),
        ("t2", 1): Fullness(14, 2, 2),
        ("t3", 1): Fullness(21, 0, 0),
        ("t3", 2): Fullness(9, 0, 0),
    }


def test_which_dose_of_a_day_was_missed_is_known_only_between_bounds() -> None:
    days = read((1, "t1", 2), (2, "t1", 3), (3, "t1", 0), (1, "t2", 1), (2, "t3", 3), (9, "t2", 1))
    assert fullness_by_moment(LAYOUT, days) == (
        MomentShare(Moment.BREAKFAST, 3, 1, 2),
        MomentShare(Moment.LUNCH, 3, 1, 2),
        MomentShare(Moment.SUPPER, 3, 1, 2),
        MomentShare(Moment.BEDTIME, 1, 0, 1),
        MomentShare(None, 4, 3, 4),
    )


@given(
    st.dictionaries(
        st.tuples(st.integers(1, 28), st.sampled_from(["t1", "t2", "t3"])), st.integers(0, 4)
    )
)
def test_days_and_weeks_add_up_to_the_report(entries: dict[tuple[int, str], int]) -> None:
    report = adherence(LAYOUT, [Taken(day(n), r, doses) for (n, r), doses in entries.items()])
    until = max((entry.day for entry in report.days), default=day(1))
    by_day = [fullness for _, fullness in fullness_by_day(LAYOUT, report.days, until)]
    by_week = [week.fullness for week in fullness_by_week(LAYOUT, report.days, until)]
    for parts in (by_day, by_week):
        assert sum(part.taken for part in parts) == report.overall.taken
        assert sum(part.recorded for part in parts) == report.overall.due
        assert all(0 <= part.taken <= part.recorded <= part.due for part in parts)
        if report.days:
            assert sum(part.due for part in parts) == report.overall.all_due
    moments = fullness_by_moment(LAYOUT, report.days)
    assert sum(moment.due for moment in moments) == report.overall.due
    assert sum(moment.least for moment in moments) <= report.overall.taken
    assert sum(moment.most for moment in moments) >= report.overall.taken
    assert fullness_by_day(LAYOUT, (), date(2026, 1, 1)) == ()


def test_only_days_with_timed_doses_are_due() -> None:
    layout = lay_out(
        course(
            phase(
                "one",
                "1 w",
                line("t1", "1 cup od alternate days"),
                line("t2", "2.5 mL prn max 3/day"),
            )
        )
    )
    days = adherence(layout, [Taken(day(1), "t2", 2)]).days
    due = [fullness.due for _, fullness in fullness_by_day(layout, days, day(7))]
    assert due == [1, 0, 1, 0, 1, 0, 1]
    assert [week.remedy for week in fullness_by_week(layout, days, day(7))] == ["t1"]
    assert fullness_by_moment(layout, days) == ()
