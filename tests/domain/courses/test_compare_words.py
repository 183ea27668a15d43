"""What differs, in words, from differences written out here."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from sennight.domain.courses.compare import Comparison, DoseChange, LineChange, PhaseMove
from sennight.domain.courses.compare_words import DoseRow, dose_rows, sentence, sentences
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import parse_directions
from support import samples

COURSE = samples.course(samples.phase("loading", "6 w", samples.line("t1", "1 cup tds")))
WEEKS = Span(samples.day(1), samples.day(43))


def span(first: int, last: int) -> Span:
    return Span.of_days(samples.day(first), samples.day(last))


def differing(
    *moves: PhaseMove,
    lines: tuple[LineChange, ...] = (),
    doses: tuple[DoseChange, ...] = (),
    gone: tuple[Span, ...] = (),
    after: Span = WEEKS,
) -> Comparison:
    return Comparison(WEEKS, after, moves, gone, (), lines, doses)


@pytest.mark.parametrize(
    ("move", "said"),
    [
        (
            PhaseMove("two", span(1, 7), span(8, 14)),
            "Two moves 1 week later, and runs from 11 to 17 January 2027.",
        ),
        (
            PhaseMove("two", span(8, 14), span(7, 13)),
            "Two moves 1 day earlier, and runs from 10 to 16 January 2027.",
        ),
        (
            PhaseMove("two", span(1, 7), span(1, 9)),
            "Two ends 12 January 2027 instead of 10 January 2027.",
        ),
        (
            PhaseMove("two", span(1, 7), span(3, 7)),
            "Two begins 6 January 2027 instead of 4 January 2027.",
        ),
        (
            PhaseMove("two", span(1, 7), span(3, 12)),
            "Two runs from 6 to 15 January 2027 instead of from 4 to 10 January 2027.",
        ),
        (PhaseMove("two", None, span(1, 1)), "Two is added on 4 January 2027."),
        (
            PhaseMove("two", span(1, 7), None),
            "Two, which was to run from 4 to 10 January 2027, is dropped.",
        ),
        (
            PhaseMove("ease", None, span(1, 7), is_flare=True),
            "The flare-up plan “Ease” runs from 4 to 10 January 2027.",
        ),
        (
            PhaseMove("ease", span(1, 7), None, is_flare=True),
            "The flare-up plan “Ease” no longer runs from 4 to 10 January 2027.",
        ),
    ],
)
def test_a_phase_that_differs(move: PhaseMove, said: str) -> None:
    assert sentence(differing(move), COURSE) == said
    assert sentences(differing(move), COURSE) == (said,)


def test_phases_that_move_alike_are_told_together() -> None:
    week = timedelta(weeks=1)
    moves = [
        PhaseMove(name, days, Span(days.first + week, days.end + week))
        for name, days in (("one", span(1, 7)), ("two", span(8, 14)), ("three", span(15, 21)))
    ]
    assert sentence(differing(*moves), COURSE) == "One, Two and Three move 1 week later."


def test_a_pause_taken_back() -> None:
    found = differing(gone=(span(8, 8),))
    assert sentence(found, COURSE) == "Doses resume on 11 January 2027."


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("1 cup tds", "", "Remedy t1: not taken on 11 January 2027."),
        ("", "1 cup tds", "Remedy t1: 1 cup tds on 11 January 2027."),
        ("1 cup tds", "1 cup bd", "Remedy t1: 1 cup bd instead of 1 cup tds on 11 January 2027."),
        (
            "1 cup od every 2 days",
            "1 cup od every 2 days",
            (
                "Remedy t1: 1 cup od alternate days, counted from a different day, "
                "on 11 January 2027."
            ),
        ),
    ],
)
def test_a_remedy_taken_otherwise(before: str, after: str, said: str) -> None:
    was, now = ((samples.take(text),) if text else () for text in (before, after))
    found = differing(lines=(LineChange("t1", span(8, 8), was, now),))
    assert sentence(found, COURSE) == said


def test_a_remedy_with_many_changes_is_told_by_its_doses_alone() -> None:
    once, twice = (samples.take("1 cup od"),), (samples.take("1 cup bd"),)
    lines = tuple(LineChange("t1", span(n, n), once, twice) for n in (1, 3, 5))
    doses = (DoseChange("t1", Unit.CUP, 10, 13, Fraction(10), Fraction(13)),)
    assert sentences(differing(lines=lines, doses=doses), COURSE) == (
        "Remedy t1: 3 more doses, 13 in all.",
    )
    assert sentence(differing(lines=lines, doses=doses), COURSE) == "3 more doses in all."


@pytest.mark.parametrize(
    ("count", "amount", "long", "short"),
    [
        (8, 8, "Remedy t1: 2 fewer doses, 8 in all.", "2 fewer doses in all."),
        (
            10,
            15,
            "Remedy t1: the same number of doses, 5 cups more in all.",
            "The same number of doses in all.",
        ),
        (
            10,
            5,
            "Remedy t1: the same number of doses, 5 cups less in all.",
            "The same number of doses in all.",
        ),
    ],
)
def test_doses_in_all(count: int, amount: int, long: str, short: str) -> None:
    found = differing(
        doses=(DoseChange("t1", Unit.CUP, 10, count, Fraction(10), Fraction(amount)),)
    )
    assert sentences(found, COURSE) == (long,)
    assert sentence(found, COURSE) == short


@pytest.mark.parametrize(
    ("after", "said"),
    [
        (span(1, 7), "The course's last day is 10 January 2027 instead of 14 February 2027."),
        (
            span(2, 7),
            (
                "The course runs from 5 to 10 January 2027 instead of from 4 January to "
                "14 February 2027."
            ),
        ),
    ],
)
def test_another_last_day(after: Span, said: str) -> None:
    assert sentence(differing(after=after), COURSE) == said


def test_nothing_differs() -> None:
    assert not differing()
    assert sentence(differing(), COURSE) == "Nothing changes."
    assert sentences(differing(), COURSE) == ()


def test_a_table_of_doses_has_what_was_and_what_is_to_be() -> None:
    once, thrice = (parse_directions(text) for text in ("1 cup od", "1 cup tds"))
    lines = (
        LineChange("t1", span(1, 7), (), (once,)),
        LineChange("t1", span(8, 14), (once,), ()),
    )
    assert dose_rows(differing(lines=lines), COURSE) == (
        DoseRow("Remedy t1", "4 to 10 January 2027", "not taken", "1 cup od"),
        DoseRow("Remedy t1", "11 to 17 January 2027", "1 cup od", "not taken"),
    )
    other = LineChange("t1", span(1, 7), (thrice,), (thrice,), "t1")
    shifted = LineChange("t1", span(8, 14), (once,), (once,))
    rows = dose_rows(differing(lines=(other, shifted)), COURSE)
    assert [row.after for row in rows] == [
        "made like Remedy t1",
        "1 cup od, counted from a different day",
    ]


@pytest.mark.parametrize(
    ("doses", "told"), [((3, 1), ("3 doses", "1 dose")), ((3, 3), ("3 cups", "4 cups"))]
)
def test_a_remedy_that_changes_often_has_its_doses_in_all(
    doses: tuple[int, int], told: tuple[str, str]
) -> None:
    once = parse_directions("1 cup od")
    lines = tuple(LineChange("t1", span(n, n), (once,), ()) for n in (1, 3, 5))
    change = DoseChange("t1", Unit.CUP, *doses, Fraction(3), Fraction(4))
    (row,) = dose_rows(differing(lines=lines, doses=(change,)), COURSE)
    assert (row.days, row.before, row.after) == ("in all", *told)
    made = tuple(replace(line, after=(once,), formula="t1") for line in lines)
    (whole,) = dose_rows(differing(lines=made), COURSE)
    assert (whole.days, whole.after) == ("4 to 8 January 2027", "made like Remedy t1")
    twice = parse_directions("1 cup bd")
    more = (*made[:1], *(replace(line, before=(twice,), after=(twice,)) for line in made[1:]))
    (whole,) = dose_rows(differing(lines=more), COURSE)
    assert whole.before == "1 cup od, then 1 cup bd"
