"""A dose on the days of a span: which days are its own, and what comes before and after one."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from sennight.domain.courses.courses import End
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import DayRule, Unit
from sennight.domain.reminders.events import ReminderChoices
from sennight.domain.reminders.overlaps import DoseSeries, DueDose
from sennight.domain.reminders.reminders import reminder_events
from support.samples import START, course, line, phase

MONDAY = date(2027, 1, 4)
SPAN = Span(MONDAY, MONDAY + timedelta(days=14))
AROUND = [MONDAY + timedelta(days=n) for n in range(-3, 18)]
RULES = [DayRule(), DayRule(every=3), DayRule(weekdays=(2, 4))]


def series(days: DayRule) -> DoseSeries:
    return DoseSeries(SPAN, days, DueDose(480, 0, "t", Fraction(1), Unit.CUP))


def taken(series: DoseSeries | None) -> list[date]:
    return [day for day in AROUND if series is not None and day in series]


def test_its_days_are_those_of_the_rule_within_the_span() -> None:
    assert [(day - MONDAY).days for day in taken(series(DayRule(every=3)))] == [0, 3, 6, 9, 12]
    assert [(day - MONDAY).days for day in taken(series(DayRule(weekdays=(2, 4))))] == [
        2,
        4,
        9,
        11,
    ]
    assert len(taken(series(DayRule()))) == 14


@pytest.mark.parametrize("rule", RULES, ids=str)
@pytest.mark.parametrize("day", AROUND, ids=str)
def test_cut_at_any_day_it_keeps_its_days(rule: DayRule, day: date) -> None:
    whole = series(rule)
    before, after = taken(whole.before(day)), taken(whole.from_on(day))
    assert before + after == taken(whole)
    assert all(cut < day for cut in before)
    assert all(cut >= day for cut in after)


def test_a_course_that_ends_before_its_first_day_has_no_entry() -> None:
    plan = course(phase("a", "2 w", line("t1", "1 cup od")))
    ended = replace(plan, revisions=(End(on=START, first=START, reason="moved away"),))
    assert not lay_out(ended).days
    assert list(reminder_events(lay_out(ended), ReminderChoices())) == []
