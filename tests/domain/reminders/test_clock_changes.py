"""Changes of clocks against the rules that were published for them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from dateutil import tz

from sennight.domain.dates import Span
from sennight.domain.reminders.clock_changes import UnknownZoneError, as_utc, changes, skipped_days

YEAR = Span(date(2027, 1, 1), date(2028, 1, 1))


@pytest.mark.parametrize(
    ("zone", "year", "moments"),
    [
        # last Sundays of March and October, 01:00 UTC (Directive 2000/84/EC, and UK law alike)
        ("Europe/London", 2027, ["2027-03-28T01:00", "2027-10-31T01:00"]),
        ("Europe/London", 2037, ["2037-03-29T01:00", "2037-10-25T01:00"]),
        # second Sunday of March, first of November, 02:00 local (US Energy Policy Act of 2005)
        ("America/New_York", 2027, ["2027-03-14T07:00", "2027-11-07T06:00"]),
        # IANA time zone data
        ("Australia/Lord_Howe", 2027, ["2027-04-03T15:00", "2027-10-02T15:30"]),
        ("Africa/Casablanca", 2025, ["2025-02-23T02:00", "2025-04-06T02:00"]),  # Ramadan
        ("Africa/Casablanca", 2027, []),  # no more since 2026
        ("America/Sao_Paulo", 2018, ["2018-02-18T02:00", "2018-11-04T03:00"]),
        ("America/Sao_Paulo", 2027, []),
        ("Asia/Kathmandu", 2027, []),
    ],
)
def test_changes_of_a_year(zone: str, year: int, moments: list[str]) -> None:
    found = [change.at for change in changes(zone, year)]
    assert found == [datetime.fromisoformat(text).replace(tzinfo=UTC) for text in moments]


def test_a_day_that_clocks_skip() -> None:
    assert skipped_days("Europe/London", 60, YEAR) == (date(2027, 3, 28),)
    assert skipped_days("Europe/London", 119, YEAR) == (date(2027, 3, 28),)
    assert (
        skipped_days("Europe/London", 59, YEAR) == skipped_days("Europe/London", 120, YEAR) == ()
    )
    assert skipped_days("Australia/Lord_Howe", 149, YEAR) == (date(2027, 10, 3),)
    assert skipped_days("Australia/Lord_Howe", 150, YEAR) == ()
    spring = Span(date(2018, 10, 1), date(2018, 12, 1))
    assert skipped_days("America/Sao_Paulo", 0, spring) == (date(2018, 11, 4),)
    assert skipped_days("Pacific/Apia", 600, Span(date(2011, 12, 1), date(2012, 1, 1))) == (
        date(2011, 12, 30),  # Samoa crossed the date line and had no 30 December
    )


@pytest.mark.parametrize("zone", ["Europe/London", "America/New_York", "Australia/Lord_Howe"])
def test_skipped_times_are_those_that_dateutil_says_do_not_exist(zone: str) -> None:
    clock = tz.gettz(zone)
    for minute in range(0, 240, 10):
        expected = [
            when
            for when in YEAR
            if not tz.datetime_exists(
                datetime(when.year, when.month, when.day, *divmod(minute, 60), tzinfo=clock)
            )
        ]
        assert list(skipped_days(zone, minute, YEAR)) == expected


def test_times_left_out_and_times_shown_twice() -> None:
    """The two examples of RFC 5545 section 3.3.5."""
    new_york = "America/New_York"
    edt = timedelta(hours=4)
    assert as_utc(new_york, date(2007, 3, 11), 150) == (
        datetime(2007, 3, 11, 3, 30, tzinfo=UTC) + edt
    )
    assert as_utc(new_york, date(2007, 11, 4), 90) == (
        datetime(2007, 11, 4, 1, 30, tzinfo=UTC) + edt
    )


@pytest.mark.parametrize("zone", ["Atlantis/Main", "", "../etc/passwd", "Europe"])
def test_an_unknown_zone_is_named(zone: str) -> None:
    with pytest.raises(UnknownZoneError, match=f"“{zone}” is not known; expected an IANA name"):
        changes(zone, 2027)
