"""Directions in any usual spelling: what is understood, asked about and refused."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.day import ClientDay
from sennight.domain.directions.parser import DirectionsError, parse_directions, parse_timing
from sennight.domain.directions.pieces import Question
from sennight.domain.directions.understanding import (
    AmbiguousDirectionsError,
    Understood,
    read_usual_directions,
    read_usual_timing,
    understand,
)
from support.every import for_every
from support.files import REFERENCES, from_yaml
from support.samples import DIRECTIONS, TAKES

SPELLINGS = from_yaml((REFERENCES / "directions_spellings.yaml").read_text("utf-8"))
USUAL: dict[str, str] = SPELLINGS["understood"]


def understood(text: str) -> str | None:
    """The short form; None where it is asked about or refused."""
    try:
        result = understand(text)
    except DirectionsError:
        return None
    return result.short_form if isinstance(result, Understood) else None


def refusal(text: str) -> DirectionsError:
    with pytest.raises(DirectionsError) as caught:
        read_usual_directions(text)
    return caught.value


@for_every(list(USUAL), str)
def test_usual_spellings(text: str) -> None:
    short = USUAL[text]
    assert understood(text) == short
    assert read_usual_directions(text) == parse_directions(short)


def test_the_corpus_is_large_and_spelt_as_the_short_form_is_not() -> None:
    assert len(USUAL) >= 300
    assert all(short == str(parse_directions(short)) for short in USUAL.values())
    assert all(text != short for text, short in USUAL.items())


ABBREVIATIONS = from_yaml((REFERENCES / "abbreviations.yaml").read_text("utf-8"))


@pytest.mark.parametrize("code", ["bid", "tid", "qid", "om"])
def test_latin_codes_mean_what_the_lists_say(code: str) -> None:
    """Doses a day by code; source and basis stand in the reference table."""
    listed = next(row["times_per_day"] for row in ABBREVIATIONS if row["code"] == code)
    assert len(read_usual_directions(f"1 cup {code}").minutes(ClientDay.at())) == listed


@pytest.mark.parametrize("code", [row["code"] for row in ABBREVIATIONS if row.get("avoid")])
def test_codes_that_the_lists_warn_of_are_asked_about(code: str) -> None:
    assert isinstance(understand(f"1 cup {code}"), Question)


@pytest.mark.parametrize(("text", "words"), SPELLINGS["asked"].items())
def test_what_could_be_misread_is_asked_about(text: str, words: str) -> None:
    question = understand(text)
    assert isinstance(question, Question)
    assert text[question.start : question.end] == words
    error = refusal(text)
    assert isinstance(error, AmbiguousDirectionsError)
    assert error.question == question
    assert (error.start, error.end) == (question.start, question.end)
    assert all(f"“{choice}”" in str(error) for choice in question.choices)


@pytest.mark.parametrize("text", SPELLINGS["asked"])
def test_a_choice_is_written_in_the_place_of_the_words(text: str) -> None:
    """Where nothing else is left out, the text then says what was chosen."""
    question = understand(text)
    assert isinstance(question, Question)
    for choice in question.choices:
        chosen = text[: question.start] + choice + text[question.end :]
        try:
            assert understand(chosen) != question
        except DirectionsError:  # no rhythm yet, or one that is left out here
            continue


@pytest.mark.parametrize(("text", "words"), SPELLINGS["refused"].items())
def test_what_is_not_understood_is_refused_at_its_words(text: str, words: str) -> None:
    error = refusal(text)
    assert not isinstance(error, AmbiguousDirectionsError)
    assert text[error.start : error.end] == words
    assert "expected" in str(error)


@pytest.mark.parametrize(
    ("text", "choices"),
    [
        ("1.0 mL tds", ("1", "10")),
        (".5 mL tds", ("0.5", "5")),
        ("0.0 mL tds", ("0", "1")),
        ("2,5 mL tds", ("2.5", "25")),
        ("1,000 mg od", ("1", "1000")),
        ("5 mcg od", ("0.005 mg", "5 mg")),
        ("5 mL at 12.15 am", ("at 12:15", "at 00:15")),
        ("5 mL after dinner", ("after lunch", "after supper")),
        ("3 cups a day", ("3 cup od", "1.5 cup bd", "1 cup tds")),
        (
            "3 cups with food a day",
            ("3 cup od with food", "1.5 cup bd with food", "1 cup tds with food"),
        ),
        ("5 mL tds prn", ("prn max 3/day", "tds and prn max 1/day")),
        ("5 mL prn tds", ("prn max 3/day", "tds and prn max 1/day")),
        ("5 mL at 8am and 8pm prn", ("prn max 2/day", "at 08:00,20:00 and prn max 1/day")),
        ("5 mL tds prn max 2/day", ("prn", "tds and prn")),
        ("5 mL q4h prn max 3/day", ("prn gap 4 h", "every 4 h and prn")),
        ("5 mL q4h prn gap 5 h", ("prn", "every 4 h and prn")),
        ("5 mL q4h prn", ("prn gap 4 h", "every 4 h and prn max 1/day")),
        ("5 mL up to 3 times a day", ("tds", "prn max 3/day")),
        ("5 mL q4-6h", ("every 4-6 h prn", "every 4 h", "every 6 h")),
        ("1-1/2 cups tds", ("1.5", "0.5-1")),
        ("1-2.0 mL tds", ("1-2", "1-20")),
        ("2-3 cups a day", ("2-3 cup od", "1-1.5 cup bd", "2/3-1 cup tds")),
        ("5 mL up to 7 times a day", ("prn max 7/day",)),
    ],
)  # fmt: skip
def test_choices(text: str, choices: tuple[str, ...]) -> None:
    question = understand(text)
    assert isinstance(question, Question)
    assert question.choices == choices


@pytest.mark.parametrize(
    ("text", "words", "phrase"),
    [
        ("1 cup tidy ac", "tidy", "how often: od"),
        ("foo 1 cup tds", "foo", "an amount such as"),
        ("1 cup foo tds", "foo", "nothing more, or one of"),
        ("1 cup and and tds", "", "and prn"),
        ("1 cup and prn and tds and", "and", "prn once only"),
        ("cup", "cup", "an amount such as"),
        ("1 cup tds and and prn", "and", "prn once only"),
        ("1 cup daily every 3 days", "daily", "nothing more, or one of"),
        ("1 cup tds od", "od", "nothing more, or one of"),
        ("1 cup every 2 hours at 8am", "at 8am", "nothing more, or one of"),
        ("1 cup every 30 hours prn", "every 30 hours", "from 1 to 24"),
        ("1 cup 5 times a day and at 8am", "at 8am", "5 times"),
        ("1 cup 5 times a day prn", "5", "how often: od"),
        ("1 cup tds or bd", "or", "nothing more, or one of"),
        ("1 cup before breakfast and with supper", "with supper", "one of ac, pc"),
        ("1 cup tds with food every 3 days 3 weeks", "weeks", "as in “3 w on 1 w off”"),
        (f"1 cup tid {'and ' * 100}", "tid", "write “tds”"),
        ("1 cup gap tds 3 h and prn", "gap", "amounts and times alone"),
        ("1/0 cup tds", "0", "a unit: mL"),
        ("İ cup tds", "İ", "an amount such as"),
    ],
)  # fmt: skip
def test_errors_stand_at_the_words_typed(text: str, words: str, phrase: str) -> None:
    error = refusal(text)
    assert (text[error.start : error.end], error.text) == (words, text)
    assert phrase in str(error)


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("twice a day after meals", "bd pc"),
        ("Mon, Wed and Fri at 8am", "at 08:00 on mon wed fri"),
        ("at night", "nocte"),
        ("as needed, up to 3 times a day", "prn max 3/day"),
    ],
)
def test_a_rhythm_alone_is_understood_for_what_is_no_remedy(text: str, short: str) -> None:
    assert str(read_usual_timing(text)) == short
    assert str(parse_timing(short)) == short


def test_a_rhythm_alone_is_asked_about_and_refused_as_well() -> None:
    with pytest.raises(AmbiguousDirectionsError):
        read_usual_timing("twice a week")
    with pytest.raises(DirectionsError):
        read_usual_timing("20 minutes od")


def test_a_long_day_of_named_times() -> None:
    text = "1 cup 5 times a day at 8am, 10am, noon, 3pm and 6pm"
    assert understood(text) == "1 cup at 08:00,10:00,12:00,15:00,18:00"


@given(TAKES)
def test_the_short_form_is_understood_as_it_is(take: object) -> None:
    assert understand(str(take)) == Understood(parse_directions(str(take)))


@given(
    st.text(max_size=40) | DIRECTIONS.flatmap(lambda t: st.sampled_from([t[:-1], t[1:], t + "x"]))
)
def test_the_short_form_goes_before_any_other_reading(text: str) -> None:
    """What it reads is read the same, or asked about for a zero at the end of an amount."""
    try:
        strict = str(parse_directions(text))
    except DirectionsError:
        return
    try:
        result = understand(text)
    except DirectionsError:
        pytest.fail(f"{text!r} is in the short form")
    assert isinstance(result, Question) or result.short_form == strict


WORDS = sorted({word for text in USUAL for word in text.split()})


@given(
    st.sampled_from(sorted(USUAL)),
    st.integers(0, 20),
    st.sampled_from(["foo", "zq", "tdz", "!", "?", "mgx", "or", "left", "((", "without"]),
)
def test_a_word_that_is_not_understood_is_never_passed_over(
    text: str, at: int, noise: str
) -> None:
    words = text.split()
    words.insert(min(at, len(words)), noise)
    assert understood(" ".join(words)) is None


@given(st.lists(st.sampled_from(WORDS), max_size=9).map(" ".join))
def test_any_words_are_read_asked_about_or_refused_with_a_place(text: str) -> None:
    result: Understood | Question | DirectionsError
    try:
        result = understand(text)
    except DirectionsError as error:
        result = error
    if isinstance(result, Understood):
        assert parse_directions(result.short_form) == result.directions
    else:
        assert 0 <= result.start <= result.end <= len(text)


def test_a_keystroke_is_read_in_less_than_5_ms() -> None:
    """The median of a long text as it grows, so that one slice of another's work does not tell."""
    text = "two and a half teaspoons before breakfast and supper, Mon, Wed and Fri, 9 weeks on"
    costs = []
    for end in range(1, len(text)):
        start = time.perf_counter()
        understood(text[:end])
        costs.append(time.perf_counter() - start)
    assert sorted(costs)[len(costs) // 2] < 0.005
