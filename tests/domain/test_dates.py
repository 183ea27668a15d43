"""Dates: spans, months and course weeks, against published and computed values."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.dates import (
    CalendarUnit,
    Length,
    Span,
    add_months,
    course_week,
    joined,
    whole_months,
    whole_years,
    without,
)
from support.files import REFERENCES, from_yaml

ROWS: list[dict[str, Any]] = from_yaml((REFERENCES / "dates.yaml").read_text(encoding="utf-8"))
DAYS = st.dates(date(2026, 1, 1), date(2028, 12, 31))
SPANS = st.builds(lambda a, n: Span(a, a + timedelta(days=n)), DAYS, st.integers(0, 60))


def rows(kind: str) -> list[Any]:
    found = [row for row in ROWS if row["id"].startswith(kind)]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


@pytest.mark.parametrize("row", list(rows("month_2")))
def test_month_ends(row: dict[str, Any]) -> None:
    """Source and basis stand beside each row of the reference table."""
    start = date.fromisoformat(row["inputs"]["start"])
    assert add_months(start, row["inputs"]["months"]) == date.fromisoformat(row["expected"])


def test_months_in_steps_and_at_once_differ() -> None:
    (row,) = (r.values[0] for r in rows("month_chain"))
    start = date(2026, 1, 31)
    assert add_months(add_months(start, 1), 1) == date.fromisoformat(row["expected"]["stepwise"])
    assert add_months(start, 2) == date.fromisoformat(row["expected"]["at_once"])


@pytest.mark.parametrize("row", rows("phase_"))
def test_phase_spans(row: dict[str, Any]) -> None:
    first = date.fromisoformat(row["inputs"]["start"])
    span = Span(first, Length(row["inputs"]["weeks"], CalendarUnit.WEEKS).after(first))
    assert span.last == date.fromisoformat(row["expected"]["last"])
    assert span.end == date.fromisoformat(row["expected"]["next"])
    assert span.days == row["expected"]["days"]


def test_course_weeks() -> None:
    """Course week n is days 7n-6 to 7n, day 1 being the start."""
    start = date(2027, 1, 6)
    assert [course_week(start, start + timedelta(days=n)) for n in (0, 6, 7, 13, 83)] == [
        1,
        1,
        2,
        2,
        12,
    ]


def test_a_span_of_days_has_both_ends() -> None:
    span = Span.of_days(date(2027, 1, 4), date(2027, 1, 6))
    assert span.days == len(list(span)) == 3
    assert span.last == date(2027, 1, 6)
    assert date(2027, 1, 6) in span
    assert date(2027, 1, 7) not in span
    assert str(Length(3, CalendarUnit.MONTHS)) == "3 mo"


@given(SPANS, st.lists(SPANS, max_size=4))
def test_without_leaves_just_the_other_days(span: Span, holes: list[Span]) -> None:
    left = without(span, tuple(holes))
    assert [day for part in left for day in part] == [
        day for day in span if not any(day in hole for hole in holes)
    ]


@given(st.lists(SPANS, max_size=5))
def test_joined_holds_the_same_days_in_fewest_runs(spans: list[Span]) -> None:
    runs = joined(tuple(spans))
    assert {day for run in runs for day in run} == {day for span in spans for day in span}
    assert all(a.end < b.first for a, b in itertools.pairwise(runs))


@given(SPANS, SPANS)
def test_spans_touch_where_they_share_a_day(a: Span, b: Span) -> None:
    assert a.touches(b) == bool(set(a) & set(b))


@pytest.mark.parametrize(
    ("born", "today", "years"),
    [
        (date(1970, 5, 1), date(2027, 4, 30), 56),
        (date(1970, 5, 1), date(2027, 5, 1), 57),
        (date(2004, 2, 29), date(2027, 2, 28), 22),
        (date(2004, 2, 29), date(2027, 3, 1), 23),
        (date(2027, 1, 27), date(2027, 1, 27), 0),
    ],
)
def test_age_counts_whole_years(born: date, today: date, years: int) -> None:
    assert whole_years(born, today) == years


@pytest.mark.parametrize(
    ("born", "today", "months"),
    [
        (date(2027, 1, 31), date(2027, 2, 28), 0),
        (date(2027, 1, 31), date(2027, 3, 1), 1),
        (date(2026, 12, 27), date(2027, 1, 26), 0),
        (date(2026, 12, 27), date(2027, 1, 27), 1),
        (date(2025, 1, 28), date(2027, 1, 27), 23),
    ],
)
def test_age_counts_whole_months(born: date, today: date, months: int) -> None:
    assert whole_months(born, today) == months


@given(DAYS, DAYS)
def test_twelve_whole_months_are_a_whole_year(born: date, today: date) -> None:
    born, today = sorted((born, today))
    assert whole_months(born, today) // 12 == whole_years(born, today)
