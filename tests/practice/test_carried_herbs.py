"""Own herbs that travel inside a course file, and practices that know them otherwise."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.herbs.own_herbs import CarriedHerb, OwnHerb
from sennight.practice.carried_herbs import HerbChoice, HerbsDifferError, to_be_asked
from sennight.practice.course_outputs import (
    RunChoices,
)
from sennight.practice.course_run import (
    write_course,
)
from sennight.practice.importing import import_course, import_protocol, read_for_import
from sennight.practice.importing import write_course_file as write
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import (
    known_herbs,
    list_own_herbs,
    list_own_ranges,
    own_herb_history,
    save_own_herb,
)
from sennight.practice.protocols import list_protocols, shelf_protocol
from sennight.publish.course_file.reader import parse_course
from sennight.publish.course_file.writer import course_toml
from support.files import COURSES

from .conftest import NOW

FILE = COURSES / "own-herb.toml"
ID = "own-moonwort"


def read(practice: OpenPractice) -> CarriedHerb:
    (carried,) = read_for_import(practice, FILE).herbs
    return carried


def test_a_file_with_its_own_herb_runs_anywhere(tmp_path: Path) -> None:
    text = FILE.read_text(encoding="utf-8") + (
        '[[course.accept]]\nfinding = "own-moonwort.peptic-ulcer"\nreason = "talked over"\n'
    )
    path = tmp_path / "wall.toml"
    path.write_text(text, encoding="utf-8")
    write_course(path, tmp_path / "out", RunChoices(date(2026, 11, 28)))
    exposure = (tmp_path / "out" / "exposure.csv").read_text(encoding="utf-8")
    assert "own-moonwort,tea,daily,3,3,g,1,3,1,high" in exposure
    findings = (tmp_path / "out" / "findings.csv").read_text(encoding="utf-8")
    assert "avoid,own-moonwort.peptic-ulcer,peptic-ulcer,own-moonwort" in findings
    assert "it bites" in findings


def test_it_is_written_as_it_was_read(practice: OpenPractice) -> None:
    file = read_for_import(practice, FILE)
    text = course_toml(file.course, herbs=file.herbs)
    assert parse_course(text, ("nettle-leaf",)) == file
    (carried,) = file.herbs
    assert carried.herb.min_age == 12
    assert carried.ranges[1].high == Fraction(20, 3)


def test_a_herb_that_nobody_knows_is_kept_with_its_ranges(
    practice: OpenPractice, tmp_path: Path
) -> None:
    file = read_for_import(practice, FILE)
    assert to_be_asked(practice, file) == ()
    brought = import_course(practice, file, now=NOW)
    assert list_own_herbs(practice) == (file.herbs[0].herb,)
    assert set(list_own_ranges(practice, ID)) == set(file.herbs[0].ranges)
    out = write(practice, brought.course_id, tmp_path / "out.toml")
    (written,) = parse_course(out.read_text(encoding="utf-8"), ("nettle-leaf",)).herbs
    assert (written.herb, set(written.ranges)) == (file.herbs[0].herb, set(file.herbs[0].ranges))
    again = read_for_import(practice, out)
    assert to_be_asked(practice, again) == ()
    import_protocol(practice, again, name="Again")
    assert len(own_herb_history(practice, ID)) == 1, "what is alike is not kept twice"


@pytest.mark.parametrize("choice", HerbChoice)
def test_where_it_is_known_otherwise_somebody_is_asked(
    practice: OpenPractice, choice: HerbChoice
) -> None:
    theirs = read(practice)
    ours = replace(theirs.herb, part="spores", cautions=())
    save_own_herb(practice, ours)
    file = read_for_import(practice, FILE)
    (meeting,) = to_be_asked(practice, file)
    assert meeting.is_same_id
    assert meeting.differences == ("part", "cautions", "daily ranges")
    with pytest.raises(HerbsDifferError, match="Moonwort"):
        import_protocol(practice, file)
    assert list_protocols(practice) == ()
    import_protocol(practice, file, herbs={ID: choice})
    expected = ours if choice is HerbChoice.OURS else theirs.herb
    assert list_own_herbs(practice) == (expected,)
    assert bool(list_own_ranges(practice, ID)) == (choice is HerbChoice.THEIRS)


@pytest.mark.parametrize("choice", HerbChoice)
def test_another_herb_of_the_same_name_may_be_another_plant(
    practice: OpenPractice, choice: HerbChoice
) -> None:
    save_own_herb(practice, OwnHerb("own-ours", "moonwort"))
    file = read_for_import(practice, FILE)
    (meeting,) = to_be_asked(practice, file)
    assert (meeting.ours, meeting.is_same_id, meeting.differences) == ("own-ours", False, ())
    brought = import_protocol(practice, file, herbs={ID: choice})
    (remedy,) = shelf_protocol(practice, brought.protocol_id).remedies
    expected = "own-ours" if choice is HerbChoice.OURS else ID
    assert remedy.ingredients[0].herb == expected
    assert (ID in known_herbs(practice).herbs) == (choice is HerbChoice.THEIRS)
