"""Events against the single doses of a course, and their number against the least possible."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import date, datetime, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from readers.dose_lines import dose_lines, told_doses
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import Span
from sennight.domain.day import as_minutes, as_time
from sennight.domain.directions.directions import DayRule, Unit
from sennight.domain.reminders.events import Event, ReminderChoices
from sennight.domain.reminders.overlaps import DoseSeries, DueDose, partition
from sennight.domain.reminders.reminders import reminder_events
from sennight.domain.reminders.runs import Run
from support.draws import draws
from support.samples import courses, day, possible_courses

QUIET = ReminderChoices(markers=False)


def due(layout: Layout) -> dict[datetime, list[str]]:
    """What is due at each date and wall-clock time, from the single doses."""
    found = defaultdict(list)
    for dose, amount in told_doses(layout):
        name = layout.course.remedy(dose.remedy).name
        told = f"{dose.time:%H:%M} {name}: {amount}"
        found[datetime.combine(dose.date, dose.time)].append(told)
    return {when: sorted(told) for when, told in found.items()}


def told(events: tuple[Event, ...]) -> dict[datetime, list[str]]:
    """What each occurrence tells; two at one time fail."""
    found: dict[datetime, list[str]] = {}
    for event in events:
        if event.minute is None:
            continue
        for when in event.run:
            at = datetime.combine(when, as_time(event.minute))
            assert at not in found, f"two events at {at}"
            found[at] = sorted(dose_lines(at, event.title, event.text))
    return found


@settings(max_examples=draws(30))
@given(possible_courses())
def test_each_dose_is_told_once_at_its_date_and_time(plan: Course) -> None:
    layout = lay_out(plan)
    assert told(reminder_events(layout, QUIET)) == due(layout)


@settings(max_examples=draws(20))
@given(courses(), st.integers(1, 240))
def test_joined_doses_stand_at_the_first_of_them(plan: Course, within: int) -> None:
    layout = lay_out(plan)
    events = reminder_events(layout, ReminderChoices(markers=False, join_within=within))
    found: Counter[tuple[date, str]] = Counter()
    for at, lines in told(events).items():
        minutes = [60 * int(text[:2]) + int(text[3:5]) for text in lines]
        assert as_minutes(at.time()) == min(minutes)
        assert max(minutes) - min(minutes) <= within
        found.update((at.date(), text) for text in lines)
    assert found == Counter(
        (at.date(), text) for at, lines in due(layout).items() for text in lines
    )


@settings(max_examples=draws(20))
@given(courses())
def test_files_by_phase_hold_the_same_occurrences(plan: Course) -> None:
    layout = lay_out(plan)
    events = reminder_events(layout, ReminderChoices(markers=False, by_phase=True))
    assert told(events) == due(layout)
    for event in events:
        own = next(run for run in layout.phases if run.phase.id == event.part)
        later = [run.span.first for run in layout.phases if run.span.first > own.span.first]
        assert not later or event.run.last < min(later)


@settings(max_examples=draws(20))
@given(possible_courses())
def test_no_two_events_are_the_same_thing(plan: Course) -> None:
    keys = [event.key for event in reminder_events(lay_out(plan))]
    assert len(keys) == len(set(keys))


# The number of events


def due_dose(remedy: str) -> DueDose:
    return DueDose(450, 0, remedy, Fraction(1), Unit.CUP)


def series(remedy: str, first: int, days: int, rule: DayRule) -> DoseSeries:
    return DoseSeries(Span(day(first), day(first + days)), rule, due_dose(remedy))


RULES = st.one_of(
    st.just(DayRule()),
    st.sets(st.integers(0, 6), min_size=1, max_size=6).map(lambda d: DayRule(tuple(sorted(d)))),
    st.integers(2, 6).map(lambda n: DayRule((), n)),
)


def least(days: frozenset[date], known: dict[frozenset[date], int]) -> int:
    """The least number of rules that say these days, by trying all that start on the first."""
    if not days:
        return 0
    if days not in known:
        first, last = min(days), max(days)
        known[days] = 1 + min(
            least(days - said, known) for said in sayable(first, last) if said <= days
        )
    return known[days]


_SAYABLE: dict[tuple[date, date], set[frozenset[date]]] = {}


def sayable(first: date, last: date) -> set[frozenset[date]]:
    """All that one rule can say from a first day on: even steps and sets of weekdays."""
    if (first, last) not in _SAYABLE:
        window = [first + timedelta(days=n) for n in range((last - first).days + 1)]
        found = {
            frozenset(window[:n:step]) for step in range(1, 8) for n in range(1, len(window) + 1)
        }
        for code in range(128):
            if code >> first.weekday() & 1:
                said = [when for when in window if code >> when.weekday() & 1]
                found |= {frozenset(said[:n]) for n in range(1, len(said) + 1)}
        _SAYABLE[first, last] = found
    return _SAYABLE[first, last]


@settings(max_examples=draws(60))
@given(st.integers(1, 7), st.integers(1, 14), st.lists(RULES, min_size=1, max_size=2))
def test_no_fewer_events_could_say_it(first: int, days: int, rules: list[DayRule]) -> None:
    all_series = [series(f"t{n}", first, days, rule) for n, rule in enumerate(rules)]
    found: dict[tuple[DueDose, ...], list[Run]] = defaultdict(list)
    for together, run in partition(all_series):
        found[together].append(run)
    for runs in found.values():
        whole = frozenset(when for run in runs for when in run)
        assert len(runs) <= least(whole, {}), runs
