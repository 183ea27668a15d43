"""Changes of ratings against the published thresholds (tests/references/outcomes.yaml)."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.amounts import rounded
from sennight.domain.follow_up.measures import (
    ACTIVITIES,
    ACTIVITY,
    KNOWN,
    NO_OWN,
    PAIN,
    STIFFNESS,
    Better,
    Measure,
    Measures,
    Verdict,
    activity,
    average,
    gain,
    is_activity,
    is_published,
    verdict,
)
from support.files import REFERENCES, from_yaml

F = Fraction
ROWS: dict[str, Any] = {
    row["id"]: row for row in from_yaml((REFERENCES / "outcomes.yaml").read_text(encoding="utf-8"))
}


def test_the_thresholds_are_the_published_ones() -> None:
    assert ROWS["mcid_points"]["expected"] == PAIN.matters
    assert ROWS["mcid_percent"]["expected"] == PAIN.matters_percent
    assert ROWS["psfs_mdc_avg"]["expected"] == ACTIVITIES.matters
    assert ROWS["psfs_mdc_single"]["expected"] == ACTIVITY.matters
    assert [ACTIVITY.low, ACTIVITY.high] == ROWS["psfs_scale"]["expected"]


def test_a_scale_holds_its_ends_and_nothing_beyond() -> None:
    values = (ACTIVITY.low - F(1, 4), ACTIVITY.low, ACTIVITY.high, ACTIVITY.high + F(1, 4))
    assert [ACTIVITY.holds(value) for value in values] == [False, True, True, False]


@pytest.mark.parametrize(
    "row",
    [row for name, row in ROWS.items() if name.startswith("nrs_") and row["inputs"]],
    ids=str,
)
def test_pain_by_both_published_rules(row: dict[str, Any]) -> None:
    """Farrar et al. 2001: 2 points, 30 %; where they part, the change is at the edge."""
    first, last = F(row["inputs"]["baseline"]), F(row["inputs"]["follow_up"])
    if row["expected"] == "undefined":
        assert verdict(PAIN, first, last) is Verdict.SAME
        return
    told = row["expected"]["farrar_points"], row["expected"]["farrar_percent"]
    expected = {
        (True, True): (Verdict.BETTER,),
        (False, False): (Verdict.SLIGHTLY_BETTER, Verdict.SAME, Verdict.SLIGHTLY_WORSE),
    }.get(told, (Verdict.AT_THE_EDGE,))
    assert verdict(PAIN, first, last) in expected
    assert gain(PAIN, first, last) == row["expected"]["points"]


def test_the_worked_example_of_activities() -> None:
    row = ROWS["psfs_ex"]["expected"]
    before, after = average((F(3), F(5), F(4))), average((F(6), F(7), F(6)))
    assert float(before) == row["before"]
    assert rounded(after, 3) == str(row["after"])
    assert rounded(gain(ACTIVITIES, before, after), 3) == str(row["change"])
    assert verdict(ACTIVITIES, before, after) is Verdict.BETTER


def test_a_measure_without_a_threshold_is_told_by_its_direction_alone() -> None:
    assert verdict(STIFFNESS, F(60), F(10)) is Verdict.SLIGHTLY_BETTER
    assert verdict(STIFFNESS, F(10), F(60)) is Verdict.SLIGHTLY_WORSE


def test_from_nothing_the_points_alone_tell() -> None:
    assert verdict(PAIN, F(0), F(3)) is Verdict.WORSE
    assert verdict(PAIN, F(0), F(1)) is Verdict.SLIGHTLY_WORSE


VALUES = st.fractions(0, 10, max_denominator=4)


@given(st.sampled_from(KNOWN), VALUES, VALUES)
def test_turned_round_a_scale_says_the_same(
    measure: Measure, first: Fraction, last: Fraction
) -> None:
    """Better by so much, and the other way round worse; on the scale, and never both."""
    assert measure.holds(first)
    opposite = Better.MORE if measure.better is Better.LESS else Better.LESS
    turned = replace(measure, better=opposite)
    assert gain(turned, first, last) == -gain(measure, first, last)
    better = {Verdict.BETTER, Verdict.AT_THE_EDGE, Verdict.SLIGHTLY_BETTER}
    assert (verdict(measure, first, last) in better) == (gain(measure, first, last) > 0)
    assert not (verdict(measure, first, last) in better and verdict(turned, first, last) in better)


def test_scores_know_their_measure_by_its_id() -> None:
    assert [NO_OWN.of(measure.id) for measure in KNOWN] == list(KNOWN)
    assert NO_OWN.of("Pain") == PAIN
    kneeling = activity("kneeling without pain")
    assert is_activity(kneeling.id)
    assert NO_OWN.of(kneeling.id) == replace(
        ACTIVITY, id=kneeling.id, name="kneeling without pain"
    )
    assert NO_OWN.of("Knee-pain") == replace(PAIN, id="Knee-pain", name="Knee-pain")
    for own in ("stiffness", "painting", "energy"):
        assert NO_OWN.of(own) is None
        assert NO_OWN.scale(own) == (0, 10)
    assert NO_OWN.scale(STIFFNESS.id) == (0, 24 * 60)


def test_a_measure_of_the_courses_own_is_known_by_its_id_and_hides_none_that_is_offered() -> None:
    grip = Measure("grip", "Grip", Better.MORE, high=F(60), unit="kg", matters=F(5))
    knee = Measure("knee pain", "Knee pain", Better.LESS, high=F(100))
    known = Measures((grip, knee, replace(grip, id="pain"), replace(grip, id="activity: kneel")))
    assert known.of("grip") == grip
    assert known.scale("grip") == (0, 60)
    assert known.of("Grip") is None
    assert known.of("knee pain") == knee
    assert known.of("pain") == PAIN
    assert known.of("activity: kneel") == activity("kneel")
    assert [is_published(name) for name in ("Pain", "activity: x", "grip")] == [True, True, False]
    assert verdict(grip, F(20), F(25)) is Verdict.BETTER
    assert verdict(grip, F(20), F(15)) is Verdict.WORSE
