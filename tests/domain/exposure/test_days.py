"""Days that filters share, against walking over the days."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import DAILY, DayRule
from sennight.domain.exposure.days import DayFilter, DayProgression, day_patterns
from support import samples
from support.draws import draws

WEEKDAYS = st.sets(st.integers(0, 6), min_size=1, max_size=6).map(
    lambda days: DayFilter(DayRule(weekdays=tuple(sorted(days))))
)
COUNTED = st.integers(1, 12).flatmap(
    lambda every: st.builds(DayFilter, st.just(DayRule(every=every)), st.integers(0, every - 1))
)
FILTERS = st.lists(WEEKDAYS | COUNTED, min_size=1, max_size=4)
SPANS = st.builds(
    lambda first, days: Span(first, first + timedelta(days=days)),
    st.dates(date(2027, 1, 1), date(2028, 12, 31)),
    st.integers(1, 120),
)


def falls(one: DayFilter, day: date) -> bool:
    if one.rule.weekdays:
        return day.weekday() in one.rule.weekdays
    return day.toordinal() % one.rule.every == one.phase


@settings(max_examples=draws(50))
@given(FILTERS, SPANS)
def test_every_day_s_filters_are_found_and_no_others(filters: list[DayFilter], span: Span) -> None:
    found = day_patterns(filters, span)
    together = {frozenset(n for n, one in enumerate(filters) if falls(one, day)) for day in span}
    assert together <= set(found) | {frozenset()}
    assert all(any(part <= whole for whole in together) for part in found)


@settings(max_examples=draws(50))
@given(WEEKDAYS | COUNTED, SPANS)
def test_whether_a_span_holds_a_day(one: DayFilter, span: Span) -> None:
    assert one.falls_in(span) == any(falls(one, day) for day in span)


@settings(max_examples=draws(50))
@given(st.integers(0, 11), st.integers(1, 12), st.integers(0, 11), st.integers(1, 12))
def test_shared_days_of_two_combs(a: int, m: int, b: int, n: int) -> None:
    shared = DayProgression(a % m, m).shared(DayProgression(b % n, n))
    both = {day for day in range(m * n) if day % m == a % m and day % n == b % n}
    found = {day for day in range(m * n) if shared and day % shared.step == shared.rest}
    assert found == both


def test_all_seven_weekdays_are_every_day() -> None:
    week = "1 mL od on mon tue wed thu fri sat sun"
    layout = lay_out(samples.course(samples.phase("one", "2 w", samples.line("t1", week))))
    assert DayFilter.of(layout.stretches[0]) == DayFilter(DAILY)


def test_far_ends_cost_no_more_than_near_ones() -> None:
    """The number of patterns follows the filters, whatever the length of the span."""
    filters = [DayFilter(DayRule(every=n), 1) for n in (2, 3, 5)]
    near = day_patterns(filters, Span(date(2027, 1, 1), date(2027, 6, 1)))
    far = day_patterns(filters, Span(date(2027, 1, 1), date(9999, 1, 1)))
    assert set(far) == set(near)
