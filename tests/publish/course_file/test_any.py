"""Whatever stands in a course file, it is read or refused by place, and never fails otherwise."""

from __future__ import annotations

import copy
import tomllib
from datetime import date, datetime, time
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.stretches import lay_out
from sennight.publish.course_file.reader import CourseFileError, course_of, parse_course
from sennight.toml_tables import exact
from support.draws import draws
from support.files import COURSES

HERBS = (
    *("nettle-leaf", "ginger", "turmeric", "boswellia", "cayenne", "celery-seed"),
    *("lemon-balm", "passionflower", "valerian", "hops"),
)
FILES = [
    tomllib.loads((COURSES / name).read_text(encoding="utf-8"), parse_float=exact)
    for name in ("knees.toml", "sleep.toml")
]

Path_ = tuple[str | int, ...]

values = st.one_of(
    st.none().map(lambda _: {}),
    st.booleans(),
    st.integers(-(10**40), 10**40),
    st.integers(-2, 40),
    st.fractions(-5, 200),
    st.floats(),
    st.text(max_size=8),
    st.sampled_from(["t1", "rescue", "1 cup bd", "1:5", "tea", "flare", "08:00", "pain"]),
    st.dates(),
    st.dates(date(2026, 12, 1), date(2028, 12, 1)),
    st.datetimes(),
    st.times(),
    st.lists(st.integers(), max_size=2),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=2),
)


def paths(value: object, place: Path_ = ()) -> list[Path_]:
    inner: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inner = list(value.items())
    elif isinstance(value, list):
        inner = list(enumerate(value))
    return [place, *(p for key, one in inner for p in paths(one, (*place, key)))]


def put(document: dict[str, Any], place: Path_, value: object) -> None:
    target: Any = document
    for step in place[:-1]:
        target = target[step]
    target[place[-1]] = value


@settings(max_examples=draws(70))
@given(st.data())
def test_any_value_in_any_place_is_read_or_refused(data: st.DataObject) -> None:
    document = copy.deepcopy(data.draw(st.sampled_from(FILES)))
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.sampled_from([p for p in paths(document) if p]))
        put(document, place, data.draw(values))
    refused = refusal(document)
    if refused:
        assert all(problem.message and problem.place for problem in refused.problems)
        assert str(refused).startswith("f.toml: ")


def refusal(document: dict[str, Any]) -> CourseFileError | None:
    """Why a document is refused; where it is not, it can be laid out."""
    try:
        lay_out(course_of(document, HERBS, name="f.toml").course)
    except CourseFileError as error:
        return error
    return None


@settings(max_examples=draws(40))
@given(st.data())
def test_a_key_that_is_left_out_is_missed_or_not_needed(data: st.DataObject) -> None:
    document = copy.deepcopy(data.draw(st.sampled_from(FILES)))
    place = data.draw(st.sampled_from([p for p in paths(document) if p]))
    target: Any = document
    for step in place[:-1]:
        target = target[step]
    del target[place[-1]]
    refused = refusal(document)
    assert refused is None or refused.problems


@given(st.text(max_size=40) | st.binary(max_size=40).map(lambda data: data.decode("latin-1")))
def test_any_text_is_read_or_refused(text: str) -> None:
    with pytest.raises(CourseFileError):
        parse_course(text, HERBS)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("0.1", Fraction(1, 10)),
        ("1_000.5", Fraction(2001, 2)),
        ("1e3", Fraction(1000)),
        ("-2.50", Fraction(-5, 2)),
        ("0e999999999", Fraction(0)),
    ],
)
def test_decimals_are_exact(text: str, number: Fraction) -> None:
    assert exact(text) == number
    assert isinstance(exact(text), Fraction)


@pytest.mark.parametrize("text", ["inf", "-inf", "nan", "1e999999999", "1e-999999999", "1e31"])
def test_what_is_no_amount_stays_a_float(text: str) -> None:
    assert isinstance(exact(text), float)


def test_kinds_that_resemble_each_other_are_told_apart() -> None:
    """A date with a time is a date to Python, and true a number."""
    document = copy.deepcopy(FILES[0])
    put(document, ("course", "start"), datetime(2027, 1, 4, 8, 0))  # noqa: DTZ001
    put(document, ("client", "weight_kg"), value=True)
    put(document, ("client", "day", "lunch"), time(12, 0))
    put(document, ("diary", 0, "taken"), Fraction(3))
    with pytest.raises(CourseFileError) as caught:
        course_of(document, HERBS, name="f.toml")
    assert [str(problem).split("; ")[1] for problem in caught.value.problems] == [
        "found true",
        "found a time without quotes",
        "found a date with a time",
        "found the number 3",
    ]
