from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from sennight.domain.amounts import rounded
from sennight.domain.courses.courses import Flare
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import NO_OWN, Better, Measure, Measures, Verdict
from sennight.domain.follow_up.outcomes import (
    IMPORTANT_PERCENT,
    IMPORTANT_POINTS,
    Outcome,
    outcomes,
)
from support.files import REFERENCES, from_yaml
from support.samples import course, day, line, phase

ROWS: list[dict[str, Any]] = from_yaml((REFERENCES / "outcomes.yaml").read_text())
WORKED = [row for row in ROWS if row["id"].startswith("nrs")]


def change(first: int, last: int, measure: str = "pain") -> Outcome:
    rated = day(1), Fraction(first), day(29), Fraction(last)
    return Outcome(measure, "", 2, *rated, NO_OWN.of(measure))


@pytest.mark.parametrize("row", WORKED, ids=lambda row: str(row["id"]))
def test_a_change_is_judged_as_in_the_reference(row: dict[str, Any]) -> None:
    found = change(row["inputs"]["baseline"], row["inputs"]["follow_up"])
    wanted = row["expected"]
    if wanted == "undefined":
        assert (found.percent, found.fell_by_percent, found.band) == (None, None, None)
        return
    assert found.percent is not None
    assert -found.change == wanted["points"]
    assert Fraction(rounded(-found.percent, 1)) == Fraction(str(wanted["percent"]))
    assert found.fell_by_points is wanted["farrar_points"]
    assert found.fell_by_percent is wanted["farrar_percent"]
    assert found.band == wanted["band"]


def test_the_thresholds_are_the_published_ones() -> None:
    expected = {row["id"]: row["expected"] for row in ROWS}
    assert expected["important_points"] == IMPORTANT_POINTS
    assert expected["important_percent"] == IMPORTANT_PERCENT


def test_thresholds_are_held_for_pain_alone() -> None:
    for measure in ("sleep", "painting", "activity: kneel without pain"):
        found = change(8, 2, measure)
        assert (found.fell_by_points, found.fell_by_percent, found.band) == (None, None, None)
        assert found.percent == -75
    assert change(8, 2, "Knee-pain on stairs").fell_by_points is True


def layout() -> Layout:
    flare = Flare(on=day(10), first=day(10), rescue="rescue")
    return lay_out(
        course(
            phase("one", "2 w", line("t1", "1 cup od")),
            phase("two", "2 w", line("t1", "1 cup od")),
            phase("rescue", "3 d", line("t2", "1 cup od")),
            revisions=(flare,),
        )
    )


def test_phases_are_told_before_the_whole_and_a_flare_by_itself() -> None:
    rated = {1: 8, 8: 6, 10: 9, 11: 9, 12: 7, 15: 6, 28: 3, 40: 2}
    scores = [Score(day(n), "pain", Fraction(value)) for n, value in rated.items()]
    found = outcomes(layout(), scores[::-1])
    assert [(o.phase, o.ratings, int(o.first), int(o.last)) for o in found] == [
        ("one", 2, 8, 6),
        ("two", 2, 6, 3),
        ("rescue", 3, 9, 7),
        ("", 8, 8, 2),
    ]


def test_one_rating_is_no_change() -> None:
    assert outcomes(layout(), [Score(day(1), "pain", Fraction(5))]) == ()


def test_an_own_measure_is_judged_by_its_own_scale_and_activities_by_their_average() -> None:
    grip = Measure("grip", "Grip", Better.MORE, high=Fraction(60), matters=Fraction(5))
    rated = [("grip", 20, 26), ("activity: kneel", 3, 6), ("activity: lift", 4, 7), ("calm", 2, 8)]
    scores = [
        Score(day(on), name, Fraction(value))
        for name, *values in rated
        for on, value in zip((1, 8), values, strict=True)
    ]
    found = {o.measure: o.verdict for o in outcomes(layout(), scores, Measures((grip,)))}
    better = dict.fromkeys(("grip", "activity: kneel", "activity: lift"), Verdict.BETTER)
    assert found == better | {"calm": None, "activities": Verdict.BETTER}
