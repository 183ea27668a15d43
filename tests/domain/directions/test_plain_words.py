"""Directions in plain words: what they say, and what they must never say."""

from __future__ import annotations

import re
from datetime import date, time
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.dates import Span
from sennight.domain.day import ClientDay, Moment
from sennight.domain.directions.directions import AtTimes, DayRule, Directions, EveryHours, Unit
from sennight.domain.directions.parser import parse_directions
from sennight.domain.directions.plain_words import (
    listed,
    plain_amount,
    plain_dates,
    plain_day,
    plain_days,
    plain_directions,
    plain_dose,
    plain_doses,
    plain_from,
    plain_times,
)
from support.draws import draws
from support.samples import TAKES, length

DAY = ClientDay.at()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1 cup tds", "1 cup three times a day, at breakfast, lunch and the evening meal"),
        (
            "1/2 cup tds with food",
            "½ cup three times a day, with breakfast, lunch and the evening meal",
        ),
        (
            "2 mL tds ac",
            "2 mL three times a day, half an hour before breakfast, lunch and the evening meal",
        ),
        (
            "5 mL qds pc",
            (
                "5 mL four times a day, half an hour after breakfast, lunch and the evening meal, "
                "and at bedtime"
            ),
        ),
        ("1 tsp mane", "1 teaspoon (5 mL) once a day, when you get up"),
        ("2.5 tsp nocte", "2½ teaspoons (12.5 mL) once a day, at bedtime"),
        ("1/3 tbsp od", "⅓ tablespoon (5 mL) once a day, at breakfast"),
        ("1/3 tsp od", "⅓ teaspoon (about 1.7 mL) once a day, at breakfast"),
        (
            "1 capsule bd 12 w on 3 w off",
            (
                "1 capsule twice a day, at breakfast and the evening meal; "
                "12 weeks on, then 3 weeks off, repeating"
            ),
        ),
        (
            "1 application prn max 4/day gap 4 h",
            "1 application when needed, at most 4 times a day, at least 4 hours apart",
        ),
        (
            "1 application every 4-6 h prn",
            "1 application when needed, at most 4 times a day, 4 to 6 hours apart",
        ),
        (
            "20 drops at 21:00,rising with food on mon wed fri",
            (
                "20 drops twice a day, when you get up and at 21:00, with food; "
                "on Mondays, Wednesdays and Fridays"
            ),
        ),
        (
            "1 cup every 4 h alternate days",
            "1 cup every 4 hours, at 07:00, 11:00, 15:00 and 19:00; every other day",
        ),
        (
            "1 cup bd and prn max 2/day gap 3 h",
            (
                "1 cup twice a day, at breakfast and the evening meal; and when needed, "
                "up to 2 more times a day, at least 3 hours apart"
            ),
        ),
        (
            "1 cup qds with food",
            (
                "1 cup four times a day, with breakfast, lunch and the evening meal, "
                "and at bedtime, always with food"
            ),
        ),
        (
            "2 capsule every 8 h pc",
            "2 capsules every 8 hours, at 07:00 and 15:00, after food",
        ),
        ("1 capsule at 21:00 pc", "1 capsule once a day, at 21:00, after food"),
        ("1 cup prn max 1/day ac", "1 cup when needed before food, at most once a day"),
        ("3 mg od every 3 days", "3 mg at breakfast; every 3 days"),
    ],
)
def test_what_a_client_reads(text: str, said: str) -> None:
    assert plain_directions(parse_directions(text), DAY) == said


@pytest.mark.parametrize(
    ("amount", "unit", "said"),
    [
        ("1", Unit.CUP, "1 cup"),
        ("3/4", Unit.CUP, "¾ cup"),
        ("5/4", Unit.CUP, "1¼ cups"),
        ("2/3", Unit.TBSP, "⅔ tablespoon (10 mL)"),
        ("2", Unit.CAPSULE, "2 capsules"),
        ("1/2", Unit.ML, "0.5 mL"),
        ("5/2", Unit.ML, "2.5 mL"),
        ("1/3", Unit.ML, "⅓ mL"),
        ("1/7", Unit.CUP, "1/7 cup"),
        ("1", Unit.APPLICATION, "1 application"),
        ("400", Unit.MG, "400 mg"),
    ],
)
def test_amounts(amount: str, unit: Unit, said: str) -> None:
    assert plain_amount(Fraction(amount), unit) == said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1-2 cups tds", "1 to 2 cups"),
        ("1/2-1 cup tds", "½ to 1 cup"),
        ("5-7.5 mL od", "5 to 7.5 mL"),
        ("1-2 tsp od", "1 to 2 teaspoons (5 to 10 mL)"),
        ("1/3-1/2 tsp od", "⅓ to ½ teaspoon (about 1.7 to 2.5 mL)"),
        ("2 tsp od", "2 teaspoons (10 mL)"),
    ],
)
def test_a_range_of_amounts(text: str, said: str) -> None:
    assert plain_dose(parse_directions(text)) == said


@pytest.mark.parametrize(("after", "said"), [("4 w", "from week 5"), ("3 d", "from day 4")])
def test_from_when_in_a_phase(after: str, said: str) -> None:
    assert plain_from(length(after)) == said


def test_a_time_past_midnight_says_so() -> None:
    late = ClientDay.at({Moment.BEDTIME: time(0, 30)})
    minutes = parse_directions("1 cup qds").minutes(late)
    assert plain_times(minutes) == "07:30, 12:30, 18:30 and 00:30 (after midnight)"


def test_days_and_dates() -> None:
    assert plain_days(DayRule()) == "every day"
    assert plain_days(DayRule(weekdays=(6,))) == "on Sundays"
    assert plain_day(date(2027, 1, 4)) == "Monday 4 January 2027"
    assert listed([]) == ""
    assert listed(["a"]) == "a"


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (date(2027, 1, 4), date(2027, 2, 14), "4 January to 14 February 2027"),
        (date(2027, 1, 4), date(2027, 1, 10), "4 to 10 January 2027"),
        (date(2027, 1, 4), date(2027, 1, 4), "4 January 2027"),
        (date(2026, 12, 28), date(2027, 1, 3), "28 December 2026 to 3 January 2027"),
    ],
)
def test_dates_say_nothing_twice(first: date, last: date, said: str) -> None:
    assert plain_dates(Span.of_days(first, last)) == said


# From outside: what a client must never read.

TRADE_CODES = [
    "od",
    "om",
    "bd",
    "bid",
    "tds",
    "tid",
    "qds",
    "qid",
    "qd",
    "qod",
    "qh",
    "qhs",
    "hs",
    "qn",
    "prn",
    "sos",
    "stat",
    "ac",
    "pc",
    "mane",
    "nocte",
    "po",
    "gtt",
    "qs",
    "aa",
    "rep",
    "sig",
    "alt",
    "die",
]
"""The trade's Latin, from published lists of abbreviations (medicinehack.com 2011; the ISMP list
of error-prone abbreviations; Joint Commission "Do Not Use" list), to be read by nobody but the
trade."""


@given(TAKES)
@settings(max_examples=draws(60))
def test_no_trade_code_reaches_a_client(directions: Directions) -> None:
    said = plain_directions(directions, DAY)
    found = set(re.findall(r"[a-z]+", said.lower())) & set(TRADE_CODES)
    assert not found, said


@given(TAKES, st.fractions(min_value=Fraction(1, 64), max_value=9999, max_denominator=64))
@settings(max_examples=draws(60))
def test_no_trailing_zero_and_always_a_leading_one(
    directions: Directions, amount: Fraction
) -> None:
    """Joint Commission "Do Not Use" list: never X.0, never .X."""
    for said in (plain_directions(directions, DAY), plain_amount(amount, Unit.ML)):
        assert not re.search(r"\d\.\d*0(?!\d)", said), said
        assert not re.search(r"(?<!\d)\.\d", said), said


def meaning(directions: Directions) -> tuple[object, ...]:
    """What directions ask of a client: order of writing and ways of giving a ceiling aside."""
    rhythm = directions.rhythm
    times = frozenset(rhythm.times) if isinstance(rhythm, AtTimes) else rhythm
    needed = directions.as_needed
    wait: tuple[object, ...] = ()
    if needed:
        least, most = needed.spaced or (0, 0)
        gap = needed.gap or 0
        wait = (max(least, gap), max(most, gap), needed.ceiling(DAY))
    return (
        directions.amount,
        directions.most,
        directions.unit,
        times,
        wait,
        directions.food,
        directions.days,
        directions.cycle,
    )


@given(TAKES, TAKES)
@settings(max_examples=draws(60))
def test_directions_that_differ_are_said_differently(one: Directions, two: Directions) -> None:
    same_words = plain_directions(one, DAY) == plain_directions(two, DAY)
    assert same_words == (meaning(one) == meaning(two))


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("1 cup od", "1 cup at 07:30"),
        ("1 cup od", "1 cup od ac"),
        ("1 cup mane", "1 cup mane ac"),
        ("1 cup every 16 h", "1 cup every 24 h"),
        ("1 tsp od", "5 mL od"),
        ("1 cup od 7 d on 7 d off", "1 cup od 1 w on 1 w off"),
        ("1 cup od on mon", "1 cup od"),
        ("1 cup od and prn max 2/day", "1 cup od"),
        ("1 cup od and prn max 2/day", "1 cup prn max 2/day"),
        ("1 cup prn max 2/day", "1 cup prn max 2/day pc"),
        ("1 cup every 2-4 h prn max 2/day", "1 cup every 2-5 h prn max 2/day"),
    ],
)
def test_near_neighbours_are_said_differently(one: str, two: str) -> None:
    first, second = (plain_directions(parse_directions(text), DAY) for text in (one, two))
    assert first != second


@given(TAKES)
@settings(max_examples=draws(40))
def test_every_hour_that_is_meant_is_said(directions: Directions) -> None:
    if isinstance(directions.rhythm, EveryHours):
        assert plain_times(directions.minutes(DAY)) in plain_directions(directions, DAY)


@pytest.mark.parametrize(
    ("text", "doses"),
    [
        ("1 cup every 8 h", "2 doses a day, while awake"),
        ("1 cup every 4 h", "4 doses a day, while awake"),
        ("1 cup every 24 h", "1 dose a day"),
        ("1 cup tds", ""),
        ("1 cup prn max 4/day", ""),
    ],
)
def test_doses_a_day_are_told_where_the_words_do_not(text: str, doses: str) -> None:
    assert plain_doses(parse_directions(text), DAY) == doses
