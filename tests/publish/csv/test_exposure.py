"""The tables of exposure, ethanol and actions, cell by cell."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.exposure.coverage import coverage
from sennight.domain.exposure.ethanol import ethanol_rows
from sennight.domain.exposure.exposure import exposures
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.publish.csv.exposure import (
    ACTIONS,
    ETHANOL,
    EXPOSURE,
    actions_csv,
    ethanol_csv,
    exposure_csv,
)
from support import samples
from support.herb_samples import herb, materia_medica_of, row

F = Fraction
MATERIA_MEDICA = materia_medica_of(
    herb(
        "turmeric",
        row("tincture", "9-18 mL", per="1:3"),
        row("dry-extract", "300-600 mg", per="4:1"),
        actions=("bitter",),
    )
)
TINCTURE = Remedy("t1", "T", Form.TINCTURE, (Ingredient("turmeric", F(1), F(3), F(60)),))
CAPSULE = Remedy(
    "t2",
    "C",
    Form.CAPSULE,
    (Ingredient("turmeric", ratio=F(1, 4), mg=F(200), filling=Filling.EXTRACT),),
)


def laid_out(tincture: str, capsule: str) -> Layout:
    made = samples.course(
        samples.phase("one", "1 w", samples.line("t1", tincture), samples.line("t2", capsule))
    )
    protocol = replace(made.protocol, aims=("bitter", "tonic"))
    return lay_out(replace(made, remedies=(TINCTURE, CAPSULE), protocol=protocol))


def read(table: bytes) -> list[dict[str, str]]:
    assert b"\r" not in table
    return list(csv.DictReader(io.StringIO(table.decode())))


def test_exposure_has_the_agreed_columns_and_cells() -> None:
    table = exposure_csv(exposures(laid_out("5 mL bd", "1 capsule bd on mon"), MATERIA_MEDICA))
    assert table.decode().splitlines()[0] == ",".join(EXPOSURE)
    assert ",".join(EXPOSURE) == (
        "first_day,last_day,herb,form,days,daily_low,daily_high,unit,range_low,range_high,"
        "fraction_of_max,band,source,if_flare"
    )
    assert table.decode().splitlines()[1:] == [
        (
            "2027-01-04,2027-01-10,turmeric,liquid,daily,3.333333,3.333333,g,3,6,0.555556,low,"
            "A official text,"
        ),
        (
            "2027-01-04,2027-01-10,turmeric,extract,mon,0.4,0.4,g,0.3,0.6,0.666667,middle,"
            "A official text,"
        ),
        (
            "2027-01-04,2027-01-10,turmeric,all,mixed,1.222222,1.222222,,0.5,1,1.222222,over,"
            "liquid: A official text; extract: A official text,"
        ),
    ]


def test_what_is_not_known_is_an_empty_cell_and_the_source_says_why() -> None:
    rows = read(exposure_csv(exposures(laid_out("5 g bd", "1 capsule od"), MATERIA_MEDICA)))
    liquid = rows[0]
    assert (liquid["daily_low"], liquid["fraction_of_max"], liquid["band"]) == ("", "", "unknown")
    assert (liquid["range_low"], liquid["unit"]) == ("3", "g")
    assert liquid["source"] == "A official text; a tincture is not measured in g"
    assert (rows[2]["form"], rows[2]["daily_low"], rows[2]["band"]) == ("all", "", "unknown")


def test_ethanol_has_the_agreed_columns_and_cells() -> None:
    table = ethanol_csv(ethanol_rows(laid_out("1/3 mL tds", "1 capsule od")))
    assert ",".join(ETHANOL) == (
        "first_day,last_day,remedy,strength_percent,grams_per_dose,grams_per_day_high,if_flare"
    )
    assert table.decode().splitlines() == [
        ",".join(ETHANOL),
        "2027-01-04,2027-01-10,t1,60,0.157848,0.473544,",
    ]


def test_actions_have_the_agreed_columns_and_cells() -> None:
    layout = laid_out("5 mL bd", "1 capsule bd")
    table = actions_csv(coverage(layout, exposures(layout, MATERIA_MEDICA), MATERIA_MEDICA))
    assert table.decode().splitlines() == [
        ",".join(ACTIONS),
        "one,bitter,yes,2,t1 t2",
        "one,tonic,yes,0,",
    ]
