"""Runs against lists of single days."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.dates import Span
from sennight.domain.reminders.runs import Run, fewest, on_weekdays, stepped, together

MONDAY = date(2027, 1, 4)


def day(number: int) -> date:
    return MONDAY + timedelta(days=number)


SPANS = st.builds(
    lambda first, days: Span(day(first), day(first + days)),
    st.integers(-10, 30),
    st.integers(0, 40),
)
WEEKDAYS = st.sets(st.integers(0, 6)).map(tuple)
RUNS = st.one_of(
    st.builds(stepped, SPANS, st.integers(1, 15)), st.builds(on_weekdays, SPANS, WEEKDAYS)
).filter(bool)


@given(SPANS, st.integers(1, 15))
def test_steps(span: Span, every: int) -> None:
    run = stepped(span, every)
    assert list(run or ()) == list(span)[::every]


@given(SPANS, WEEKDAYS)
def test_weekdays(span: Span, weekdays: tuple[int, ...]) -> None:
    run = on_weekdays(span, weekdays)
    assert list(run or ()) == [when for when in span if when.weekday() in weekdays]


@given(RUNS, SPANS)
def test_what_lies_within_a_span(run: Run, span: Span) -> None:
    assert list(run.within(span) or ()) == [when for when in run if when in span]


@given(RUNS)
def test_ends_count_and_rule(run: Run) -> None:
    days = list(run)
    assert (run.first, run.last, run.count) == (days[0], days[-1], len(days))
    assert all(when in run for when in days)
    assert day(99) not in run
    assert (run.rule == "once") == (len(days) == 1)
    assert run.until(run.last) == run


@given(SPANS, SPANS, WEEKDAYS, st.integers(1, 15))
def test_the_same_days_are_the_same_run(
    one: Span, two: Span, weekdays: tuple[int, ...], every: int
) -> None:
    a, b = on_weekdays(one, weekdays), stepped(two, every)
    if a and b:
        first, last = max(a.first, b.first), min(a.last, b.last)
        a, b = (run.within(Span.of_days(first, last)) for run in (a, b))
        assert (list(a or ()) == list(b or ())) == (a == b)


@given(RUNS, st.integers(-10, 60))
def test_the_same_rule_up_to_another_day(run: Run, number: int) -> None:
    shorter = run.until(day(number))
    if day(number) <= run.last:
        assert list(shorter or ()) == [when for when in run if when <= day(number)]
    else:
        assert shorter is not None
        assert list(shorter)[: run.count] == list(run)


@given(RUNS, RUNS)
def test_two_runs_are_one_only_where_it_says_both(one: Run, two: Run) -> None:
    if set(one) & set(two):
        return
    both = together(one, two)
    if both:
        assert list(both) == sorted([*one, *two])


@given(st.lists(RUNS, max_size=8))
def test_fewest_keeps_the_days(runs: list[Run]) -> None:
    taken: set[date] = set()
    apart = []
    for run in runs:
        if not taken & set(run):
            taken |= set(run)
            apart.append(run)
    found = fewest(apart)
    assert sorted(when for run in found for when in run) == sorted(taken)
    assert len(found) <= len(apart)


def test_days_outside_a_run_are_none_of_it() -> None:
    assert [n for n in range(-3, 12) if day(n) in Run(day(0), day(6), 3)] == [0, 3, 6]
    weekly = on_weekdays(Span(day(0), day(9)), (0, 2))
    assert weekly
    assert [n for n in range(-7, 16) if day(n) in weekly] == [0, 2, 7]


def test_rules_in_words() -> None:
    def words(first: int, end: int, *weekdays: int) -> str:
        run = on_weekdays(Span(day(first), day(end)), weekdays)
        return run.rule if run else ""

    assert words(0, 21, 0, 2, 4) == "mon wed fri"
    assert words(0, 21, 1) == "tue"
    assert words(0, 21, *range(7)) == "daily"
    assert words(0, 1, *range(7)) == "once"
    assert words(0, 5, 0, 2, 4) == "every 2 days"
    assert Run(day(0), day(6), 3).rule == "every 3 days"
    assert Run(day(0), day(14), 7).rule == "mon"


def test_days_on_and_off_by_the_week_become_weekdays() -> None:
    weeks = [Run(day(7 * n), day(7 * n + 4)) for n in range(10)]
    assert fewest(weeks) == (Run(day(0), day(67), 1, (0, 1, 2, 3, 4)),)
