"""The short form of directions: what it accepts, what it means, and where it points."""

from __future__ import annotations

from datetime import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.day import ClientDay, Moment, clock
from sennight.domain.directions.directions import (
    AsNeeded,
    AtTimes,
    Cycle,
    DayRule,
    EveryHours,
    Food,
    SameTimeError,
    Unit,
)
from sennight.domain.directions.parser import DirectionsError, parse_directions
from support.files import REFERENCES, from_yaml
from support.samples import DIRECTIONS

DAY = ClientDay.at()


def refusal(text: str) -> DirectionsError | None:
    try:
        parse_directions(text)
    except DirectionsError as error:
        return error
    return None


def times(text: str, day: ClientDay = DAY) -> list[str]:
    return [clock(minute) for minute in parse_directions(text).minutes(day)]


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("2 mL od", Fraction(2), Unit.ML),
        ("2.5 ml od", Fraction(5, 2), Unit.ML),
        ("1/2 cup od", Fraction(1, 2), Unit.CUP),
        ("½ cup od", Fraction(1, 2), Unit.CUP),
        ("1½ tsp od", Fraction(3, 2), Unit.TSP),
        ("½cup od", Fraction(1, 2), Unit.CUP),
        ("1½Tsp od", Fraction(3, 2), Unit.TSP),
        ("⅓ tbsp od", Fraction(1, 3), Unit.TBSP),
        ("20drops od", Fraction(20), Unit.DROP),
        ("3 g od", Fraction(3), Unit.G),
        ("400 MG od", Fraction(400), Unit.MG),
        ("2 Capsules od", Fraction(2), Unit.CAPSULE),
        ("1 application od", Fraction(1), Unit.APPLICATION),
    ],
)
def test_amounts_and_units(text: str, amount: Fraction, unit: Unit) -> None:
    found = parse_directions(text)
    assert (found.amount, found.unit) == (amount, unit)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 cup od", ["07:30"]),
        ("1 cup bd", ["07:30", "18:30"]),
        ("1 cup tds", ["07:30", "12:30", "18:30"]),
        ("1 cup qds", ["07:30", "12:30", "18:30", "22:30"]),
        ("1 cup mane", ["07:00"]),
        ("1 cup nocte", ["22:30"]),
        ("1 cup tds ac", ["07:00", "12:00", "18:00"]),
        ("1 cup qds pc", ["08:00", "13:00", "19:00", "22:30"]),
        ("1 cup mane ac", ["07:00"]),
        ("1 cup at 07:30,supper ac", ["07:30", "18:00"]),
        ("1 cup tds with food", ["07:30", "12:30", "18:30"]),
        ("1 cup at bedtime , mid - morning,06:05", ["06:05", "10:30", "22:30"]),
        ("1 cup every 4 h", ["07:00", "11:00", "15:00", "19:00"]),
        ("1 cup every 5 h", ["07:00", "12:00", "17:00", "22:00"]),
        ("1 cup every 24 h", ["07:00"]),
        ("1 cup every 4-6 h prn", []),
        ("1 cup bd and prn max 4/day", ["07:30", "18:30"]),
    ],
)
def test_times_in_the_default_day(text: str, expected: list[str]) -> None:
    assert times(text) == expected


def test_every_n_hours_reaches_bedtime_itself() -> None:
    day = ClientDay.at({Moment.BEDTIME: time(23, 0)})
    assert times("1 cup every 4 h", day)[-1] == "23:00"


def test_bedtime_past_midnight_comes_last_and_carries_the_next_date() -> None:
    day = ClientDay.at({Moment.BEDTIME: time(0, 30)})
    assert parse_directions("1 cup qds").minutes(day) == (450, 750, 1110, 1470)
    assert parse_directions("1 cup at 00:30").minutes(day) == (30,)


@pytest.mark.parametrize(
    ("text", "ceiling"),
    [
        ("1 cup every 4-6 h prn", 4),  # 15½ waking hours ÷ 4, rounded down, + 1
        ("1 cup every 4-6 h prn max 3/day", 3),
        ("1 cup prn gap 5 h", 4),
        ("1 cup prn max 6/day gap 5 h", 6),
        ("1 cup every 2-3 h prn gap 4 h", 4),
        ("1 cup bd and prn max 4/day", 4),
        ("1 cup bd and prn gap 24 h", 1),
    ],
)
def test_ceiling_of_doses_as_needed(text: str, ceiling: int) -> None:
    as_needed = parse_directions(text).as_needed
    assert as_needed is not None
    assert as_needed.ceiling(DAY) == ceiling


def test_qualifiers_come_in_any_order_case_and_spacing() -> None:
    one = parse_directions("2 mL tds ac 12 w on 3 w off on mon wed fri")
    two = parse_directions(" 2ML  TDS on FRI mon Wed 12w ON 3W off AC ")
    assert one == two
    assert one.food is Food.BEFORE
    assert one.days == DayRule(weekdays=(0, 2, 4))
    assert one.cycle == Cycle(Length(12, CalendarUnit.WEEKS), Length(3, CalendarUnit.WEEKS))


@pytest.mark.parametrize(
    "text",
    [
        "1 cup every 4 h ac",
        "2 mL at breakfast,08:15 on mon wed and prn max 2/day gap 6 h",
        "0.5 cup prn gap 4 h",
        "1 capsule every 4-6 h prn alternate days",
        "1 tsp tds every 3 days 3 w on 1 w off",
    ],
)
def test_directions_are_written_in_one_way(text: str) -> None:
    written = str(parse_directions(text))
    assert parse_directions(written) == parse_directions(text)
    assert sorted(written.split()) == sorted(text.split())


def test_a_week_of_weekdays_is_daily() -> None:
    assert str(parse_directions("1 cup od on sun sat fri thu wed tue mon").days) == "daily"


def test_parts_of_the_value() -> None:
    found = parse_directions("1 capsule every 3 h 1 mo on 10 d off every 3 days")
    assert found.rhythm == EveryHours(3)
    assert found.days == DayRule(every=3)
    assert found.cycle == Cycle(Length(1, CalendarUnit.MONTHS), Length(10, CalendarUnit.DAYS))
    assert parse_directions("1 cup tds").rhythm == AtTimes(
        (Moment.BREAKFAST, Moment.LUNCH, Moment.SUPPER)
    )
    assert parse_directions("1 cup every 4-6 h prn").as_needed == AsNeeded(spaced=(4, 6))


# text, the word at fault, a phrase of what the message must say
WRONG = [
    ("", "", "an amount such as"),
    ("   ", "", "an amount such as"),
    ("cup od", "cup", "an amount such as"),
    ("0 mL od", "0", "more than 0"),
    ("0/3 mL od", "0", "more than 0"),
    ("1/0 mL od", "0", "a whole number from 1"),
    ("10000 mL od", "10000", "at most 9999"),
    ("-2 mL od", "-", "an amount such as"),
    (".5 mL od", ".", "easily missed"),
    ("2,5 mL od", ",", "decimal sign as a point"),
    ("2. mL od", ".", "a unit: mL"),
    ("1.5/2 mL od", "/", "a unit: mL"),
    ("2 od", "od", "a unit: mL"),
    ("2 spoons od", "spoons", "a unit: mL"),
    ("2 teaspoon od", "teaspoon", "write “tsp”"),
    ("2 mL", "", "how often: od"),
    ("2 mL ac", "ac", "how often: od"),
    ("2 mL tid", "tid", "write “tds”"),
    ("2 mL daily", "daily", "write “od”"),
    ("2 mL thrice", "thrice", "how often: od"),
    ("2 mL od tds", "tds", "nothing more, or one of"),
    ("2 mL at", "", "a time such as 08:30"),
    ("2 mL at noon", "noon", "a time such as 08:30"),
    ("2 mL at 8:30", "8:30", "two figures each"),
    ("2 mL at 24:00", "24:00", "from 00:00 to 23:59"),
    ("2 mL at 08:60", "08:60", "from 00:00 to 23:59"),
    ("2 mL at 08:30,", "", "a time such as 08:30"),
    ("2 mL at 08:30,08:30", "08:30", "given twice"),
    ("2 mL at mid-day", "mid", "a moment"),
    ("2 mL every h", "h", "hours, a whole number"),
    ("2 mL every 0 h", "0", "from 1 to 24"),
    ("2 mL every 25 h", "25", "from 1 to 24"),
    ("2 mL every 2.5 h", "2.5", "a whole number"),
    ("2 mL every 3 days", "every", "how often in a day"),
    ("2 mL every 4-6 h", "", "prn"),
    ("2 mL every 6-4 h prn", "4", "from 6 to 24"),
    ("2 mL every 4 h prn", "prn", "and prn"),
    ("2 mL prn", "prn", "most in a day is missing"),
    ("2 mL bd and prn", "prn", "most in a day is missing"),
    ("2 mL bd and", "", "and prn"),
    ("2 mL bd prn max 3/day", "prn", "nothing more, or one of"),
    ("2 mL prn and prn max 3/day", "and", "prn once only"),
    ("2 mL bd and prn and prn max 2/day", "and", "prn once only"),
    ("2 mL bd max 4/day", "max", "“and prn” before it"),
    ("2 mL bd gap 4 h", "gap", "“and prn” before it"),
    ("2 mL prn max 0/day", "0", "doses, a whole number from 1"),
    ("2 mL prn max 3", "", "/day"),
    ("2 mL prn max 3/week", "week", "max 4/day"),
    ("2 mL prn max 3/day max 2/day", "max", "second"),
    ("2 mL prn gap 3 days", "days", "expected hours"),
    ("2 mL bd ac pc", "pc", "second"),
    ("2 mL bd with", "", "with food"),
    ("2 mL bd with water", "water", "with food"),
    ("2 mL bd on", "", "a weekday"),
    ("2 mL bd on monday", "monday", "a weekday"),
    ("2 mL bd on mon mon", "mon", "given twice"),
    ("2 mL bd on mon alternate days", "alternate", "one rule for the days"),
    ("2 mL bd alternate weeks", "weeks", "alternate days"),
    ("2 mL bd every 2 h", "h", "every 3 days"),
    ("2 mL bd 12 w on", "", "a length"),
    ("2 mL bd 12 w off", "off", "3 w on 1 w off"),
    ("2 mL bd 12 weeks on 3 w off", "weeks", "write “w”; expected days, weeks"),
    ("1 cup od 1 cup nocte", "cup", "one amount, the same at each time"),
    ("2 mL every 4 hours", "hours", "write “h”; expected hours"),
    ("2 mL bd 0 w on 1 w off", "0", "from 1"),
    ("2 mL bd 3 w on 1 w off 2 w on 1 w off", "2", "second"),
    ("2 mL bd please", "please", "nothing more, or one of"),
    ("2 mL bd!", "!", "nothing more, or one of"),
    ("٢ mL bd", "٢", "an amount such as"),
]


@pytest.mark.parametrize(("text", "word", "phrase"), WRONG)
def test_errors_point_at_the_word(text: str, word: str, phrase: str) -> None:
    with pytest.raises(DirectionsError) as caught:
        parse_directions(text)
    error = caught.value
    assert text[error.start : error.end] == word
    assert phrase in str(error)
    assert "expected" in str(error)


@given(DIRECTIONS)
def test_what_is_written_is_read_back(text_and_value: str) -> None:
    value = parse_directions(text_and_value)
    assert parse_directions(str(value)) == value
    assert str(parse_directions(str(value).upper())) == str(value)


@given(
    st.text(max_size=40) | DIRECTIONS.flatmap(lambda t: st.sampled_from([t[:-1], t[1:], t + "x"]))
)
def test_any_text_is_read_or_refused_with_a_place(text: str) -> None:
    error = refusal(text)
    assert error is None or 0 <= error.start <= error.end <= len(text)
    assert error is None or error.expected


def test_two_doses_at_the_same_time_are_refused() -> None:
    with pytest.raises(SameTimeError, match="07:30"):
        parse_directions("1 cup at breakfast,07:30").minutes(DAY)


ABBREVIATIONS = {
    row["code"]: row for row in from_yaml((REFERENCES / "abbreviations.yaml").read_text("utf-8"))
}


@pytest.mark.parametrize("code", ["od", "bd", "tds", "qds", "mane", "nocte"])
def test_codes_mean_what_the_trade_lists_say(code: str) -> None:
    """Doses a day by code; source and basis stand in the reference table."""
    assert len(times(f"1 cup {code}")) == ABBREVIATIONS[code]["times_per_day"]


@pytest.mark.parametrize(("hours", "code"), [(4, "q4h"), (6, "q6h"), (8, "q8h")])
def test_every_n_hours_is_the_waking_part_of_the_listed_number(hours: int, code: str) -> None:
    """Lists count the whole 24 h (every 4 h = 6 doses); a day from rising to bedtime has fewer."""
    around_the_clock = 24 // hours
    assert around_the_clock == ABBREVIATIONS[code]["times_per_day"]
    assert len(times(f"1 cup every {hours} h")) == min(around_the_clock, 930 // (hours * 60) + 1)


def test_alternate_days_is_half_a_dose_a_day() -> None:
    every = parse_directions("1 cup od alternate days").days.every
    assert Fraction(1, every) == Fraction(ABBREVIATIONS["alt_die"]["times_per_day"])


@pytest.mark.parametrize(
    ("phrase", "text", "expected"),
    [
        # HL7 FHIR Timing examples, as published (read)
        ("3 times a day", "1 cup tds", 3),
        ("1 tablet 3 times daily, 30 minutes before meals", "1 tablet tds ac", 3),
        ("With breakfast", "1 cup at breakfast with food", 1),
        ("Every day at 10:00", "1 cup at 10:00", 1),
    ],
)
def test_published_timing_examples(phrase: str, text: str, expected: int) -> None:
    found = parse_directions(text)
    assert len(found.minutes(DAY)) == expected, phrase
    if "before meals" in phrase:
        plain = parse_directions("1 capsule tds").minutes(DAY)
        assert [a - b for a, b in zip(plain, found.minutes(DAY), strict=True)] == [30, 30, 30]


@pytest.mark.parametrize(
    "text",
    [
        f"{'9' * 5000} cup tds",
        f"1/{'9' * 5000} cup bd",
        f"1 cup every {'2' * 5000} days",
        f"1 cup tds 12 w on {'3' * 5000} w off",
        f"1 {'x' * 5000} tds",
        f"1 cup at 0:{'0' * 5000}",
    ],
)
def test_words_of_thousands_of_letters_are_refused_in_few(text: str) -> None:
    """Python itself reads no number of more than 4,300 figures."""
    error = refusal(text)
    assert error is not None
    assert "words and numbers of at most 40 letters" in str(error)
    assert len(str(error)) < 200
