"""Comparing two layouts: checked against counting day by day."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.compare import Comparison, compare, days_taken
from sennight.domain.courses.compare_words import days_words, length_words, sentence, sentences
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Revision,
    Stop,
)
from sennight.domain.courses.stretches import Layout, Stretch, lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import DayRule, Unit
from sennight.domain.schedule.doses import doses
from support import samples
from support.draws import draws

FEW = settings(max_examples=draws(20))
ON = date(2027, 1, 10)


def two_phases() -> Course:
    return samples.course(
        samples.phase("loading", "6 w", samples.line("t1", "1 cup tds")),
        samples.phase("maintenance", "8 w", samples.line("t1", "1 cup bd")),
        replace(samples.phase("flare", "1 w", samples.line("t2", "2 mL qds")), purpose="rescue"),
    )


def change(*revisions: Revision) -> Comparison:
    course = two_phases()
    after = replace(course, revisions=revisions)
    return compare(lay_out(course), lay_out(after))


@FEW
@given(samples.possible_courses())
def test_a_layout_does_not_differ_from_itself(course: Course) -> None:
    layout = lay_out(course)
    found = compare(layout, layout)
    assert not found
    assert sentence(found, course) == "Nothing changes."


@FEW
@given(samples.possible_courses())
def test_dose_counts_are_those_of_counting_every_dose(course: Course) -> None:
    before, after = lay_out(replace(course, revisions=())), lay_out(course)
    found = {(c.remedy, c.unit): c for c in compare(before, after).doses}
    old, new = (Counter((d.remedy, d.unit) for d in doses(one)) for one in (before, after))
    sums = [_amounts(before), _amounts(after)]
    for key in {*old, *new}:
        told = found.get(key)
        if told is None:
            assert old[key] == new[key]
            assert sums[0].get(key) == sums[1].get(key)
        else:
            assert (told.doses_before, told.doses_after) == (old[key], new[key])
            assert told.amount_before == sums[0].get(key, 0)
            assert told.amount_after == sums[1].get(key, 0)


def _amounts(layout: Layout) -> dict[tuple[str, Unit], Fraction]:
    sums: dict[tuple[str, Unit], Fraction] = {}
    for dose in doses(layout):
        key = dose.remedy, dose.unit
        sums[key] = sums.get(key, Fraction(0)) + dose.amount
    return sums


@FEW
@given(samples.possible_courses())
def test_every_day_taken_otherwise_lies_in_a_change_told(course: Course) -> None:
    before, after = lay_out(replace(course, revisions=())), lay_out(course)
    found = compare(before, after).lines
    for remedy in samples.REMEDIES:
        for when in Span(before.days.first, max(before.days.end, after.days.end)):
            old, new = (
                sorted(
                    (s.amount, s.unit, s.times, s.as_needed_max or 0)
                    for s in one.stretches
                    if s.remedy == remedy and s.taken_on(when)
                )
                for one in (before, after)
            )
            told = any(c.remedy == remedy and when in c.span for c in found)
            assert told or old == new


@given(
    st.dates(date(2026, 1, 1), date(2027, 1, 1)),
    st.integers(1, 60),
    st.sets(st.integers(0, 6)) | st.integers(1, 9),
)
def test_days_taken_are_counted_without_going_through_them(
    first: date, length: int, rule: set[int] | int
) -> None:
    days = DayRule(every=rule) if isinstance(rule, int) else DayRule(tuple(sorted(rule)))
    take = samples.take("1 cup od")
    span = Span(first, first + timedelta(days=length))
    stretch = Stretch(span, "p", "t1", Fraction(1), take.unit, (450,), days, None, take, "t1")
    assert days_taken(stretch) == len(tuple(stretch.days_taken()))


def test_a_longer_phase_is_told_with_the_move_of_the_next() -> None:
    assert sentences(
        change(Extend(on=ON, phase="loading", by=2, in_weeks=True)), two_phases()
    ) == (
        "Loading ends 28 February 2027 instead of 14 February 2027.",
        "Maintenance moves 2 weeks later, and runs from 1 March to 25 April 2027.",
        "Remedy t1: 1 cup tds instead of 1 cup bd from 15 to 28 February 2027.",
        "Remedy t1: 1 cup bd from 12 to 25 April 2027.",
        "Remedy t1: 42 more doses, 280 in all.",
        "The course's last day is 25 April 2027 instead of 11 April 2027.",
    )


def test_a_pause_that_skips_moves_nothing() -> None:
    day = date(2027, 1, 11)
    found = change(Pause(on=ON, first=day, last=day, mode=PauseMode.SKIP))
    assert found.phases == ()
    assert sentence(found, two_phases()) == ("No doses on 11 January 2027; 3 fewer doses in all.")


def test_a_freeze_a_flare_a_stop_and_a_move_are_told() -> None:
    day = date(2027, 1, 18)
    freeze = Pause(on=ON, first=day, last=date(2027, 1, 24), mode=PauseMode.FREEZE)
    assert "Loading ends 21 February 2027 instead of" in sentence(change(freeze), two_phases())
    flare = " ".join(sentences(change(Flare(on=ON, first=day, rescue="flare")), two_phases()))
    assert flare.startswith("The flare-up plan runs from 18 to 24 January 2027. Remedy t2: 2 mL")
    gone = sentence(change(Stop(on=ON, remedy="t1", first=day)), two_phases())
    assert gone.startswith("Remedy t1: not taken from 18 January to 14 February 2027")
    moved = sentence(change(Advance(on=ON, to="maintenance", first=day)), two_phases())
    assert "Maintenance moves 4 weeks earlier" in moved


def test_days_and_lengths_are_said_as_people_say_them() -> None:
    assert days_words(Span(date(2027, 12, 30), date(2028, 1, 3))) == (
        "from 30 December 2027 to 2 January 2028"
    )
    assert [length_words(n) for n in (1, 7, 10, 14)] == ["1 day", "1 week", "10 days", "2 weeks"]


def test_the_first_day_that_is_taken_otherwise() -> None:
    assert change().first_day is None
    assert change(End(on=ON, first=date(2027, 1, 20))).first_day == date(2027, 1, 20)


def test_days_taken_on_weekdays_by_hand() -> None:
    """A Monday to the Wednesday of the second week: two Mondays and two Wednesdays."""
    made = samples.course(samples.phase("a", "10 d", samples.line("t1", "1 cup od on mon wed")))
    (stretch,) = lay_out(made).stretches
    assert days_taken(stretch) == 4


def test_days_taken_otherwise_in_the_same_way_are_one_change_across_phases() -> None:
    """Each phase anchors its own directions, which here say the same."""
    phases = [samples.phase(name, "2 w", samples.line("t1", "1 cup od")) for name in ("a", "b")]
    plain = samples.course(*phases)
    pause = Pause(on=ON, first=samples.day(10), last=samples.day(20), mode=PauseMode.SKIP)
    (found,) = compare(lay_out(plain), lay_out(replace(plain, revisions=(pause,)))).lines
    assert found.span == Span.of_days(samples.day(10), samples.day(20))
    assert found.after == ()
