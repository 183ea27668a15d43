"""The days that advice is for."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.courses.advice_days import advice_runs
from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.parser import parse_timing
from support.samples import course, day, phase


def held(advice: AdviceLine) -> list[int]:
    """The course days that it is for."""
    layout = lay_out(course(phase("one", "3 d"), replace(phase("two", "9 d"), advice=(advice,))))
    runs = tuple(advice_runs(layout))
    return [n for n in range(1, 14) if any(run.holds_on(day(n)) for run in runs)]


def test_it_is_for_the_days_of_its_phase_that_its_rhythm_says() -> None:
    assert held(AdviceLine("rest")) == list(range(4, 13))
    assert held(AdviceLine("rest", parse_timing("od on mon thu"))) == [4, 8, 11]
    assert held(AdviceLine("rest", parse_timing("od every 4 days"))) == [4, 8, 12]
    assert held(AdviceLine("rest", parse_timing("od 2 d on 3 d off"))) == [4, 5, 9, 10]
