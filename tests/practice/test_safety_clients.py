"""Ten realistic clients, and the findings that the sources demand of their courses.

Each is asserted with a word of its source; what is marked as not yet checked there is so here.
"""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from sennight.cli import main
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.practice.materia_medica import herb_names
from sennight.practice.safety import WordedFinding, check
from sennight.publish.course_file.reader import read_course_file
from support.files import COURSES

FOLDER = COURSES / "safety"

Row = tuple[str, str, str, str, str]
"""Severity, id, first and last day, a word of the source."""

EXPECTED: dict[str, list[Row]] = {
    "anticoagulant": [
        ("avoid", "willow-bark.anticoagulant", "2027-01-04", "2027-02-14", "USP Safety"),
        ("caution", "ginger.anticoagulant", "2027-01-04", "2027-02-14", "Textbooks"),
        ("caution", "burden.salicylates.240", "2027-01-04", "2027-02-14", "USP Safety Review"),
    ],
    "ulcer": [
        ("avoid", "willow-bark.peptic-ulcer", "2027-01-04", "2027-01-24", "catalogue"),
        ("avoid", "devils-claw.peptic-ulcer", "2027-01-04", "2027-01-24", "UK traditional"),
        ("avoid", "meadowsweet.peptic-ulcer", "2027-01-04", "2027-01-24", "monographs of the EMA"),
        ("note", "burden.salicylates.2", "2027-01-04", "2027-01-24", "Common practice"),
    ],
    "pregnancy": [
        ("avoid", "lemon-balm.pregnancy", "2027-02-15", "2027-03-28", "(not yet checked)"),
        ("avoid", "valerian.pregnancy", "2027-02-15", "2027-03-28", "(not yet checked)"),
        ("avoid", "passionflower.pregnancy", "2027-02-15", "2027-03-28", "(not yet checked)"),
        ("avoid", "burden.ethanol.pregnancy", "2027-02-15", "2027-03-28", "Common practice"),
        ("note", "burden.sedatives.2", "2027-01-04", "2027-03-28", "Common practice"),
        ("caution", "length.valerian.max-course", "2027-02-04", "2027-03-28", "patients' guide"),
    ],
    "child": [
        ("avoid", "willow-bark.age", "2027-01-04", "2027-01-10", "Health Canada"),
        ("avoid", "elderflower.age", "2027-01-04", "2027-01-10", "EMA public summary"),
        ("avoid", "thyme.age", "2027-01-04", "2027-01-10", "(not yet checked)"),
        ("avoid", "burden.ethanol.under-12", "2027-01-04", "2027-01-10", "CHMP/302620/2017"),
        ("note", "burden.ethanol.15", "2027-01-04", "2027-01-10", "EMA/CHMP/302620/2017"),
    ],
    "daisies": [
        ("avoid", "chamomile.asteraceae-allergy", "2027-01-04", "2027-01-24", "EMA/HMPC"),
        ("avoid", "arnica.asteraceae-allergy", "2027-01-04", "2027-01-24", "Secondary text"),
        ("avoid", "milk-thistle.asteraceae-allergy", "2027-01-04", "2027-01-24", "EMA/HMPC"),
    ],
    "iron": [
        ("caution", "hours.iron.ladys-mantle", "2027-01-04", "2027-01-31", "Textbooks"),
        ("caution", "hours.iron.nettle-leaf", "2027-01-04", "2027-01-31", "Textbooks"),
    ],
    "surgery": [
        ("avoid", "boswellia.planned-surgery", "2027-01-18", "2027-02-08", "JAMA 2001"),
        ("avoid", "st-johns-wort.planned-surgery", "2027-01-18", "2027-02-15", "UK registr"),
        ("caution", "lemon-balm.planned-surgery", "2027-01-18", "2027-02-08", "JAMA 2001"),
    ],
    "pressure": [
        ("avoid", "liquorice.hypertension", "2027-01-04", "2027-03-14", "Commission E"),
        (
            "avoid",
            "liquorice.antihypertensive",
            "2027-01-04",
            "2027-03-14",
            "(not yet checked)",
        ),
        ("avoid", "liquorice.diuretic", "2027-01-04", "2027-03-14", "Commission E"),
        ("caution", "length.liquorice.max-course", "2027-02-01", "2027-03-14", "Commission E"),
        ("caution", "burden.glycyrrhizin.100", "2027-01-04", "2027-03-14", "Commission E"),
    ],
    "mood": [
        ("avoid", "st-johns-wort.ssri", "2027-02-01", "2027-03-14", "UK patient leaflet"),
        (
            "avoid",
            "st-johns-wort.hormonal-contraceptive",
            "2027-02-01",
            "2027-03-14",
            "Lareb",
        ),
        (  # the pill's hormones are broken down by CYP3A4
            "avoid",
            "st-johns-wort.cyp3a4-substrate",
            "2027-02-01",
            "2027-03-14",
            "",
        ),
    ],
    "nobody": [],
}


def layout(name: str) -> Layout:
    return lay_out(read_course_file(FOLDER / f"{name}.toml", herb_names()).course)


def test_every_client_is_looked_at() -> None:
    assert {path.stem for path in FOLDER.glob("*.toml")} == set(EXPECTED)
    assert len(EXPECTED) == 10


@pytest.mark.parametrize("name", EXPECTED)
def test_the_findings_that_the_sources_demand(name: str) -> None:
    found: dict[str, WordedFinding] = {one.id: one for one in check(layout(name)).findings}
    for severity, key, first, last, source in EXPECTED[name]:
        one = found[key]
        assert str(one.severity) == severity, key
        assert (one.first, one.last) == (date.fromisoformat(first), date.fromisoformat(last)), key
        assert source in one.source, one.source
    demanded = {key for _, key, *_ in EXPECTED[name]}
    beyond = {one.id for one in found.values() if str(one.severity) == "avoid"} - demanded
    assert not beyond, "no finding to avoid beyond those demanded"


def test_a_rub_says_nothing_to_an_ulcer() -> None:
    assert "cayenne.peptic-ulcer" not in {one.id for one in check(layout("ulcer")).findings}


def test_what_could_be_done_instead() -> None:
    found = {one.id: one for name in EXPECTED for one in check(layout(name)).findings}
    assert found["hours.iron.nettle-leaf"].instead == (
        "Take Leaf tea at 10:30 (mid-morning) instead of 07:30.",
    )
    assert found["boswellia.planned-surgery"].instead == (
        "Take the last dose before 18 January 2027.",
    )
    assert found["length.liquorice.max-course"].instead == (
        "Take liquorice for the last time on 31 January 2027, or stop for 2 weeks from then.",
    )


@pytest.mark.parametrize("name", EXPECTED)
def test_the_command_stops_where_something_is_to_be_avoided(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = FOLDER / f"{name}.toml"
    status = main(["course", str(file), "--out", str(tmp_path), "--today", "2027-01-01"])
    told = capsys.readouterr()
    with (tmp_path / "findings.csv").open(encoding="utf-8", newline="") as text:
        rows = list(csv.DictReader(text))
    avoid = [
        finding
        for row in rows
        if row["severity"] == "avoid"
        for finding in row["finding"].split("; ")
    ]
    if avoid:
        assert status == 3
        assert [path.name for path in tmp_path.iterdir()] == ["findings.csv"]
        assert all(f"  {one}: " in told.err for one in avoid)
        assert "[[course.accept]]" in told.err
    else:
        assert status == 0
        assert (tmp_path / "handout.pdf").exists()
        assert "Checked: " in told.err
        assert "Finding nothing does not mean it is safe" in told.err


def test_accepted_with_a_reason_it_is_run(tmp_path: Path) -> None:
    file = tmp_path / "accepted.toml"
    accept = (
        '\n[[course.accept]]\nfinding = "willow-bark.anticoagulant"\n'
        'reason = "The doctor knows and watches the clotting."\n'
    )
    file.write_text((FOLDER / "anticoagulant.toml").read_text(encoding="utf-8") + accept, "utf-8")
    out = tmp_path / "out"
    assert main(["course", str(file), "--out", str(out), "--today", "2027-01-01"]) == 0
    assert {"practitioner.pdf", "handout.pdf", "reminders.ics"} <= {p.name for p in out.iterdir()}


def test_with_no_finding_the_table_has_its_header_alone(tmp_path: Path) -> None:
    assert main(["course", str(FOLDER / "nobody.toml"), "--out", str(tmp_path)]) == 0
    assert (tmp_path / "findings.csv").read_text(encoding="utf-8") == (
        "severity,finding,client_fact,herb,remedy,first_day,last_day,text,source,"
        "instead,client_text\n"
    )
