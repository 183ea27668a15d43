"""Lines and steps as they are typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.protocols import Step
from sennight.domain.courses.typed_lines import parse_steps, parse_take, steps_text
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import AmbiguousDirectionsError
from support import samples


def test_steps_as_they_are_typed() -> None:
    typed = "3 d: 1-2 cup bd; 4 w: 1 cup bd; 8 w: 1 cup od"
    assert steps_text(parse_steps(typed)) == typed


@given(st.dictionaries(st.integers(1, 90), samples.TAKES, max_size=3))
def test_steps_read_back_as_they_are_written(found: dict[int, object]) -> None:
    steps = tuple(Step(weeks, found[weeks]) for weeks in sorted(found))  # type: ignore[arg-type]
    assert parse_steps(steps_text(steps)) == steps


@pytest.mark.parametrize(
    ("text", "at", "expected"),
    [
        ("soon", "soon", "begins and a colon"),
        ("4 w: 1 cu bd", "cu", "a unit"),
        ("4w: 1 cup bd; 3 w: 1 cup od", "3 w", "more than 4 w"),
        ("4 w: 1 cup bd; 0: 1 cup od", "0", "begins and a colon"),
        ("4 w: 1 cup bd;", "", "begins and a colon"),
        ("2 w: 1 cup bd; 10 days: 1 cup od", "10 days", "more than 2 w"),
    ],
)
def test_a_slip_in_steps_is_found_where_it_is(text: str, at: str, expected: str) -> None:
    with pytest.raises(DirectionsError) as caught:
        parse_steps(text)
    assert text[caught.value.start : caught.value.end] == at
    assert expected in str(caught.value)


@pytest.mark.parametrize(
    ("typed", "first", "steps"),
    [
        ("1 cup tds", "1 cup tds", ""),
        (
            "1 application every 1 to 3 hours as needed for 3 days, then two or three times a day",
            "1 application every 1-3 h prn",
            "3 d: 1 application bd and prn max 1/day",
        ),
        (
            "1-2 cups tds for 2 weeks then bd for a week; then 1 cup nocte",
            "1-2 cup tds",
            "2 w: 1-2 cup bd; 3 w: 1 cup nocte",
        ),
        ("5 mL bd for the first 10 days, then od pc", "5 mL bd", "10 d: 5 mL od pc"),
        ("2 capsules tds for two weeks and then od", "2 capsule tds", "2 w: 2 capsule od"),
    ],
)
def test_what_follows_is_said_in_one_go(typed: str, first: str, steps: str) -> None:
    directions, following = parse_take(typed)
    assert (str(directions), steps_text(following)) == (first, steps)


@pytest.mark.parametrize(
    ("typed", "at"),
    [
        ("1 cup tidy for 3 days, then bd", "tidy"),
        ("1 cup tds for 3 days, then tidy", "tidy"),
        ("1 cup tds for 3 days, then 2 cups tidy", "tidy"),
        ("1 cup tds for 3 days, then", ""),
        ("1 cup tds for 3 days", "for 3 days"),
    ],
)
def test_a_slip_in_what_follows_is_found_where_it_is(typed: str, at: str) -> None:
    with pytest.raises(DirectionsError) as caught:
        parse_take(typed)
    assert typed[caught.value.start : caught.value.end] == at


def test_what_follows_is_asked_about_at_its_place() -> None:
    typed = "1 cup tds for 3 days, then 1.0 cup bd"
    with pytest.raises(AmbiguousDirectionsError) as caught:
        parse_take(typed)
    question = caught.value.question
    assert typed[question.start : question.end] == "1.0"
