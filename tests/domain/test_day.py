"""The client's day."""

from __future__ import annotations

from datetime import time

import pytest

from sennight.domain.day import ClientDay, DayOrderError, Moment, as_time, clock


def test_the_default_day() -> None:
    day = ClientDay.at()
    assert [clock(day.minute(moment)) for moment in Moment] == [
        "07:00",
        "07:30",
        "10:30",
        "12:30",
        "15:30",
        "18:30",
        "22:30",
    ]
    assert day.waking == 15 * 60 + 30
    assert ClientDay.at(day.times) == day


def test_only_bedtime_may_lie_past_midnight() -> None:
    day = ClientDay.at({Moment.BEDTIME: time(1, 15)})
    assert day.minute(Moment.BEDTIME) == 24 * 60 + 75
    assert day.times[Moment.BEDTIME] == time(1, 15)
    with pytest.raises(DayOrderError, match="supper at 00:30 does not come after mid-afternoon"):
        ClientDay.at({Moment.SUPPER: time(0, 30)})


@pytest.mark.parametrize(
    ("moment", "when"),
    [
        (Moment.BREAKFAST, time(7, 0)),
        (Moment.LUNCH, time(10, 0)),
        (Moment.BEDTIME, time(18, 30)),
        (Moment.BEDTIME, time(7, 0)),
    ],
)
def test_moments_out_of_order_are_refused_by_name(moment: Moment, when: time) -> None:
    with pytest.raises(DayOrderError) as caught:
        ClientDay.at({moment: when})
    assert caught.value.moment is moment
    assert "expected the moments of the day in the order rising, breakfast" in str(caught.value)


def test_clock_times_wrap_at_midnight() -> None:
    assert as_time(1470) == time(0, 30)
    assert clock(-10) == "23:50"
