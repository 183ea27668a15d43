"""Rules for children's doses against published figures (tests/references/calculations.yaml)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.formulas.children import (
    Child,
    child_table,
    completed_months,
    surface_m2,
)
from sennight.domain.herbs.child_doses import KG_PER_LB
from sennight.domain.herbs.herbs import Stated
from support.files import REFERENCES, from_yaml
from support.herb_samples import herb

F = Fraction
ROWS = from_yaml((REFERENCES / "calculations.yaml").read_text(encoding="utf-8"))


def of_rule(rule: str) -> list[Any]:
    found = [row for row in ROWS if row["group"] == f"paediatric_{rule}"]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


def child_of(given: dict[str, Any]) -> Child:
    pounds, kg, cm = (given.get(key) for key in ("weight_lb", "weight_kg", "height_cm"))
    weight = F(str(pounds)) * KG_PER_LB if pounds else F(str(kg)) if kg else None
    months = given.get("age_months", given.get("age_y", 8) * 12)
    return Child(months, weight, F(str(cm)) if cm else None)


def dose(rule: str, given: dict[str, Any], adult: int = 100) -> Fraction:
    table = child_table(F(given.get("adult", adult)), child_of(given), ())
    found = next(one.dose for one in table.estimates if one.rule == rule)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("rule", "row"),
    [
        pytest.param(rule, param.values[0], id=param.id)
        for rule in ("Clark", "Young", "Fried", "Cowling", "Salisbury")
        for param in of_rule(rule.lower())
    ],
)
def test_published_examples(rule: str, row: dict[str, Any]) -> None:
    """Where a source prints another figure, a slip of its own, ours must not be that."""
    found = float(dose(rule, row["inputs"]))
    assert found == pytest.approx(row["expected"], abs=row["tolerance"] or 1e-9)
    wrong = row.get("published")
    if wrong is not None and abs(wrong / row["expected"] - 1) > 0.003:
        assert found != pytest.approx(wrong, abs=row["tolerance"])


@pytest.mark.parametrize("row", of_rule("bsa"))
def test_body_surface(row: dict[str, Any]) -> None:
    if row["unit"] == "m2":
        found = surface_m2(child_of(row["inputs"]))
    else:
        found = dose("Body surface", row["inputs"])
    assert found is not None
    assert float(found) == pytest.approx(row["expected"], abs=row["tolerance"])


def test_nothing_is_rounded_before_the_last_step() -> None:
    """A page rounds 70 ÷ 150 to 0.47 and gives 235 for 500; exactly it is 700 ÷ 3."""
    assert dose("Clark", {"weight_lb": 70, "adult": 500}) == F(700, 3)
    assert dose("Young", {"age_y": 11, "adult": 500}) == F(5500, 23)


def test_a_minimum_age_wins_over_every_rule() -> None:
    old, young = herb("old"), replace(herb("young"), min_age=Stated(F("0.5"), "", OLD.origin))
    table = child_table(F(10), Child(17 * 12 + 11), [old, young])
    assert [name for name, _ in table.barred] == ["old"]
    assert table.is_barred
    assert table.estimates == ()
    assert not child_table(F(10), Child(18 * 12), [old]).is_barred
    assert [name for name, _ in child_table(F(10), Child(5), [young]).barred] == ["young"]
    assert not child_table(F(10), Child(6), [young]).is_barred


OLD = herb("old").min_age


def test_what_is_missing_is_said() -> None:
    table = {one.rule: one for one in child_table(F(10), Child(11), ()).estimates}
    assert {rule: one.needs for rule, one in table.items() if one.needs} == {
        "Clark": "the weight",
        "Young": "an age of 1 year or more",
        "Salisbury": "the weight",
        "Body surface": "weight and height",
    }
    older = {one.rule: one for one in child_table(F(10), Child(24), ()).estimates}
    assert older["Fried"].dose is None
    assert older["Fried"].needs == "an age under 2 years"


def test_no_rule_gives_more_than_the_adult_dose() -> None:
    big = Child(30 * 12, F(120), F(200))
    for one in child_table(F(10), big, ()).estimates:
        assert one.dose is None or one.dose <= 10


@pytest.mark.parametrize(
    ("born", "day", "months"),
    [
        (date(2020, 3, 15), date(2021, 3, 14), 11),
        (date(2020, 3, 15), date(2021, 3, 15), 12),
        (date(2020, 1, 31), date(2020, 2, 29), 0),
        (date(2020, 1, 31), date(2020, 3, 31), 2),
        (date(2020, 1, 1), date(2020, 1, 1), 0),
    ],
)
def test_completed_months(born: date, day: date, months: int) -> None:
    assert completed_months(born, day) == months


def test_refusals() -> None:
    with pytest.raises(CalculationError, match="before the birth"):
        completed_months(date(2021, 1, 1), date(2020, 12, 31))
    with pytest.raises(CalculationError, match="not above 0"):
        child_table(F(0), Child(60), ())
