"""A diary kept as a table: both shapes, any order, everything wrong told by row and column."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sennight.domain.courses.protocols import AdviceLine
from sennight.domain.follow_up.diaries import DayNote, Followed, Reported, Score, Taken, note_words
from sennight.domain.follow_up.measures import Better, Measure, Measures
from sennight.practice.reading_diaries import SheetsRead, entries_csv
from sennight.publish.csv.diary_table import (
    MOST_PROBLEMS,
    DiaryTableError,
    diary_csv,
    read_diary_table,
)
from support.draws import draws
from support.samples import course, line, phase

ADVICE = AdviceLine("Walk, 20 minutes")
GRIP = Measure("grip", "Grip of the right hand", Better.MORE, high=Fraction(60))
PHASE = phase("one", "4 w", line("t1", "1 cup tds"), line("t2", "5 mL bd"))
PLAIN = course(replace(PHASE, advice=(ADVICE,)))
NAMES = ("Hedge tea", "Warm tincture")
COURSE = replace(
    PLAIN, remedies=tuple(map(lambda r, name: replace(r, name=name), PLAIN.remedies, NAMES))
)
MEASURES = Measures((GRIP,))
DAY, NEXT = date(2027, 1, 4), date(2027, 1, 5)


def read(*lines: str) -> Reported:
    return read_diary_table("\n".join(lines), COURSE, MEASURES)


def problems(*lines: str) -> tuple[str, ...]:
    with pytest.raises(DiaryTableError) as caught:
        read(*lines)
    return caught.value.problems


def test_a_day_a_row_with_names_ids_letters_and_measures_as_heads() -> None:
    found = read(
        "Pain;B;hedge  TEA;Date;Walk, 20 minutes;grip of the right hand;activity: kneel",
        "6,5;2;3;4/1/2027;1;44;",
        ";;;;;;",
        "7;;0;5 January 2027;;;4",
    )
    assert found == Reported(
        (Taken(DAY, "t1", 3), Taken(DAY, "t2", 2), Taken(NEXT, "t1", 0)),
        (Followed(DAY, "Walk, 20 minutes", 1),),
        (
            Score(DAY, "grip", Fraction(44)),
            Score(DAY, "pain", Fraction(13, 2)),
            Score(NEXT, "activity: kneel", Fraction(4)),
            Score(NEXT, "pain", Fraction(7)),
        ),
    )


def test_an_entry_a_row_in_any_order_of_columns() -> None:
    taken = Taken(DAY, "t1", 3)
    assert read("taken,remedy,date", "3,t1,2027-01-04").taken == (taken,)
    assert read("score,measure,date", "4.5,calm,2027-01-04").scores == (
        Score(DAY, "calm", Fraction(9, 2)),
    )
    noted = read("note,value,of,date", "slept  well,3,A,2027-01-04", "slept well,2,B,2027-01-04")
    assert (noted.taken[0], noted.notes) == (taken, (DayNote(DAY, "slept well"),))
    assert read("kind,of,date,value", "note,,2027-01-04,no rain").notes == (
        DayNote(DAY, "no rain"),
    )


DOSES = st.sets(st.sampled_from(["t1", "t2"])).map(
    lambda remedies: tuple(Taken(DAY, remedy, 2) for remedy in sorted(remedies))
)
RATED = (Score(DAY, "knee pain", Fraction(9, 2)), Score(NEXT, "pain", Fraction(0)))
FOLLOWED = (Followed(DAY, ADVICE.text, 1),)


SAID = st.text(max_size=20).map(note_words).filter(bool).map(lambda words: (DayNote(DAY, words),))


@settings(max_examples=draws(20, long=300))
@example((), (), (), (DayNote(DAY, "=1+1, 'quoted' and “said”"),))
@given(DOSES, st.sampled_from([(), FOLLOWED]), st.sampled_from([(), RATED]), SAID | st.just(()))
def test_what_is_read_from_a_sheet_reads_back_from_its_table(
    taken: tuple[Taken, ...],
    followed: tuple[Followed, ...],
    scores: tuple[Score, ...],
    notes: tuple[DayNote, ...],
) -> None:
    reported = Reported(taken, followed, scores, notes)
    assert read_diary_table(diary_csv(reported).decode(), COURSE, MEASURES) == reported
    sheet = SheetsRead(taken, followed, scores, (), (NEXT,), (), ())
    assert read(*entries_csv(sheet).splitlines()) == Reported(taken, followed, scores)


def test_all_that_is_wrong_is_told_by_row_and_column() -> None:
    assert problems("date,hedge te,Pain", "soon,1,11", "2027-01-04,1,x") == (
        "row 1, “hedge te”: no remedy, advice or measure “hedge te”; did you mean “hedge tea”?",
        "row 2, “date”: expected a day such as 2027-01-04 or 4/1/2027; found “soon”",
        "row 3, “Pain”: expected a number from 0 to 10; found “x”",
    )
    assert problems("date,of,value,kind", "2027-01-04,t1,2.5,", "2027-01-04,t1,-1,score") == (
        "row 2, “value”: expected a whole number from 0 to 99; found “2.5”",
        "row 3, “value”: expected a number from 0 to 10; found “-1”",
    )
    assert problems("date,of,value", "2027-01-04,A,1", "2027-01-04,t1,2") == (
        "row 3, “value”: a second entry of “t1” for 2027-01-04",
    )
    assert problems("kind,date,of,value", "look at,,Monday: t1,", "done,2027-01-04,t1,1") == (
        "row 2, “kind”: expected one of taken, done, score, note; found “look at”",
        "row 3, “of”: “t1” is entered as taken, not as done",
    )
    assert problems("day,t1", "2027-01-04,1") == (
        "row 1: expected a column “date” among the heads",
    )
    long = "a" * 1001
    assert problems("Notes,date", "wet,2027-01-04", "dry,4/1/2027", f"{long},2027-01-05") == (
        "row 3, “Notes”: a second note for 2027-01-04; expected one for a day",
        "row 4, “Notes”: expected at most 1,000 letters; found 1,001",
    )
    assert problems("") == ("row 1: expected a column “date” among the heads",)
    many = problems("date,t1", *(f"2027-01-04,{n}" for n in range(100, 130)))
    assert (len(many), many[-1]) == (MOST_PROBLEMS + 1, "and 10 more")
