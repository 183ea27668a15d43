"""Days as people type them, on Saturday 28 November 2026."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.dates import EARLIEST, LATEST
from sennight.domain.directions.plain_words import plain_date, plain_day
from sennight.domain.directions.typed_dates import (
    NoSuchDayError,
    TypedDateError,
    YearOutOfReachError,
    typed_date,
    typed_last_day,
)

TODAY = date(2026, 11, 28)


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("14/3/68", date(2068, 3, 14)),
        ("14/3/76", date(2076, 3, 14)),
        ("14/3/77", date(1977, 3, 14)),
        ("14 Mar 1968", date(1968, 3, 14)),
        ("14th March, 1968", date(1968, 3, 14)),
        ("March 14, 1968", date(1968, 3, 14)),
        ("14. 3. 1968", date(1968, 3, 14)),
        ("1968-3-14", date(1968, 3, 14)),
        ("3 May", date(2027, 5, 3)),
        ("1/12", date(2026, 12, 1)),
        ("29/2", date(2028, 2, 29)),
        ("29 feb 28", date(2028, 2, 29)),
        ("Sept 1", date(2026, 9, 1)),
        ("today", TODAY),
        (" Tomorrow ", TODAY + timedelta(1)),
        ("yesterday", TODAY - timedelta(1)),
        ("+3 w", date(2026, 12, 19)),
        ("+3w", date(2026, 12, 19)),
        ("in 3 weeks", date(2026, 12, 19)),
        ("-10 d", date(2026, 11, 18)),
        ("2 weeks ago", date(2026, 11, 14)),
        ("+3 months", date(2027, 2, 28)),
        ("in 1 year", date(2027, 11, 28)),
        ("next Monday", date(2026, 11, 30)),
        ("mon", date(2026, 11, 30)),
        ("on saturday", date(2026, 12, 5)),
        ("this sun", date(2026, 11, 29)),
        ("last Friday", date(2026, 11, 27)),
        ("last Saturday", date(2026, 11, 21)),
    ],
)
def test_days_are_understood(text: str, day: date) -> None:
    assert typed_date(text, TODAY) == day


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("14/3/68", date(1968, 3, 14)),
        ("28/11/26", TODAY),
        ("29/11/26", date(1926, 11, 29)),
        ("3 May", date(2026, 5, 3)),
        ("Monday", date(2026, 11, 23)),
        ("saturday", date(2026, 11, 21)),
        ("next Monday", date(2026, 11, 30)),
    ],
)
def test_where_only_the_past_makes_sense_the_last_one_is_meant(text: str, day: date) -> None:
    assert typed_date(text, TODAY, past=True) == day


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("", TypedDateError),
        ("soon", TypedDateError),
        ("13", TypedDateError),
        ("1970", TypedDateError),
        ("may", TypedDateError),
        ("mo", TypedDateError),
        ("3 weeks", TypedDateError),
        ("1/2/3", TypedDateError),
        ("1 mai", TypedDateError),
        ("31/4/2027", NoSuchDayError),
        ("29/2/27", NoSuchDayError),
        ("31/2", NoSuchDayError),
        ("0/1/2027", NoSuchDayError),
        ("+9999 y", YearOutOfReachError),
        ("-9999 y", YearOutOfReachError),
        ("+3000 m", YearOutOfReachError),
        ("1/1/1849", YearOutOfReachError),
    ],
)
def test_what_is_no_day_is_refused(text: str, kind: type[TypedDateError]) -> None:
    with pytest.raises(TypedDateError) as caught:
        typed_date(text, TODAY)
    assert type(caught.value) is kind


@pytest.mark.parametrize("text", ["14/3/68", "14 March", "today", "+3 w", "Monday"])
def test_without_today_a_whole_year_is_needed(text: str) -> None:
    with pytest.raises(TypedDateError):
        typed_date(text)


@given(st.dates(EARLIEST, LATEST), st.booleans())
def test_a_day_as_the_program_writes_it_reads_back(day: date, past: bool) -> None:
    for text in (plain_date(day), day.isoformat(), f"{day:%d/%m/%Y}"):
        assert typed_date(text) == typed_date(text, TODAY, past=past) == day


@given(st.integers(-3000, 3000).map(lambda n: TODAY + timedelta(n)), st.booleans())
def test_short_years_mean_the_nearest_day(day: date, past: bool) -> None:
    read = typed_date(f"{day:%d/%m/%y}", TODAY, past=past)
    assert read == day or (past and day > TODAY and read <= TODAY)
    weekday = typed_date(plain_day(day).split()[0], day)
    assert (weekday - day).days == 7


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("03/27", date(2027, 3, 31)),
        ("3-2027", date(2027, 3, 31)),
        ("02.28", date(2028, 2, 29)),
        ("2027-03", date(2027, 3, 31)),
        ("March 2027", date(2027, 3, 31)),
        ("Sep. 27", date(2027, 9, 30)),
        (" mar 27 ", date(2027, 3, 31)),
        ("12/80", date(1980, 12, 31)),
        ("30 June 2028", date(2028, 6, 30)),
        ("30/6/28", date(2028, 6, 30)),
        ("+3 w", TODAY + timedelta(weeks=3)),
    ],
)
def test_what_keeps_for_a_month_keeps_to_its_last_day(text: str, day: date) -> None:
    assert typed_last_day(text, TODAY) == day


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("13/27", NoSuchDayError),
        ("0/27", NoSuchDayError),
        ("Foo 2027", NoSuchDayError),
        ("31 June 2028", NoSuchDayError),
        ("3/2300", YearOutOfReachError),
        ("soon", TypedDateError),
    ],
)
def test_what_is_no_month_is_refused(text: str, kind: type[TypedDateError]) -> None:
    with pytest.raises(kind):
        typed_last_day(text, TODAY)
