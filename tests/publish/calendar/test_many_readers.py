"""Courses of all sorts, in twelve zones up to 2037, read by others: no dose lost, none moved."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache
from random import Random

import pytest

from readers.calendar_exports import ZONES, dose_times, exported
from readers.calendar_readers import (
    Occurrence,
    with_ical,
    with_ical_expander,
    with_ical_js,
    with_icalevents,
    with_libical,
    with_recurring_ical_events,
    with_vobject,
)
from readers.careless import in_steps_of_seconds, with_until_as_local_time
from sennight.domain.courses.courses import Course, Flare, Pause, PauseMode
from sennight.domain.courses.stretches import lay_out
from sennight.domain.reminders.events import ReminderChoices
from support.draws import draws
from support.samples import course, line, phase

TIMES = ("od", "tds", "at 00:15,07:30", "at 02:10", "at 02:30,03:15", "nocte", "at 23:45")
DAYS = ("", "", "alternate days", "every 3 days", "on mon wed fri", "on sun", "on sat sun")
CYCLES = ("", "", "3 w on 1 w off", "5 d on 2 d off")
FAR_EAST = ("Australia/Sydney", "Australia/Lord_Howe", "Pacific/Chatham")
NUMBER = draws(24, check=204, long=408)
"""Every one of the zones has as many."""
FEWER = draws(24, check=36, long=408)
"""Those that are read by a reader in this process, which takes twenty times as long."""


def drawn(seed: int) -> tuple[Course, str]:
    """A course with a flare and a pause, half a year or six weeks of it, and its client's zone."""
    random = Random(seed)  # noqa: S311 - the same courses in every run

    def take() -> str:
        return " ".join(
            ("1 cup", random.choice(TIMES), random.choice(DAYS), random.choice(CYCLES))
        )

    weeks = 24 if seed % 5 == 0 else 4
    start = date(2027 + seed % 11, 1, 1) + timedelta(days=random.randrange(330))
    start = min(start, date(2037, 6, 1))
    plan = course(
        phase("a", "2 w", line("t1", take()), line("t2", take())),
        phase("b", f"{weeks} w", line("t1", take()), line("t3", take())),
        phase("rescue", "1 w", line("t2", take())),
        start=start,
    )
    flare, pause = (start + timedelta(days=random.randrange(7, weeks * 7)) for _ in range(2))
    mode = random.choice(tuple(PauseMode))
    revisions = (
        Flare(on=flare, first=flare, rescue="rescue"),
        Pause(on=pause, first=pause, last=pause + timedelta(days=6), mode=mode),
    )
    return replace(plan, revisions=revisions), ZONES[seed % len(ZONES)]


Reader = Callable[[Sequence[bytes]], list[list[Occurrence]]]


@cache
def file(seed: int) -> bytes:
    plan, zone = drawn(seed)
    return exported(plan, ReminderChoices(zone=zone))


@cache
def expected(seed: int) -> tuple[str, list[datetime]]:
    """The zone of a course and its dose times."""
    plan, zone = drawn(seed)
    return zone, dose_times(lay_out(plan), zone)


def each(read: Callable[[bytes], list[Occurrence]]) -> Reader:
    return lambda data: [read(text) for text in data]


READERS: dict[str, Reader] = {
    "recurring-ical-events": each(with_recurring_ical_events),
    "vobject": each(with_vobject),
    "ical": each(with_ical),
    "ical.js": with_ical_js,
    "libical": with_libical,
    "steps of seconds": each(in_steps_of_seconds),
    "until as local time": each(with_until_as_local_time),
}
OF_ALL = ("ical.js", "libical")


def read(reader: Reader, seeds: Sequence[int]) -> Iterator[tuple[str, list[datetime], object]]:
    """For each course its zone, its dose times, and what the reader finds."""
    for seed, occurrences in zip(seeds, reader([file(seed) for seed in seeds]), strict=True):
        zone, times = expected(seed)
        yield zone, times, sorted(at for _, at in occurrences)


@pytest.mark.parametrize("name", READERS)
def test_every_dose_is_read_at_its_time(name: str) -> None:
    number = NUMBER if name in OF_ALL else FEWER
    for _zone, times, found in read(READERS[name], range(number)):
        assert found == times


def test_a_reader_with_old_zone_data_of_its_own() -> None:
    """ical-expander's data end in 2035: after it each time takes it long, though it is right."""
    seeds = [seed for seed in range(NUMBER) if drawn(seed)[0].start.year < 2035]
    for _zone, times, found in read(with_ical_expander, seeds):
        assert found == times


def test_a_reader_that_moves_the_end_of_a_rule() -> None:
    """icalevents 0.3 adds the size of the zone's offset to UNTIL.

    West of Greenwich, and up to 8 hours east of it, what is written leaves room for that; farther
    east that reader gives a day too many.
    """
    seeds = [seed for seed in range(FEWER) if drawn(seed)[1] not in FAR_EAST]
    for _zone, times, found in read(each(with_icalevents), seeds):
        assert found == times
