"""Ethanol against published figures (tests/references/ethanol.yaml), and over a course."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.protocols import Phase
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.exposure.contraction import blended, by_mass, density
from sennight.domain.exposure.ethanol import (
    GRAMS_PER_ML,
    ethanol_days,
    ethanol_rows,
    grams,
    mixed,
    strength,
)
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Remedy
from support import samples
from support.draws import draws
from support.files import REFERENCES, from_yaml

F = Fraction
ROWS = from_yaml((REFERENCES / "ethanol.yaml").read_text(encoding="utf-8"))


def of_group(*groups: str) -> list[Any]:
    found = [row for row in ROWS if row["group"] in groups]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


def tincture(*parts: tuple[int, int], name: str = "t1") -> Remedy:
    """Parts by volume and % v/v."""
    herbs = tuple(Ingredient(f"h{n}", F(p), F(5), F(e)) for n, (p, e) in enumerate(parts))
    return Remedy(name, name, Form.TINCTURE, herbs)


@pytest.mark.parametrize("row", of_group("ethanol_per_dose"))
def test_grams_in_a_dose(row: dict[str, Any]) -> None:
    found = grams(F(str(row["inputs"]["ml"])), F(str(row["inputs"]["percent_vol"])))
    scale = 1000 if row["unit"] == "mg" else 1
    assert float(found * scale) == pytest.approx(row["expected"], abs=row["tolerance"])


@pytest.mark.parametrize("row", of_group("oiml_r22_density_20C"))
def test_grams_in_100_ml_of_every_strength_of_the_alcohol_tables(row: dict[str, Any]) -> None:
    found = grams(F(100), F(str(row["inputs"]["percent_vol"])))
    assert float(found) == pytest.approx(row["expected"]["ethanol_g_per_100ml"], abs=0.0006)


@pytest.mark.parametrize("row", of_group("oiml_r22_density_20C"))
def test_density_and_strength_by_mass_of_every_strength_of_the_tables(row: dict[str, Any]) -> None:
    by = by_mass(F(str(row["inputs"]["percent_vol"])))
    assert float(density(by)) == pytest.approx(row["expected"]["density_kg_m3"], abs=0.05)
    assert float(by * 100) == pytest.approx(row["expected"]["percent_mass"], abs=0.01)


@pytest.mark.parametrize("row", [row for row in ROWS if row["id"].startswith("contraction_5")])
def test_mixing_shrinks_as_published(row: dict[str, Any]) -> None:
    """50 mL and 50 mL: 96.46 mL by OIML R 22 (96.26 in a demonstration); 500 mL of 95 % and 500 mL
    of water: 970.6 mL, of which the USP says about 970."""
    half, percent = (F(500), F(95)) if "500" in row["id"] else (F(50), F(100))
    blend = blended([(half, percent), (half, F(0))])
    expected = row["expected"]
    ml = expected["ml"] if isinstance(expected, dict) else expected
    assert float(blend.ml) == pytest.approx(ml, abs=row["tolerance"])
    if isinstance(expected, dict):
        assert float(blend.strength) == pytest.approx(expected["percent_vol"], abs=0.02)


def test_a_liquid_once_it_is_mixed() -> None:
    blend = mixed(tincture((1, 96), (1, 0)))
    assert blend
    assert (round(float(blend.ml), 1), round(float(blend.strength), 1)) == (97.0, 49.5)
    same = mixed(tincture((1, 45), (3, 45)))
    assert same
    assert float(same.ml) == pytest.approx(100)
    assert float(same.strength) == pytest.approx(45)
    thinned = replace(tincture((1, 96)), base=Base("Water", F(1)))
    assert mixed(thinned) == blend
    assert mixed(replace(thinned, base=Base("glycerol", F(1)))) is None
    assert mixed(replace(thinned, ingredients=())) is None
    assert mixed(replace(thinned, form=Form.TEA)) is None


def test_density_of_pure_ethanol() -> None:
    row = next(row for row in ROWS if row["id"] == "ethanol_pure_density")
    assert float(GRAMS_PER_ML * 1000) == row["expected"]


def test_a_strength_whose_published_grams_differ_from_the_tables() -> None:
    """A pharmacy page agrees at 40 % v/v and departs at 96.2 %; OIML R 22 is followed."""
    rows = {row["id"]: row for row in ROWS}
    assert float(grams(F(100), F(40))) == pytest.approx(
        rows["mass_40vol"]["expected"]["g_per_100ml"], abs=0.001
    )
    odd = rows["mass_962vol_conflict"]
    found = float(grams(F(100), F("96.2")))
    assert found == pytest.approx(odd["expected"], abs=odd["tolerance"])
    assert abs(found - odd["published"]) > odd["tolerance"]


def test_a_published_amount_that_rests_on_the_density_of_spirit() -> None:
    """A UK product summary gives 2916 mg for 20 mL at 18.08 % v/v; pure ethanol gives 2854."""
    row = next(row for row in ROWS if row["id"] == "smpc_conflict")
    found = float(grams(F(20), F("18.08"))) * 1000
    assert found == pytest.approx(row["expected"], abs=1)
    assert abs(found - row["published"]) > 60


def test_ethanol_in_1_ml_of_82_percent() -> None:
    """0.647 g: UK registration text of a black cohosh liquid extract, 82 % v/v."""
    assert round(float(grams(F(1), F(82))), 3) == 0.647


def test_what_is_left_out_by_the_mean_is_under_four_percent() -> None:
    """Measured and tabled mixtures of ethanol and water: the volume shrinks, by under 4 %.

    So the true strength of half spirit, half water is 51.83 % v/v where the mean says 50.
    """
    rows = {row["id"]: row["expected"] for row in ROWS if row["group"] == "contraction"}
    mean = strength(tincture((50, 100), (50, 0)))
    assert mean == 50
    table = rows["contraction_50_50_r22"]
    assert 0 < 1 - float(mean) / table["percent_vol"] < 0.04
    assert 0 < 1 - table["ml"] / 100 < 0.04
    assert 0 < 1 - rows["contraction_50_50_obs"] / 100 < 0.04
    half = rows["contraction_500_500_95"]
    assert 0 < 1 - 47.5 / half["percent_vol"] < 0.04


def test_strength_is_the_mean_by_volume() -> None:
    assert strength(tincture((30, 60), (10, 90), (60, 25))) == 42
    assert strength(tincture((1, 45))) == 45
    assert strength(replace(tincture((1, 60), (1, 40)), form=Form.RUB)) == 50


def test_strength_is_not_guessed() -> None:
    unsaid = Ingredient("h", F(1), F(5))
    assert strength(Remedy("t", "t", Form.TINCTURE, (unsaid,))) is None
    assert strength(Remedy("t", "t", Form.TINCTURE, (Ingredient("h", ethanol=F(40)),))) is None
    assert strength(Remedy("t", "t", Form.TEA, (Ingredient("h", F(1)),))) is None


@settings(max_examples=draws(30))
@given(st.lists(st.tuples(st.integers(1, 200), st.integers(0, 96)), min_size=1, max_size=6))
def test_a_blend_holds_the_ethanol_of_its_parts(parts: list[tuple[int, int]]) -> None:
    whole = F(sum(volume for volume, _ in parts))
    percent = strength(tincture(*parts))
    assert percent is not None
    assert grams(whole, percent) == sum(grams(F(ml), F(e)) for ml, e in parts)
    assert min(e for _, e in parts) <= percent <= max(e for _, e in parts)


# Over a course


def laid_out(*phases: Phase) -> Layout:
    rub = replace(tincture((1, 70), name="t3"), form=Form.RUB)
    remedies = (tincture((1, 45)), tincture((1, 60), name="t2"), rub)
    return lay_out(replace(samples.course(*phases), remedies=remedies))


def test_a_day_is_the_timed_doses_and_the_most_as_needed() -> None:
    made = laid_out(samples.phase("one", "2 w", samples.line("t1", "5 mL bd and prn max 2/day")))
    row = ethanol_rows(made)[0]
    assert (row.span.first, row.span.last) == (samples.day(1), samples.day(14))
    assert row.per_dose == F("1.77579")
    assert row.per_day_high == 4 * F("1.77579")


def test_runs_that_say_the_same_are_one_and_rubs_are_left_out() -> None:
    made = laid_out(
        samples.phase("one", "2 w", samples.line("t1", "5 mL bd"), samples.line("t3", "5 mL bd")),
        samples.phase("two", "2 w", samples.line("t1", "5 mL at rising,lunch")),
        samples.phase("three", "2 w", samples.line("t1", "5 mL tds")),
    )
    spans = [(row.remedy, row.span.first, row.span.last) for row in ethanol_rows(made)]
    assert spans == [
        ("t1", samples.day(1), samples.day(28)),
        ("t1", samples.day(29), samples.day(42)),
    ]


def test_runs_with_days_off_between_them_stay_apart() -> None:
    made = laid_out(samples.phase("one", "3 w", samples.line("t1", "5 mL od 1 w on 1 w off")))
    assert [row.span.first for row in ethanol_rows(made)] == [samples.day(1), samples.day(15)]


def test_a_unit_that_is_no_volume_is_unknown() -> None:
    made = laid_out(samples.phase("one", "2 w", samples.line("t1", "1 g bd")))
    row = ethanol_rows(made)[0]
    assert (row.strength, row.per_dose, row.per_day_high) == (F(45), None, None)
    assert [day.grams_high for day in ethanol_days(ethanol_rows(made))] == [None]


def test_the_remedies_of_a_day_add_up() -> None:
    made = laid_out(
        samples.phase("one", "1 w", samples.line("t1", "5 mL od")),
        samples.phase("two", "1 w", samples.line("t1", "5 mL od"), samples.line("t2", "5 mL od")),
    )
    days = list(ethanol_days(ethanol_rows(made)))
    assert [day.span.days for day in days] == [7, 7]
    assert days[1].grams_high == F("1.77579") + grams(F(5), F(60))


def test_days_without_ethanol_between_two_remedies_are_no_run() -> None:
    made = laid_out(
        samples.phase("one", "1 w", samples.line("t1", "5 mL od")),
        samples.phase("two", "1 w", samples.line("t3", "1 application od")),
        samples.phase("three", "1 w", samples.line("t2", "5 mL od")),
    )
    days = list(ethanol_days(ethanol_rows(made)))
    assert [day.span.first for day in days] == [samples.day(1), samples.day(15)]
