"""How it goes in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.courses import Flare
from sennight.domain.courses.stretches import lay_out
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import (
    ACTIVITIES,
    PAIN,
    SLEEP,
    Better,
    Measure,
    Measures,
    Verdict,
)
from sennight.domain.follow_up.progress import Progress, average_scores, progress
from sennight.domain.follow_up.progress_words import (
    progress_sentence,
    ratings_words,
    threshold_words,
    thresholds_told,
)
from support.samples import course, day, line, phase

LAYOUT = lay_out(
    course(
        phase("one", "2 w", line("t1", "1 cup od")),
        phase("two", "2 w", line("t1", "1 cup od")),
        phase("rescue", "3 d", line("t2", "1 cup od")),
        revisions=(Flare(on=day(10), first=day(10), rescue="rescue"),),
    )
)


def rated(measure: str, *values: str) -> Progress:
    """Ratings on the first day, then every week."""
    given_on = (Score(day(1 + 7 * n), measure, Fraction(v)) for n, v in enumerate(values))
    (found,) = progress(tuple(given_on)[::-1])
    return found


@pytest.mark.parametrize(
    ("measure", "values", "said"),
    [
        ("pain", ("7",), "Pain: 7 on 4 January 2027. One rating is not a trend."),
        # Farrar et al. 2001: 2 points, 30 %; 7 to 5 reaches the points alone (28.6 %)
        (
            "pain",
            ("7", "9", "4.5"),
            "Pain: from 7 to 4.5, 4 to 18 January 2027. Better, by enough",
        ),
        (
            "pain",
            ("7", "5"),
            "Better, on the borderline: it passes one of two published thresholds",
        ),
        ("pain", ("7", "6"), "Better, but by less than matters."),
        ("pain", ("7", "7"), "The same."),
        ("pain", ("7", "8"), "Worse, not clearly by enough to matter."),
        ("pain", ("5", "8"), "Worse, by enough to matter."),
        (
            "stiffness in minutes",
            ("45", "20"),
            "Morning stiffness: from 45 to 20 minutes, 4 to",
        ),
        ("sleep", ("3", "8"), "Better; no published figure says how much of a change matters."),
        ("sleep", ("8", "3"), "Worse; no published figure says how much of a change matters."),
        (
            "activity: kneel",
            ("3", "6"),
            "Kneel: from 3 to 6, 4 to 11 January 2027. Better, by enough",
        ),
        ("energy", ("3", "8"), "Energy: from 3 to 8, 4 to 11 January 2027. Up by 5."),
        ("energy", ("3", "2"), "Down by 1."),
        ("energy", ("3", "3"), "The same."),
    ],
)
def test_a_change_is_said_in_words(measure: str, values: tuple[str, ...], said: str) -> None:
    assert said in progress_sentence(rated(measure, *values))


def test_what_matters_is_told_with_who_says_so() -> None:
    """Pains share the thresholds of Farrar et al. 2001; what is not published is not told here."""
    grip = Measure("grip", "grip", Better.MORE, unit="kg", matters=Fraction(1))
    rough = Measure("rough", "rough", Better.LESS, matters=Fraction(1))
    scores = [
        Score(day(1), name, Fraction(5))
        for name in ("pain", "knee pain", "sleep", "grip", "rough")
    ]
    found = progress(scores, Measures((grip, rough)))
    assert thresholds_told(found) == (
        "Pain and knee pain: a change of 2 points and of 30 % matters "
        "(Farrar et al., Pain 2001;94:149-158). "
        "Grip: a change of 1 kg matters (set in this practice). "
        "Rough: a change of 1 point matters (set in this practice)."
    )
    assert threshold_words(SLEEP) == "no published figure says how much of a change matters"


def test_nothing_cheerful_is_said_of_what_got_worse() -> None:
    for measure in ("pain", "stiffness in minutes"):
        for last in ("6", "8", "10"):
            assert "better" not in progress_sentence(rated(measure, "5", last)).lower()


def test_measures_stand_by_name_and_those_who_hear_get_every_rating() -> None:
    both = progress([Score(day(1), "an own", Fraction(1)), Score(day(2), "pain", Fraction(6))])
    assert [found.id for found in both] == ["pain", "an own"]
    assert (
        ratings_words(rated("pain", "7", "4.5")) == "7 on 4 January 2027; 4.5 on 11 January 2027"
    )


RATING = st.integers(0, 20).map(lambda halves: Fraction(halves, 2))


@given(st.lists(RATING, min_size=2, max_size=4))
def test_what_leaves_the_band_is_what_matters_by_all_thresholds(values: list[Fraction]) -> None:
    found = rated("pain", *map(str, values))
    assert found.matters is not None
    reached = abs(found.last - found.first) >= found.matters
    matters = found.verdict in {Verdict.BETTER, Verdict.WORSE}
    assert reached == matters
    mirrored = replace(found, ratings=(found.ratings[0],))
    assert (mirrored.verdict, mirrored.measure) == (None, PAIN)


def test_activities_are_averaged_over_the_days_on_which_all_were_rated() -> None:
    """The worked example: 3, 5 and 4, then 6, 7 and 6 (after Stratford et al. 1995)."""
    names = ("activity: kneel", "activity: lift", "activity: stairs")
    rows = {1: (3, 5, 4), 8: (6, 7, 6)}
    scores = [
        Score(day(on), name, Fraction(value))
        for on, values in rows.items()
        for name, value in zip(names, values, strict=True)
    ]
    scores.append(Score(day(4), names[0], Fraction(9)))
    *_, average = progress(scores)
    assert (average.id, average.measure) == (ACTIVITIES.id, ACTIVITIES)
    assert [score.value for score in average.ratings] == [4, Fraction(19, 3)]
    assert average.verdict is Verdict.BETTER
    assert ACTIVITIES.id not in [found.id for found in progress(scores[::3])]
    assert average_scores(scores[:1]) == ()
