from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import time
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import lay_out
from sennight.domain.day import ClientDay, Moment
from sennight.domain.follow_up.adherence import adherence
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.follow_up.gates import read_gates
from sennight.domain.follow_up.outcomes import outcomes
from sennight.publish.csv.courses import (
    adherence_csv,
    csv_bytes,
    doses_csv,
    outcomes_csv,
    stretches_csv,
)
from support.samples import course, day, line, phase

LATE = Client("Una Example", day=ClientDay.at({Moment.BEDTIME: time(0, 30)}))


def stretches(one: Course) -> list[str]:
    return stretches_csv(lay_out(one)).decode().splitlines()[1:]


def test_stretches_are_told_row_by_row() -> None:
    one = course(
        phase(
            "one",
            "2 w",
            line("t1", "1 cup tds on wed mon"),
            line("t2", "1/3 tsp every 4-6 h prn"),
            line("t3", "2.50 mL od and prn max 2/day 3 d on 4 d off"),
        ),
        phase("two", "3 d", line("t1", "½ cup nocte alternate days")),
    )
    assert stretches(one) == [
        "2027-01-04,2027-01-17,one,t1,1,cup,07:30 12:30 18:30,mon wed,",
        "2027-01-04,2027-01-17,one,t2,1/3,tsp,,daily,4",
        "2027-01-04,2027-01-06,one,t3,2.5,mL,07:30,daily,2",
        "2027-01-11,2027-01-13,one,t3,2.5,mL,07:30,daily,2",
        "2027-01-18,2027-01-20,two,t1,0.5,cup,22:30,every 2 days,",
    ]


def test_tables_are_utf_8_with_line_feeds_and_quoted_where_needed() -> None:
    one = course(phase("first, “gently”", "1 d", line("t1", "1 cup od")))
    data = stretches_csv(lay_out(one))
    assert b"\r" not in data
    assert data.startswith(
        b"first_day,last_day,phase,remedy,amount,unit,times,days,as_needed_max\n"
    )
    assert data.endswith(
        '2027-01-04,2027-01-04,"first, “gently”",t1,1,cup,07:30,daily,\n'.encode()
    )


def test_a_dose_past_midnight_stands_at_its_date_in_that_dates_week() -> None:
    one = course(phase("one", "7 d", line("t1", "1 cup nocte")), client=LATE)
    rows = doses_csv(lay_out(one)).decode().splitlines()
    assert rows[0] == "date,time,phase,remedy,amount,unit,week"
    assert rows[1] == "2027-01-05,00:30,one,t1,1,cup,1"
    assert rows[-1] == "2027-01-11,00:30,one,t1,1,cup,2"
    assert stretches(one) == ["2027-01-04,2027-01-10,one,t1,1,cup,00:30,daily,"]


def test_as_needed_lines_have_no_doses() -> None:
    one = course(phase("one", "2 w", line("t1", "1 cup prn max 3/day")))
    assert len(doses_csv(lay_out(one)).splitlines()) == 1


def test_adherence_is_told_by_remedy_by_phase_and_over_all() -> None:
    one = course(
        phase("one", "2 d", line("t1", "1 cup tds"), line("t2", "1 mL bd and prn max 1/day")),
        phase("two", "2 d", line("t1", "1 cup od")),
    )
    diary = [
        Taken(day(1), "t1", 2),
        Taken(day(2), "t1", 2),
        Taken(day(1), "t2", 4),
        Taken(day(3), "t1", 1),
    ]
    table = adherence_csv(adherence(lay_out(one), diary)).decode()
    assert table.splitlines()[1:] == [
        "remedy,t1,3,3,0,7,5,2,0,0,0.7143,2027-01-04,2027-01-06,0.7143,0.7143,0.7143,3,3,1",
        "remedy,t2,2,1,1,2,2,0,1,1,1,2027-01-04,2027-01-04,0.5,1,1,2,1,0.5",
        "remedy,t3,0,0,0,0,0,0,0,0,,,,,,,0,0,",
        "phase,one,4,3,1,8,6,2,1,1,0.75,2027-01-04,2027-01-05,0.6,0.8,0.75,4,3,0.75",
        "phase,two,1,1,0,1,1,0,0,0,1,2027-01-06,2027-01-06,1,1,1,1,1,1",
        "all,,5,4,1,9,7,2,1,1,0.7778,2027-01-04,2027-01-06,0.6364,0.8182,0.7778,5,4,0.8",
    ]


def test_outcomes_are_told_with_thresholds_for_pain_alone() -> None:
    gated = replace(phase("one", "2 w", line("t1", "1 cup od")), gate=Gate("pain", 30))
    one = course(gated, phase("two", None))
    scores = [
        *(Score(day(n), "pain", Fraction(value)) for n, value in ((1, 7), (8, 5), (40, 4))),
        *(Score(day(n), "sleep", Fraction(value)) for n, value in ((1, 0), (40, 3))),
    ]
    layout = lay_out(replace(one, until=day(60)))
    table = outcomes_csv(outcomes(layout, scores), read_gates(layout, scores)).decode()
    assert table.splitlines()[1:] == [
        (
            "pain,phase,one,2,2027-01-04,7,2027-01-11,5,-2,-28.6,yes,no,minimal,not met,less,"
            "at the edge"
        ),
        "pain,all,,3,2027-01-04,7,2027-02-12,4,-3,-42.9,yes,yes,moderate,,less,better",
        "sleep,all,,2,2027-01-04,0,2027-02-12,3,3,,,,,,more,slightly better",
    ]


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+44 1632", "'+44 1632"),
        ("@x", "'@x"),
        ("-x", "'-x"),
        ("\tx", "'\tx"),
        ("-1.5", "-1.5"),
        ("+3", "+3"),
        (-2, "-2"),
        ("a=b", "a=b"),
        (None, ""),
    ],
)
def test_no_cell_is_a_formula(cell: object, written: str) -> None:
    """As OWASP advises against CSV injection: an apostrophe before = + - @, tab or return."""
    (_, row) = csv.reader(io.StringIO(csv_bytes(("head", "x"), [(cell, "x")]).decode()))
    assert row == [written, "x"]
