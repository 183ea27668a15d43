"""What may be typed into fields, and how finding by name works."""

from datetime import date, time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.desktop.kit.matching import matches, matching, plain
from sennight.desktop.kit.reading import (
    ReadingError,
    read_clock,
    read_date,
    read_weight,
    read_zone,
)
from sennight.domain.dates import EARLIEST, LATEST
from sennight.domain.directions.plain_words import plain_date
from support.draws import draws


@pytest.mark.parametrize(
    "text",
    ["1 May 1970", "1 may 1970", " 01.05.1970 ", "1/5/1970", "1970-05-01", "1-5-1970"],
)
def test_a_date_can_be_typed_in_many_ways(text: str) -> None:
    assert read_date(text) == date(1970, 5, 1)


@pytest.mark.parametrize(
    "text",
    ["30 February 2027", "1.13.1970", "May 1970", "1.5.70", "soon", "31 4 2027", "1 mai 1970"],
)
def test_what_is_no_date_is_told_with_an_example(text: str) -> None:
    with pytest.raises(ReadingError, match="1 May 1970"):
        read_date(text)


@pytest.mark.parametrize("text", ["31.12.9999", "1 January 0001", "1849-12-31", "1/1/2201"])
def test_a_year_that_no_client_lives_in_is_a_slip(text: str) -> None:
    with pytest.raises(ReadingError, match="a year from 1850 to 2200"):
        read_date(text)


@given(st.dates(EARLIEST, LATEST))
@settings(max_examples=draws(30))
def test_a_date_as_the_program_writes_it_reads_back(day: date) -> None:
    assert read_date(plain_date(day)) == day
    assert read_date(day.isoformat()) == day


@pytest.mark.parametrize(
    ("text", "at"),
    [("7", time(7)), ("7:30", time(7, 30)), ("07.30", time(7, 30)), ("0730", time(7, 30)),
     ("7h30", time(7, 30)), ("23:59", time(23, 59)), (" 0:05 ", time(0, 5))],
)  # fmt: skip
def test_a_time_can_be_typed_in_many_ways(text: str, at: time) -> None:
    assert read_clock(text) == at


@pytest.mark.parametrize("text", ["24:00", "7:60", "noon", "", "7:3", "-1", "12345"])
def test_what_is_no_time_is_told_with_an_example(text: str) -> None:
    with pytest.raises(ReadingError, match="7:30"):
        read_clock(text)


@pytest.mark.parametrize(("text", "kg"), [("70", "70"), ("70.5", "70.5"), (" 3,25 ", "3.25")])
def test_a_weight_is_exact(text: str, kg: str) -> None:
    assert read_weight(text) == Fraction(kg)


@pytest.mark.parametrize("text", ["0", "501", "70 kg", "-70", "1e2", "½"])
def test_what_is_no_weight_is_told(text: str) -> None:
    with pytest.raises(ReadingError, match="kilograms"):
        read_weight(text)


@pytest.mark.parametrize("text", ["Europe/London", "europe/london", " EUROPE/LONDON "])
def test_a_zone_is_found_in_any_case(text: str) -> None:
    assert read_zone(text) == "Europe/London"


def test_a_zone_of_several_words_may_be_typed_with_spaces() -> None:
    assert read_zone("america/new york") == "America/New_York"


def test_an_unknown_zone_is_told_with_an_example() -> None:
    with pytest.raises(ReadingError, match="Europe/London"):
        read_zone("Middle/Earth")


@pytest.mark.parametrize(
    ("typed", "name", "fits"),
    [
        ("", "Noor Müller", True),
        ("mu", "Noor Müller", True),
        ("no mu", "Müller, Noor", True),
        ("MÜL", "Noor Muller", True),
        ("ull", "Noor Müller", False),
        ("noor x", "Noor Müller", False),
        ("feather", "Auclair-Featherstonehaugh", True),
        ("strasse", "Straße 3", True),
    ],
)
def test_each_word_typed_begins_a_word_of_the_name(typed: str, name: str, fits: bool) -> None:
    assert matches(typed, name) is fits


@given(st.text(max_size=20))
@settings(max_examples=draws(30))
def test_every_name_is_found_by_its_own_text(name: str) -> None:
    assert matches(name, name)
    assert matches(plain(name), name)


def test_found_items_keep_their_order() -> None:
    assert list(matching("a", ["Abel", "Cain", "Ada"], str)) == ["Abel", "Ada"]
