"""Diaries and scores, and what was given to clients."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

import pytest

from sennight.domain.follow_up.diaries import DayNote, Reported, Score, Taken
from sennight.domain.follow_up.measures import Better, Measure, Measures
from sennight.practice.courses import start_course
from sennight.practice.diaries import (
    DiaryError,
    day_notes,
    diary,
    enter_diary,
    enter_scores,
    enter_whole_diary,
    find_day_notes,
    measures,
    scores,
    withdraw_diary,
)
from sennight.practice.opening import MissingRecordError, OpenPractice
from sennight.practice.publications import (
    last_publication,
    list_publications,
    record_publication,
)
from sennight.store.connecting import raw_connection
from support.samples import START, day

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)


@pytest.fixture
def course_id(practice: OpenPractice, client_id: str, protocol_id: str) -> str:
    return start_course(practice, client_id, protocol_id, START, now=NOW)


def stored(practice: OpenPractice, query: str) -> list[tuple[object, ...]]:
    with closing(raw_connection(practice.path)) as connection:
        return connection.execute(query).fetchall()


def test_a_diary_is_entered_and_corrected_and_keeps_what_was_there(
    practice: OpenPractice, course_id: str
) -> None:
    assert diary(practice, course_id) == ()
    enter_diary(practice, course_id, [Taken(day(2), "t1", 3), Taken(day(1), "t1", 2)])
    enter_diary(practice, course_id, [Taken(day(1), "t1", 0), Taken(day(1), "t2", 1)])
    enter_diary(practice, course_id, [Taken(day(1), "t2", 1)])
    assert diary(practice, course_id) == (
        Taken(day(1), "t1", 0),
        Taken(day(1), "t2", 1),
        Taken(day(2), "t1", 3),
    )
    query = (
        "SELECT doses FROM diary_entry JOIN diary_line ON diary_line.id = line_id "
        "WHERE date(day + 1721424.5) = '2027-01-04' AND remedy = 't1' ORDER BY saving_id"
    )
    assert stored(practice, query) == [(2,), (0,)]
    assert stored(practice, "SELECT count(*) FROM diary_entry") == [(4,)]


def test_withdrawn_entries_are_empty_again_and_can_be_entered_again(
    practice: OpenPractice, course_id: str
) -> None:
    enter_diary(practice, course_id, [Taken(day(1), "t1", 2), Taken(day(2), "t1", 3)])
    withdraw_diary(practice, course_id, [(day(1), "t1"), (day(9), "t1")])
    assert diary(practice, course_id) == (Taken(day(2), "t1", 3),)
    enter_diary(practice, course_id, [Taken(day(1), "t1", 2)])
    assert len(diary(practice, course_id)) == 2
    enter_scores(practice, course_id, [Score(day(1), "pain", Fraction(7))])
    enter_scores(practice, course_id, (), withdrawn=[(day(1), "pain")])
    assert scores(practice, course_id) == ()


def test_scores_by_day_and_measure(practice: OpenPractice, course_id: str) -> None:
    given = [Score(day(8), "pain", Fraction(13, 2)), Score(day(1), "sleep", Fraction(0))]
    enter_scores(practice, course_id, given)
    enter_scores(practice, course_id, [Score(day(8), "pain", Fraction(10))])
    assert scores(practice, course_id) == (
        Score(day(1), "sleep", Fraction(0)),
        Score(day(8), "pain", Fraction(10)),
    )


@pytest.mark.parametrize(
    ("taken", "message"),
    [
        (Taken(day(2), "t1", -1), "2027-01-05: -1 doses; expected 0 or more"),
        (Taken(day(2), "t9", 1), "2027-01-05: remedy “t9” is not in this course"),
        (Taken(day(1), "t1", 1), "2027-01-04: “t1” is given twice"),
    ],
)
def test_a_wrong_entry_is_refused_with_all_of_its_page(
    practice: OpenPractice, course_id: str, taken: Taken, message: str
) -> None:
    with pytest.raises(DiaryError, match=message):
        enter_diary(practice, course_id, [Taken(day(1), "t1", 2), taken])
    assert diary(practice, course_id) == ()


@pytest.mark.parametrize("value", [Fraction(-1), Fraction(101, 10)])
def test_a_score_off_the_scale_is_refused(
    practice: OpenPractice, course_id: str, value: Fraction
) -> None:
    given = [Score(day(1), "pain", Fraction(5)), Score(day(2), "pain", value)]
    with pytest.raises(DiaryError, match="expected 0 to 10"):
        enter_scores(practice, course_id, given)
    assert scores(practice, course_id) == ()


def test_a_whole_diary_with_scores_is_entered_or_nothing_of_it(
    practice: OpenPractice, course_id: str
) -> None:
    taken, rated = (Taken(day(1), "t1", 2),), Score(day(1), "pain", Fraction(5))
    note = DayNote(day(2), "slept well")
    off, long = replace(rated, value=Fraction(11)), DayNote(day(3), "a" * 1001)
    with pytest.raises(DiaryError, match="expected 0 to 10"):
        enter_whole_diary(practice, course_id, Reported(taken, scores=(off,), notes=(note,)))
    with pytest.raises(DiaryError, match="given twice"):
        enter_whole_diary(practice, course_id, Reported(taken, scores=(rated, rated)))
    with pytest.raises(DiaryError, match="1,001 letters; expected at most 1,000"):
        enter_whole_diary(practice, course_id, Reported(taken, notes=(long,)))
    assert (diary(practice, course_id), scores(practice, course_id)) == ((), ())
    assert day_notes(practice, course_id) == ()
    enter_whole_diary(practice, course_id, Reported(taken, scores=(rated,), notes=(note,)))
    assert day_notes(practice, course_id) == (note,)
    assert (diary(practice, course_id), scores(practice, course_id)) == (taken, (rated,))
    enter_whole_diary(practice, course_id, Reported(), withdrawn=[(day(1), "t1")])
    assert diary(practice, course_id) == ()


def test_notes_of_days_are_corrected_withdrawn_and_found(
    practice: OpenPractice, course_id: str
) -> None:
    def enter(*notes: DayNote) -> None:
        enter_whole_diary(practice, course_id, Reported(notes=notes))

    def found(typed: str) -> list[tuple[str, str]]:
        return [(note.day, note.words) for note in find_day_notes(practice, typed)]

    first, second = DayNote(day(2), "Slept poorly: señora stayed"), DayNote(day(1), "Walked")
    enter(first, second)
    assert day_notes(practice, course_id) == (second, first)
    assert found("senor poor") == [(day(2).isoformat(), first.words)]
    enter(replace(first, words="Slept well"), second)
    assert (found("poorly"), found("sle")) == ([], [(day(2).isoformat(), "Slept well")])
    enter(DayNote(day(2), ""))
    assert (found("sle"), day_notes(practice, course_id)) == ([], (second,))
    with closing(raw_connection(practice.path)) as connection:
        kept = [words for (words,) in connection.execute("SELECT words FROM day_note ORDER BY id")]
    assert kept == [first.words, "Walked", "Slept well", ""]
    assert found("") == []


def test_stiffness_is_told_in_minutes(practice: OpenPractice, course_id: str) -> None:
    given = Score(day(1), "stiffness in minutes", Fraction(45))
    enter_scores(practice, course_id, [given])
    assert scores(practice, course_id) == (given,)
    with pytest.raises(DiaryError, match="expected 0 to 1440"):
        enter_scores(practice, course_id, [replace(given, value=Fraction(1441))])
    with pytest.raises(DiaryError, match="given twice"):
        enter_scores(practice, course_id, [given], withdrawn=[(given.day, given.measure)])


def test_a_measure_of_the_courses_own_is_kept_and_can_be_described_anew(
    practice: OpenPractice, course_id: str
) -> None:
    grip = Measure("grip", "Grip", Better.MORE, high=Fraction(60), unit="kg")
    squeezed = Score(day(1), "grip", Fraction(44))
    enter_scores(practice, course_id, [squeezed], own=[grip])
    assert measures(practice, course_id) == Measures((grip,))
    known = replace(grip, matters=Fraction(5), source="the practice's own")
    enter_scores(practice, course_id, [], own=[known, known])
    assert measures(practice, course_id) == Measures((known,))
    assert stored(practice, "SELECT count(*) FROM measure_entry") == [(2,)]
    with pytest.raises(DiaryError, match="“Pain” is already in use"):
        enter_scores(practice, course_id, [], own=[replace(grip, id="Pain")])
    with pytest.raises(DiaryError, match="expected 0 to 30"):
        enter_scores(practice, course_id, [squeezed], own=[replace(grip, high=Fraction(30))])
    assert measures(practice, course_id) == Measures((known,))


def test_publications_stay_and_the_latest_of_a_kind_is_found(
    practice: OpenPractice, course_id: str
) -> None:
    assert last_publication(practice, course_id, "reminders") is None
    for n, kind in enumerate(["reminders", "handout", "reminders"]):
        when = NOW - timedelta(days=n)
        record_publication(practice, course_id, kind=kind, content=bytes([0, n]), now=when)
    given = list_publications(practice, course_id)
    assert [(one.kind, one.content) for one in given] == [
        ("reminders", b"\x00\x00"),
        ("handout", b"\x00\x01"),
        ("reminders", b"\x00\x02"),
    ]
    assert last_publication(practice, course_id, "reminders") == given[2]
    assert len({one.id for one in given}) == 3


@pytest.mark.parametrize(
    "use",
    [
        lambda p: diary(p, "x"),
        lambda p: scores(p, "x"),
        lambda p: enter_diary(p, "x", [Taken(START, "t1", 1)]),
        lambda p: enter_scores(p, "x", [Score(START, "pain", Fraction(1))]),
        lambda p: withdraw_diary(p, "x", [(START, "t1")]),
        lambda p: enter_scores(p, "x", (), withdrawn=[(START, "pain")]),
        lambda p: record_publication(p, "x", kind="handout", content=b"", now=NOW),
        lambda p: last_publication(p, "x", "handout"),
        lambda p: list_publications(p, "x"),
    ],
)
def test_a_course_that_is_not_there_is_named(
    practice: OpenPractice, use: Callable[[OpenPractice], object]
) -> None:
    with pytest.raises(MissingRecordError, match="no course with the id “x”"):
        use(practice)
