"""A course looked back on, in figures and in words; the figures are the adherence report's."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.charts.review import Review, review
from sennight.domain.charts.review_words import Cut, how_it_goes, share_rows, taken_sentence
from sennight.domain.courses.protocols import Gate
from sennight.domain.courses.stretches import lay_out
from sennight.domain.follow_up.diaries import Score, Taken
from support.samples import course, day, line, phase

LAYOUT = lay_out(
    course(
        replace(
            phase(
                "one",
                "4 w",
                line("t1", "1 cup bd"),
                line("t2", "5 mL at 09:15"),
                line("t3", "1 capsule prn max 2/day"),
            ),
            gate=Gate("pain", 30),
        ),
        phase("two", "4 w", line("t1", "1 cup od")),
    )
)


def looked_back(
    taken: dict[tuple[int, str], int] | None = None, **rated: tuple[int, ...]
) -> Review:
    """Read on the ninth day; ratings on the first day, then every week."""
    diary = [Taken(day(n), remedy, doses) for (n, remedy), doses in (taken or {}).items()]
    scores = [
        Score(day(1 + 7 * n), name.replace("_", " "), Fraction(value))
        for name, values in rated.items()
        for n, value in enumerate(values)
    ]
    return review(LAYOUT, diary, scores, day(9))


def test_without_diary_and_scores_there_is_nothing_to_tell() -> None:
    empty = looked_back()
    assert (empty.report, share_rows(empty), how_it_goes(empty)) == (None, (), "")
    assert taken_sentence(empty) == "No diary was entered."
    assert (empty.charts, empty.diary.weeks, len(empty.days)) == ((), (), 9)
    assert [gate.run.phase.id for gate in empty.gates_now] == ["one"]


def test_what_got_worse_comes_first_and_nothing_is_added() -> None:
    said = how_it_goes(looked_back(pain=(5, 8), sleep=(4, 4), own=(1, 2), well_being=(2,)))
    assert said == "Worse: pain (5 to 8). The same: sleep (4 to 4). Changed: own (1 to 2)."
    assert how_it_goes(looked_back(pain=(8, 4), sleep=(3, 5))) == (
        "Better: pain (8 to 4) and sleep (3 to 5)."
    )


def test_figures_are_told_by_remedy_phase_moment_and_weekday() -> None:
    """A day is the client's; breakfast and supper of a day half taken are not told apart."""
    diary = {(n, "t1"): 2 for n in range(1, 7)} | {(7, "t1"): 1, (2, "t3"): 1, (3, "t2"): 3}
    rows = share_rows(looked_back(diary))
    told = [(row.cut, row.name, row.doses, row.percent, row.remark) for row in rows]
    beside = "6 days without an entry, 1 as needed, 2 above what was due"
    assert told[:5] == [
        (Cut.ALL, "All remedies", "14 of 15", "93 %", beside),
        (Cut.REMEDY, "Remedy t1", "13 of 14", "93 %", ""),
        (Cut.REMEDY, "Remedy t2", "1 of 1", "", "6 days without an entry, 2 above what was due"),
        (Cut.REMEDY, "Remedy t3", "nothing due", "", "1 as needed"),
        (Cut.PHASE, "One", "14 of 15", "93 %", beside),
    ]
    by_moment = [row for row in told if row[0] is Cut.MOMENT]
    assert by_moment == [
        (Cut.MOMENT, "Breakfast", "6 to 7 of 7", "", "which were missed is not recorded"),
        (Cut.MOMENT, "Evening meal", "6 to 7 of 7", "", "which were missed is not recorded"),
        (Cut.MOMENT, "At set times", "1 of 1", "100 %", ""),
    ]
    weekdays = [row for row in told if row[0] is Cut.WEEKDAY]
    assert weekdays[0] == (Cut.WEEKDAY, "Monday", "2 of 2", "100 %", "")
    assert weekdays[-1] == (Cut.WEEKDAY, "Sunday", "1 of 2", "50 %", "")


def test_a_weekday_on_which_nothing_was_recorded_has_no_row() -> None:
    rows = share_rows(looked_back({(1, "t1"): 2}))
    assert [row.name for row in rows if row.cut is Cut.WEEKDAY] == ["Monday"]


@pytest.mark.parametrize(
    ("diary", "said"),
    [
        (
            {(n, "t1"): 2 for n in range(1, 3)} | {(n, "t2"): 1 for n in range(1, 3)},
            "Up to 5 January 2027, 6 of 6 doses with an entry were taken (100 %).",
        ),
        (
            {(1, "t1"): 2, (7, "t1"): 2},
            (
                "Up to 10 January 2027, 4 of 4 doses with an entry were taken; 17 more that were "
                "due have no entry, too many for a percentage to mean anything."
            ),
        ),
        (
            {(n, "t1"): 1 for n in range(1, 8)},
            (
                "Up to 10 January 2027, 7 of 14 doses with an entry were taken (50 %); 7 more "
                "that were due have no entry."
            ),
        ),
        ({(1, "t3"): 1}, "None of the doses due has an entry."),
    ],
)
def test_what_was_taken_in_a_sentence(diary: dict[tuple[int, str], int], said: str) -> None:
    assert taken_sentence(looked_back(diary)) == said
