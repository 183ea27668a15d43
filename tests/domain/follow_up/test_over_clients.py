"""What became of a protocol's courses, counted."""

from __future__ import annotations

import statistics
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.clients import Reaction
from sennight.domain.courses.courses import Course, End, Flare, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.over_clients import CourseRecord, protocol_record, spread
from sennight.domain.follow_up.over_clients_words import (
    FEW,
    Row,
    Topic,
    passed_on_counts,
    record_rows,
)
from support.samples import course, day, line, phase

PLAN = course(
    phase("loading", "4 w", line("t1", "1 cup od")),
    phase("keeping", None, line("t1", "1 cup od")),
    phase("rescue", "3 d", line("t2", "1 cup od")),
)
PLAN = replace(PLAN, until=day(100))
TODAY = day(57)


def record(
    client: str, plan: Course = PLAN, pain: tuple[int, ...] = (), taken: int = 0
) -> CourseRecord:
    scores = [Score(day(1 + 7 * n), "pain", Fraction(value)) for n, value in enumerate(pain)]
    diary = [Taken(day(n), "t1", int(n <= taken)) for n in range(1, 11)] if taken else []
    return CourseRecord(client, lay_out(plan), diary, scores)


def test_the_deviation_of_the_handbook() -> None:
    """The example of NIST's certified values for the numbers 10000001 to 10000003.

    NIST Statistical Reference Datasets, NumAcc1: mean 10000002, sample deviation 1.
    """
    found = spread([Fraction(10000000 + n) for n in (1, 3, 2)])
    assert found.mean == found.median == 10000002
    assert found.deviation == Decimal(1)


@given(st.lists(st.fractions(-10, 10, max_denominator=8), min_size=2, max_size=12))
def test_a_spread_is_the_standard_librarys(values: list[Fraction]) -> None:
    found = spread(values)
    assert found.mean == statistics.mean(values)
    assert float(found.deviation or 0) == pytest.approx(statistics.stdev(values))
    assert (found.n, found.least, found.most) == (len(values), min(values), max(values))
    assert spread(values[:1]).deviation is None


def test_courses_are_counted_by_what_became_of_them() -> None:
    flare = Flare(on=day(10), first=day(10), rescue="rescue")
    later = Flare(on=day(40), first=TODAY + timedelta(9), rescue="rescue")
    stop = Stop(on=day(15), first=day(15), remedy="t1", reason="nausea")
    end = End(on=day(22), first=day(22), reason="moved away")
    reacted = Reaction(day(14), PLAN.remedies[0].name, ("a",), "nausea")
    early = replace(reacted, day=day(1) - timedelta(1))
    client = replace(PLAN.client, reactions=(reacted, early, replace(reacted, void="not hers")))
    found = protocol_record(
        "joints",
        [
            record("ann", pain=(8, 6, 3), taken=5),
            record("ann", replace(PLAN, client=client, revisions=(flare, stop)), pain=(5, 5)),
            record("bo", replace(PLAN, revisions=(later, end)), pain=(4, 6), taken=10),
            record("cy", replace(PLAN, revisions=(replace(stop, void="slip"),)), pain=(4,)),
            record("di", replace(PLAN, void="entered twice")),
            record("ed", replace(PLAN, start=TODAY + timedelta(1), until=None)),
        ],
        TODAY,
    )
    assert (found.began, found.clients, found.running) == (4, 3, 3)
    assert found.reached == (("loading", 4), ("keeping", 3))
    assert (found.with_flares, found.flares) == (1, 1)
    assert found.proportion is not None
    assert found.proportion.least == Fraction(1, 2)
    assert found.proportion.most == 1
    assert found.persistence is not None
    (pain,) = found.changes
    assert (pain.better, pain.same, pain.worse) == (1, 1, 1)
    assert pain.change.mean == -1
    (stopped,) = found.stops
    assert (stopped.remedy, stopped.count, stopped.reasons) == (
        PLAN.remedies[0].name,
        1,
        ("nausea",),
    )
    assert stopped.weeks.mean == 3
    assert found.ends is not None
    assert found.ends.weeks.mean == 4
    (reaction,) = found.reactions
    assert (reaction.count, reaction.what) == (1, ("nausea",))
    rows = {(row.topic, row.name): row for row in record_rows(found)}
    assert rows[Topic.SCORES, "Pain, last minus first"].figures == (
        "mean −1, SD 3.6; median 0; −5 to 2"
    )
    assert rows[Topic.COURSES, "ended early"] == Row(
        Topic.COURSES, "ended early", 1, 4, "week 4", "moved away"
    )
    assert rows[Topic.REACTIONS, PLAN.remedies[0].name].words == "nausea"
    assert rows[Topic.TAKEN, "due doses taken, on days with an entry"].figures == (
        "mean 75 %, SD 35 %; median 75 %; 50 % to 100 %"
    )
    assert not any(row.passed_on.figures or row.passed_on.words for row in rows.values())


def test_nothing_is_said_of_no_course() -> None:
    rows = record_rows(protocol_record("joints", [], TODAY))
    assert [(row.name, row.told_count) for row in rows] == [
        ("began", "0"),
        ("clients", "0"),
        ("still running", "0 of 0"),
        ("courses with one or more", "0 of 0"),
    ]


def test_one_rating_of_a_measure_without_direction_has_no_verdict() -> None:
    calm = [Score(day(n), "calm", Fraction(n)) for n in (1, 8)]
    found = protocol_record("joints", [CourseRecord("ann", lay_out(PLAN), (), calm)], TODAY)
    (row,) = (row for row in record_rows(found) if row.topic is Topic.SCORES)
    assert (row.name, row.figures) == ("calm, last minus first", "7")


def test_weeks_over_several_courses_have_a_span() -> None:
    stops = [Stop(on=day(n), first=day(n), remedy="t1") for n in (1, 15)]
    plans = [record(str(n), replace(PLAN, revisions=(stop,))) for n, stop in enumerate(stops)]
    rows = record_rows(protocol_record("joints", plans, TODAY))
    (row,) = (row for row in rows if row.topic is Topic.STOPPED)
    assert row.figures == "weeks 1 to 3, median 2"


@given(st.integers(0, 30), st.integers(0, 30))
def test_what_is_passed_on_tells_of_no_few(count: int, rest: int) -> None:
    row = Row(Topic.PHASES, "reached Loading", count, count + rest, "mean 3", "she fell")
    assert row.passed_on.words == ""
    assert bool(row.passed_on.figures) == (count >= 5)
    told = row.passed_on_count
    is_small = count + rest < 5
    assert (FEW in told) == (0 < count < 5 or (0 < rest < 5 and not is_small))
    assert (told == f"{count} of {count + rest}") == (FEW not in told and not is_small)
    alone = Row(Topic.STOPPED, "tea", count)
    assert alone.passed_on_count == (FEW if 0 < count < 5 else str(count))


def test_a_count_is_passed_on_in_words_where_few_are_or_are_not_in_it() -> None:
    told = [Row(Topic.PHASES, "x", count, 14).passed_on_count for count in (0, 3, 9, 12, 14)]
    assert told == ["0 of 14", FEW, "9 of 14", f"all but {FEW}", "14 of 14"]
    assert [Row(Topic.PHASES, "x", count, 4).passed_on_count for count in (0, 4)] == ["0", FEW]


def test_no_count_of_few_can_be_worked_out_from_the_other_parts() -> None:
    """Every way in which up to 16 courses went better, the same and worse, by brute force."""
    told: dict[tuple[str, ...], set[tuple[int, ...]]] = {}
    for parts in product(range(17), repeat=3):
        if 0 < sum(parts) <= 16:
            rows = [Row(Topic.SCORES, "x", part, sum(parts), whole="pain") for part in parts]
            told.setdefault(passed_on_counts(rows), set()).add(parts)
    for ways in told.values():
        for place in range(3):
            values = {way[place] for way in ways}
            assert len(values) > 1 or not 0 < min(values) < 5, ways
