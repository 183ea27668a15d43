"""Further check values of the reference, and which are not tested and why.

Values and sources are in `references/further_checks.yaml`; the contrast of colours is tested with
the theme. `references/not_tested.yaml` names the rest one by one.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import Any

import pytest

from sennight.domain.dates import ONE_DAY, add_months
from sennight.domain.day import as_minutes
from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_directions
from sennight.domain.exposure.ethanol import grams
from sennight.domain.follow_up.outcomes import IMPORTANT_PERCENT, IMPORTANT_POINTS
from sennight.domain.remedies.contents import millilitres
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.reminders.clock_changes import as_utc, changes, shown_at
from support.files import REFERENCES, from_yaml
from support.safety_samples import RULES

ROWS: list[dict[str, Any]] = from_yaml(
    (REFERENCES / "further_checks.yaml").read_text(encoding="utf-8")
)
LEFT: list[dict[str, Any]] = from_yaml(
    (REFERENCES / "not_tested.yaml").read_text(encoding="utf-8")
)
NOMINAL_UNIT = Fraction(8)
"""Grams of ethanol in a UK unit as it is usually said; 10 mL are 7.89 g."""


def rows(group: str) -> list[Any]:
    found = [row for row in ROWS if row["group"] == group]
    assert found
    return [pytest.param(row, id=row["id"]) for row in found]


@pytest.mark.parametrize("row", rows("month_end"))
def test_years_end_on_the_last_day_of_a_short_month(row: dict[str, Any]) -> None:
    start = date.fromisoformat(row["inputs"]["start"])
    assert add_months(start, 12 * row["inputs"]["years"]).isoformat() == row["expected"]


@pytest.mark.parametrize("row", rows("clock_change"))
def test_clocks_change_when_the_zone_data_says(row: dict[str, Any]) -> None:
    asked = row["inputs"]
    spring, autumn = changes(asked["zone"], asked["year"])
    change = spring if asked["season"] == "spring" else autumn
    assert change.at == datetime.fromisoformat(row["expected"])


@pytest.mark.parametrize("row", rows("clock_gap"))
def test_a_time_that_clocks_skip_or_show_twice(row: dict[str, Any]) -> None:
    local, zone = datetime.fromisoformat(row["inputs"]["local"]), row["inputs"]["tzid"]
    minute = as_minutes(local.time())
    expected = datetime.fromisoformat(row["expected"])
    assert as_utc(zone, local.date(), minute) == expected
    assert shown_at(zone, local.date(), minute) == expected.replace(tzinfo=None)


@pytest.mark.parametrize("row", rows("day_length"))
def test_days_of_changes_are_shorter_and_longer(row: dict[str, Any]) -> None:
    zone = row["inputs"]["zone"]
    hours = [
        (as_utc(zone, day + ONE_DAY, 0) - as_utc(zone, day, 0)) / timedelta(hours=1)
        for day in (change.local.date() for change in changes(zone, row["inputs"]["year"]))
    ]
    assert hours == [row["expected"]["spring_h"], row["expected"]["autumn_h"]]


@pytest.mark.parametrize("row", rows("uk_units"))
def test_grams_of_alcohol_are_about_eight_a_unit(row: dict[str, Any]) -> None:
    """A unit is 10 mL, 7.89 g; said as 8 g, which is 1.4 % more."""
    held = grams(Fraction(row["inputs"]["ml"]), Fraction(row["inputs"]["percent_vol"]))
    units = Fraction(str(row["expected"]))
    assert abs(held / NOMINAL_UNIT - units) <= units * Fraction(3, 200)


@pytest.mark.parametrize("row", rows("mg_per_kg"))
def test_milligrams_for_each_kilogram(row: dict[str, Any]) -> None:
    asked = row["inputs"]
    mg_per_kg = Fraction(str(asked["ethanol_mg"])) / asked["weight_kg"]
    assert float(mg_per_kg) == pytest.approx(row["expected"], abs=0.02)


def test_the_thresholds_of_alcohol_in_one_dose() -> None:
    published = sorted(row["expected"] for row in ROWS if row["group"] == "threshold")
    assert published == sorted(limit.mg_per_kg for limit in RULES.dose_limits)


def test_the_fall_that_matters() -> None:
    published = [row["expected"] for row in ROWS if row["group"] == "important"]
    assert published == [IMPORTANT_POINTS, IMPORTANT_PERCENT]


@pytest.mark.parametrize("row", rows("spoon"))
def test_a_spoon_is_a_metric_spoon(row: dict[str, Any]) -> None:
    unit = {"teaspoon": Unit.TSP, "tablespoon": Unit.TBSP}[row["inputs"]["unit"]]
    assert millilitres(Remedy("r", "R", Form.SYRUP, ()), Fraction(1), unit) == row["expected"]


MEANT = {"every 4 hours": "5 mL every 4 h"}


@pytest.mark.parametrize("row", rows("latin"))
def test_an_odd_code_is_understood_or_refused_and_never_misread(row: dict[str, Any]) -> None:
    """Each may be refused; what is understood must be what the lists say it means."""
    code = row["inputs"]["code"]
    try:
        understood = read_usual_directions(f"5 mL {code}")
    except DirectionsError:
        return
    assert str(understood) == MEANT.get(row["expected"], ""), code


def test_what_is_not_tested_is_named_with_its_reason() -> None:
    ids = [name for part in LEFT for name in part["ids"]]
    assert len(ids) == len(set(ids))
    assert all(len(part["why"]) > 30 for part in LEFT)
    tested = {row["id"] for row in ROWS}
    for file in ("calculations", "ethanol", "dates", "adherence", "outcomes", "labels"):
        text = (REFERENCES / f"{file}.yaml").read_text(encoding="utf-8")
        tested |= {row["id"] for row in from_yaml(text) if "id" in row}
    assert not tested & set(ids)
