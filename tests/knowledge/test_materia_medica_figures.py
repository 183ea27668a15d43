"""Records of herbs against figures that were gathered apart from them, text by text."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from sennight.domain.herbs.doses import DoseRow
from sennight.domain.herbs.herbs import Caution, Herb
from sennight.practice.materia_medica import supplied_materia_medica
from support.files import REFERENCES, from_yaml

GATHERED: dict[str, dict[str, Any]] = {
    one["herb"]: one for one in from_yaml((REFERENCES / "herbs.yaml").read_text("utf-8"))
}
UNITS = {"ml": "mL", "drops": "drop", "teaspoon": "tsp"}


def number(written: object) -> Fraction:
    return Fraction(str(written))


def amount(written: list[Any]) -> tuple[Fraction, Fraction, str, bool]:
    """Least, most, unit, and whether it counts something else than the preparation."""
    unit, _, other = str(written[2]).partition(" ")
    return number(written[0]), number(written[1]), UNITS.get(unit, unit), bool(other)


def told(levels: list[list[str]]) -> set[tuple[str, ...]]:
    return {tuple(one) for one in levels}


def held(cautions: tuple[Caution, ...]) -> set[tuple[str, ...]]:
    return {(one.tag, str(one.level), str(one.origin.basis)) for one in cautions}


def test_figures_were_gathered_for_many_herbs() -> None:
    assert len(GATHERED) == 44
    assert sum(len(one["doses"]) for one in GATHERED.values()) > 280


@pytest.fixture(params=sorted(GATHERED))
def pair(request: pytest.FixtureRequest) -> tuple[Herb, dict[str, Any]]:
    return supplied_materia_medica().herbs[request.param], GATHERED[request.param]


def test_doses_are_those_of_the_texts(pair: tuple[Herb, dict[str, Any]]) -> None:
    herb, gathered = pair
    rows: dict[str, DoseRow] = {row.id: row for row in herb.doses}
    assert set(rows) == {one["id"] for one in gathered["doses"]}
    for one in gathered["doses"]:
        row = rows[one["id"]]
        assert row.form == one["form"]
        for dose, key in ((row.dose, "once"), (row.daily, "daily")):
            assert (dose is None) == (key not in one), row.id
            if dose:
                found = dose.low, dose.high, str(dose.unit), bool(dose.of)
                assert found == amount(one[key]), row.id
        if row.daily:
            assert row.daily_basis == one["daily"][3]
        strengths = tuple(number(each) for each in one.get("ethanol", ()))
        assert (row.ethanol or ()) == strengths


def test_ratios_are_those_of_the_texts(pair: tuple[Herb, dict[str, Any]]) -> None:
    herb, gathered = pair
    for one, row in zip(gathered["doses"], herb.doses, strict=True):
        assert (row.ratio is None) == ("ratio" not in one)
        if row.ratio:
            numbers = [number(each) for each in re.findall(r"[0-9.]+", one["ratio"])]
            left, right = (part.count("-") + 1 for part in one["ratio"].split(":"))
            herb_part, made = numbers[:left], numbers[left : left + right]
            assert row.ratio.herb == (herb_part[0], herb_part[-1])
            assert row.ratio.made == (made[0], made[-1])


def test_ages_and_cautions_are_those_of_the_texts(pair: tuple[Herb, dict[str, Any]]) -> None:
    herb, gathered = pair
    age = number(gathered["from_age"][0]), gathered["from_age"][1]
    assert (herb.min_age.value, herb.min_age.origin.basis) == age
    assert held(herb.cautions) == told(gathered["cautions"])
    assert held(herb.interactions) == told(gathered["interactions"])
    for one, key in ((herb.pregnancy, "pregnancy"), (herb.lactation, "lactation")):
        assert [one.level, one.origin.basis] == gathered[key]
    assert herb.latin == gathered["latin"]


def test_sources_are_those_of_the_texts(pair: tuple[Herb, dict[str, Any]]) -> None:
    """A secondary text is cited by its kind; every other one names its document."""
    herb, gathered = pair
    for one, row in zip(gathered["doses"], herb.doses, strict=True):
        secondary = row.dose_from.source.kind == "secondary"
        assert (one["source"] == "secondary text") == secondary
        document = row.dose_from.source.document
        if document and not secondary:
            assert document.split(",")[0] in one["source"].replace(" / ", ", ")
