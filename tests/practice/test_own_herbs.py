"""The practice's own herbs, ranges and notes: beside what is supplied, never mixed up with it."""

from __future__ import annotations

import shutil
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import (
    OwnCaution,
    OwnHerb,
    OwnRange,
    is_own,
)
from sennight.domain.herbs.ranges import working_range
from sennight.knowledge.materia_medica import MateriaMedicaError, read_materia_medica
from sennight.places import own_folder
from sennight.practice.materia_medica import supplied_materia_medica
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.own_herbs import (
    OwnHerbError,
    drop_own_range,
    herb_notes,
    known_herbs,
    list_own_herbs,
    list_own_ranges,
    new_own_herb,
    own_herb_history,
    retire_own_herb,
    save_herb_note,
    save_own_herb,
    save_own_range,
)

TESTWORT = OwnHerb(
    "own-1",
    "Testwort",
    actions=("bitter",),
    cautions=(OwnCaution("peptic-ulcer", Level.CAUTION),),
    reference="own notebook",
)
TEA = OwnRange("nettle-leaf", TakenAs.TEA, Fraction(4), Fraction(20), reference="own notebook")


def test_an_own_herb_is_held_beside_the_supplied_and_marked(practice: OpenPractice) -> None:
    before = len(known_herbs(practice).herbs)
    save_own_herb(practice, TESTWORT)
    known = known_herbs(practice)
    assert len(known.herbs) == before + 1
    found = known.herbs["own-1"]
    assert is_own(found)
    assert str(found.actions.origin) == "This practice's own, own notebook"
    assert not any(is_own(one) for one in supplied_materia_medica().herbs.values())
    assert known_herbs(practice) is known, "the same while nothing changed"


def test_what_is_not_entered_is_taken_on_the_careful_side(practice: OpenPractice) -> None:
    save_own_herb(practice, replace(TESTWORT, cautions=()))
    found = known_herbs(practice).herbs["own-1"]
    assert found.pregnancy.level is Level.AVOID
    assert found.lactation.level is Level.AVOID
    assert found.min_age.value == 18
    assert working_range(found, TakenAs.TEA) is None


def test_every_version_of_an_own_herb_is_kept(practice: OpenPractice) -> None:
    save_own_herb(practice, TESTWORT)
    save_own_herb(practice, TESTWORT)
    save_own_herb(practice, replace(TESTWORT, name="Testwort leaf"))
    retire_own_herb(practice, replace(TESTWORT, name="Testwort leaf"))
    names = [(own.name, own.retired) for own in own_herb_history(practice, "own-1")]
    assert names == [("Testwort", False), ("Testwort leaf", False), ("Testwort leaf", True)]
    assert list_own_herbs(practice) == ()
    assert len(list_own_herbs(practice, retired=True)) == 1
    assert "own-1" in known_herbs(practice).herbs, "remedies may still hold it"


def test_a_herb_needs_a_name_and_never_takes_a_supplied_place(practice: OpenPractice) -> None:
    with pytest.raises(OwnHerbError, match="no name"):
        save_own_herb(practice, new_own_herb(" "))
    with pytest.raises(OwnHerbError, match="never changed"):
        save_own_herb(practice, OwnHerb("ginger", "My ginger"))
    assert list_own_herbs(practice) == ()


def test_an_own_range_goes_before_the_published_and_says_so(practice: OpenPractice) -> None:
    published = working_range(supplied_materia_medica().herbs["nettle-leaf"], TakenAs.TEA)
    assert published is not None
    save_own_range(practice, TEA)
    found = working_range(known_herbs(practice).herbs["nettle-leaf"], TakenAs.TEA)
    assert found is not None
    assert [found.low, found.high] == [4, 20]
    assert found.is_own
    assert found.source == "This practice's own, own notebook"
    assert not published.is_own
    same = working_range(supplied_materia_medica().herbs["nettle-leaf"], TakenAs.TEA)
    assert same == published, "what is supplied is as it was"
    drop_own_range(practice, "nettle-leaf", TakenAs.TEA)
    again = working_range(known_herbs(practice).herbs["nettle-leaf"], TakenAs.TEA)
    assert again == published


def test_other_forms_keep_the_published_range(practice: OpenPractice) -> None:
    before = working_range(supplied_materia_medica().herbs["nettle-leaf"], TakenAs.LIQUID)
    save_own_range(practice, TEA)
    known = known_herbs(practice).herbs["nettle-leaf"]
    assert working_range(known, TakenAs.LIQUID) == before


@pytest.mark.parametrize(
    "one",
    [
        replace(TEA, low=Fraction(30)),
        replace(TEA, low=Fraction(-1)),
        replace(TEA, low=Fraction(0), high=Fraction(0)),
        replace(TEA, ratio=Fraction(5)),
        replace(TEA, form=TakenAs.LIQUID),
        replace(TEA, form=TakenAs.LIQUID, ratio=Fraction(0)),
    ],
)
def test_what_is_no_range_is_refused(practice: OpenPractice, one: OwnRange) -> None:
    with pytest.raises(OwnHerbError, match="expected"):
        save_own_range(practice, one)
    assert list_own_ranges(practice) == ()


def test_notes_are_kept_and_taken_away(practice: OpenPractice) -> None:
    save_herb_note(practice, "ginger", "fresh root ")
    assert herb_notes(practice) == {"ginger": "fresh root"}
    save_herb_note(practice, "ginger", "")
    assert herb_notes(practice) == {}


def test_an_update_of_what_is_supplied_never_touches_the_practices_own(tmp_path: Path) -> None:
    """The supplied folder changes: a herb goes, one gets other doses, one takes another name."""
    path, folder = tmp_path / "practice.sennight", tmp_path / "supplied"
    with open_practice(path) as practice:
        save_own_herb(practice, TESTWORT)
        for one in (TEA, replace(TEA, herb="ginger"), replace(TEA, herb="own-1")):
            save_own_range(practice, one)
        for name in ("nettle-leaf", "ginger", "sage", "own-1"):
            save_herb_note(practice, name, f"on {name}")
    changed(folder)
    with open_practice(path) as practice:
        known = known_herbs(practice, supplied=read_materia_medica(folder))
        assert list_own_herbs(practice) == (TESTWORT,)
        assert known.herbs["own-1"].name == "Testwort"
        for name in ("nettle-leaf", "own-1"):
            found = working_range(known.herbs[name], TakenAs.TEA)
            assert found is not None
            assert [found.low, found.high] == [4, 20]
            assert found.is_own
        assert known.herbs["nettle-leaf"].name == "Nettle leaf, renamed"
        assert "ginger" not in known.herbs
        assert len(list_own_ranges(practice, "ginger")) == 1, "it waits for the herb's return"
        assert set(herb_notes(practice)) == {"nettle-leaf", "ginger", "sage", "own-1"}
        back = known_herbs(practice).herbs["ginger"]
        found = working_range(back, TakenAs.TEA)
        assert found is not None
        assert found.is_own


def changed(folder: Path) -> None:
    """A supplied folder of another release."""
    shutil.copytree(own_folder("resources") / "materia_medica", folder)
    (folder / "herbs" / "ginger.toml").unlink()
    nettle = folder / "herbs" / "nettle-leaf.toml"
    text = nettle.read_text("utf-8").replace(
        'name = "Nettle leaf"', 'name = "Nettle leaf, renamed"'
    )
    nettle.write_text(text.replace("max = 12", "max = 13"), encoding="utf-8")


def test_a_supplied_file_cannot_pass_for_the_practices_own(tmp_path: Path) -> None:
    folder = tmp_path / "supplied"
    changed(folder)
    sage = folder / "herbs" / "sage.toml"
    text = sage.read_text("utf-8").replace('id = "sage"', 'id = "own-sage"', 1)
    (folder / "herbs" / "own-sage.toml").write_text(
        text.replace('kind = "official"', 'kind = "own"', 1), encoding="utf-8"
    )
    with pytest.raises(MateriaMedicaError) as raised:
        read_materia_medica(folder)
    assert "begins only the ids of a practice's own herbs" in str(raised.value)
    assert "is kept for what a practice enters itself" in str(raised.value)
