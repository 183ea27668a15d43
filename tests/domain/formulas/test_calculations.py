"""The dispensary's sums against published figures (tests/references/calculations.yaml).

Errors that sources print (another solvent meant than said, mg for g) are tested to be avoided.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.directions.directions import Unit
from sennight.domain.formulas.calculations import (
    CalculationError,
    alligate,
    amounts_for,
    dilute,
    herb_in,
    menstruum_for,
    mix,
    mixed_strength,
    percent_of_ratio,
    percents,
    ratio_of_percent,
    same_herb,
    with_ratio,
)
from sennight.domain.remedies.contents import herb_amounts, millilitres
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from support.draws import draws
from support.files import REFERENCES, from_yaml

F = Fraction
ROWS = from_yaml((REFERENCES / "calculations.yaml").read_text(encoding="utf-8"))


def of_group(*groups: str, having: str = "") -> list[Any]:
    found = [row for row in ROWS if row["group"] in groups and having in row["inputs"]]
    found = found if having else [row for row in ROWS if row["group"] in groups]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


def exact(value: object) -> Fraction:
    return F(str(value))


def agrees(found: Fraction, row: dict[str, Any], expected: object = None) -> bool:
    """Within the row's tolerance."""
    right = row["expected"] if expected is None else expected
    return abs(found - exact(right)) <= exact(row.get("tolerance") or 0)


def colon(text: str) -> Fraction:
    one, other = text.split(":")
    return F(other) / F(one)


@pytest.mark.parametrize("row", of_group("alligation_medial"))
def test_strength_of_a_mixture(row: dict[str, Any]) -> None:
    parts = zip(row["inputs"]["volumes_ml"], row["inputs"]["percent"], strict=True)
    assert agrees(mixed_strength([(exact(v), exact(p)) for v, p in parts]), row)


@pytest.mark.parametrize("row", of_group("alligation_alternate"))
def test_parts_of_the_stronger_and_the_weaker(row: dict[str, Any]) -> None:
    given, wanted = row["inputs"], row["expected"]
    strengths = [exact(given[key]) for key in ("high", "low", "wanted")]
    assert alligate(*strengths) == (wanted["parts_high"], wanted["parts_low"])
    if given["total_ml"]:
        high, low = mix(exact(given["total_ml"]), *strengths)
        assert agrees(high, row, wanted["ml_high"])
        assert agrees(low, row, wanted["ml_low"])


@pytest.mark.parametrize("row", of_group("published_error"))
def test_a_published_mixture_that_means_another_solvent_than_it_says(row: dict[str, Any]) -> None:
    given = row["inputs"]
    found = mix(*(exact(given[key]) for key in ("total_ml", "high", "low", "wanted")))[0]
    assert agrees(found, row)
    assert abs(found - exact(row["published"])) > 80


@pytest.mark.parametrize("row", of_group("dilution_c1v1"))
def test_dilution(row: dict[str, Any]) -> None:
    given = row["inputs"]
    found = dilute(*(exact(given[key]) for key in ("v2_ml", "c1", "c2")))
    assert abs(found - exact(row["expected"])) <= exact(row["tolerance"])


@pytest.mark.parametrize("row", of_group("dilution_pharmacopoeia", having="target_percent"))
def test_dilute_ethanols_of_the_pharmacopoeia(row: dict[str, Any]) -> None:
    given = row["inputs"]
    keys = ("total_ml", "stock_percent_mean", "target_percent")
    assert agrees(dilute(*(exact(given[key]) for key in keys)), row)


@pytest.mark.parametrize("row", of_group("percent"))
def test_percent_by_volume(row: dict[str, Any]) -> None:
    solute, total = exact(row["inputs"]["solute_ml"]), exact(row["inputs"]["total_ml"])
    assert agrees(percents([solute, total - solute])[0], row)


@pytest.mark.parametrize("row", of_group("ratio_strength"))
def test_ratios(row: dict[str, Any]) -> None:
    given = row["inputs"]
    ratio = colon(given.get("ratio") or given["from_ratio"])
    if "to_ratio" in given:
        found = same_herb(exact(given["ml"]), ratio, colon(given["to_ratio"]))
    elif "herb_g" in given:
        found = menstruum_for(exact(given["herb_g"]), ratio)
    elif "weekly_ml" in given:
        found = herb_in(exact(given["weekly_ml"]), ratio) / 7
    else:
        found = herb_in(exact(given.get("ml", 1)), ratio) * (1 if row["unit"] == "g" else 1000)
    assert agrees(found, row)


def test_a_published_amount_that_is_ten_times_too_small() -> None:
    """A herb maker's page calls 50 mL of 1:4 “1250 mg” beside 12.5 g; it is 12,500 mg."""
    assert herb_in(F(50), F(4)) * 1000 == 12_500


@pytest.mark.parametrize("row", of_group("parts"))
def test_parts(row: dict[str, Any]) -> None:
    parts = [exact(part) for part in row["inputs"]["parts"]]
    total = row["inputs"].get("total_g")
    blend = Remedy("t", "T", Form.TEA, tuple(Ingredient("h", part) for part in parts))
    found = amounts_for(blend, exact(total)) if total else percents(parts)
    for one, expected in zip(found, row["expected"], strict=True):
        assert agrees(one, row, expected)


@pytest.mark.parametrize("row", of_group("drops", having="drops"))
def test_drops_of_water(row: dict[str, Any]) -> None:
    ml = millilitres(Remedy("r", "R", Form.TINCTURE, ()), exact(row["inputs"]["drops"]), Unit.DROP)
    assert ml is not None
    assert agrees(ml, row)


def test_the_nominal_drop_lies_in_the_dropper_s_limits() -> None:
    low, high = next(row["expected"] for row in ROWS if row["id"] == "drops_per_ml_range")
    assert low <= 20 <= high


@pytest.mark.parametrize(("wanted", "parts"), [(60, (1, 0)), (25, (0, 1)), (45, (4, 3))])
def test_a_strength_that_is_one_of_the_two_needs_no_other(
    wanted: int, parts: tuple[int, int]
) -> None:
    """Alligation alternate of 60 % and 25 %; 45 % takes 45 − 25 = 20 parts to 60 − 45 = 15."""
    assert alligate(F(60), F(25), F(wanted)) == parts


def test_how_much_of_two_strengths_makes_a_third() -> None:
    assert mix(F(700), F(60), F(25), F(45)) == (F(400), F(300))


def test_a_ratio_and_its_percent() -> None:
    assert (percent_of_ratio(F(5)), ratio_of_percent(F(20))) == (F(20), F(5))


# Refusals


@pytest.mark.parametrize(
    ("high", "low", "wanted"),
    [(60, 25, 70), (60, 25, 20), (45, 45, 45), (25, 60, 45), (101, 0, 50), (60, -1, 20)],
)
def test_a_strength_that_cannot_be_mixed_is_refused(high: int, low: int, wanted: int) -> None:
    with pytest.raises(CalculationError, match="expected"):
        alligate(F(high), F(low), F(wanted))


@pytest.mark.parametrize("whole", [0, -100])
def test_nothing_cannot_be_made(whole: int) -> None:
    with pytest.raises(CalculationError, match="expected more than 0"):
        mix(F(whole), F(60), F(0), F(45))
    with pytest.raises(CalculationError, match="expected more than 0"):
        amounts_for(BLEND, F(whole))


@pytest.mark.parametrize("sum_", [percent_of_ratio, ratio_of_percent])
@pytest.mark.parametrize("value", [0, -5])
def test_no_ratio_and_no_percent_below_zero(
    sum_: Callable[[Fraction], Fraction], value: int
) -> None:
    with pytest.raises(CalculationError, match="expected more than 0"):
        sum_(F(value))


def test_a_formula_without_parts_is_refused() -> None:
    with pytest.raises(CalculationError, match="some parts of the formula are missing"):
        amounts_for(Remedy("t", "T", Form.TEA, (Ingredient("h"),), TeaMaking(F(3))), F(100))
    with pytest.raises(CalculationError, match="expected both"):
        with_ratio(Remedy("t", "T", Form.TINCTURE, (Ingredient("h", F(1)),)), 0, F(3))


# Scaling and what must always hold


BLEND = Remedy(
    "t2",
    "Blend",
    Form.TINCTURE,
    (
        Ingredient("a", F(30), F(3), F(60)),
        Ingredient("b", F(10), F(5), F(90)),
        Ingredient("c", F(60), F(5), F(25)),
    ),
)


def test_a_bottle_of_another_size() -> None:
    assert list(amounts_for(BLEND, F(250))) == [75, 25, 150]
    assert amounts_for(BLEND, F(1, 3)) == (F(1, 10), F(1, 30), F(1, 5))


def test_capsules_by_number() -> None:
    capsules = Remedy(
        "c", "C", Form.CAPSULE, (Ingredient("a", mg=F(400)), Ingredient("b", mg=F(50)))
    )
    assert list(amounts_for(capsules, F(60))) == [24, 3]


def test_another_ratio_holds_the_same_herb() -> None:
    """30 parts of 1:3 are 50 parts of 1:5: 10 g each."""
    changed = with_ratio(BLEND, 0, F(5))
    assert changed.ingredients[0].parts == 50
    assert changed.ingredients[1:] == BLEND.ingredients[1:]
    before = herb_amounts(BLEND, F(100), Unit.ML)
    after = herb_amounts(changed, F(120), Unit.ML)
    assert [one.grams for one in before] == [one.grams for one in after]


STRENGTHS = st.fractions(0, 100, max_denominator=20)
VOLUMES = st.fractions(F(1, 10), 5000, max_denominator=20)


PAIRS = st.lists(STRENGTHS, min_size=2, max_size=2, unique=True)


@settings(max_examples=draws(40))
@given(PAIRS, st.fractions(0, 1, max_denominator=50), VOLUMES)
def test_a_mixture_has_the_strength_that_was_wanted(
    strengths: list[Fraction], place: Fraction, whole: Fraction
) -> None:
    low, high = sorted(strengths)
    wanted = low + (high - low) * place
    a, b = mix(whole, high, low, wanted)
    assert a + b == whole
    assert mixed_strength([(a, high), (b, low)]) == wanted


@settings(max_examples=draws(30))
@given(st.lists(VOLUMES, min_size=1, max_size=6), VOLUMES)
def test_a_batch_holds_exactly_what_was_asked_for(parts: list[Fraction], whole: Fraction) -> None:
    blend = Remedy("t", "T", Form.TEA, tuple(Ingredient("h", part) for part in parts))
    found = amounts_for(blend, whole)
    assert sum(found) == whole
    assert all(one * parts[0] == found[0] * part for one, part in zip(found, parts, strict=True))


@settings(max_examples=draws(30))
@given(VOLUMES)
def test_ratio_and_percent_are_each_other_s_inverse(ratio: Fraction) -> None:
    assert ratio_of_percent(percent_of_ratio(ratio)) == ratio
    assert same_herb(same_herb(F(5), ratio, F(3)), F(3), ratio) == 5
