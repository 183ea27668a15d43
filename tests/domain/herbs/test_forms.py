"""Forms that a record speaks against, the most a day, and applications of a rub."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.herbs.doses import Preparation, TakenAs
from sennight.domain.herbs.forms import forbidden_forms, most_a_day, most_applications, texts_on
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.ranges import form_recorded
from sennight.practice.materia_medica import supplied_materia_medica
from support.herb_samples import herb, row

HERBS = supplied_materia_medica().herbs


def test_raw_horse_chestnut_is_poisonous_as_tea_and_powder() -> None:
    found = forbidden_forms(HERBS["horse-chestnut"])
    assert set(found) == {TakenAs.TEA, TakenAs.POWDER}
    assert found[TakenAs.TEA].level is Level.CONTRAINDICATED
    assert "poisonous" in found[TakenAs.TEA].text


@pytest.mark.parametrize("name", ["arnica", "comfrey", "tea-tree"])
def test_a_herb_for_the_skin_is_not_taken_in_any_form(name: str) -> None:
    assert set(forbidden_forms(HERBS[name])) == set(TakenAs)


def test_no_form_is_forbidden_that_the_record_gives_a_dose_for() -> None:
    for one in HERBS.values():
        for form, said in forbidden_forms(one).items():
            assert said.text
            if said.level is Level.CONTRAINDICATED:
                rows = [row for row in one.doses if row.daily and not row.doubted]
                assert not rows or not form_recorded(one, form) or one.narrow, one.id


@pytest.mark.parametrize(
    ("daily", "narrow", "most"),
    [("2-4 g", False, "4"), ("4 g", False, "6"), ("4 g", True, "4"), ("0-12 g", False, "12")],
)
def test_the_most_a_day(daily: str, most: str, *, narrow: bool) -> None:
    one = replace(herb("x", row("infusion", daily)), narrow=narrow)
    assert most_a_day(one, TakenAs.TEA) == Fraction(most)
    assert most_a_day(one, TakenAs.POWDER) is None


def test_cayenne_cream_is_rubbed_in_at_most_four_times_a_day() -> None:
    """NHS hospital leaflet on capsaicin cream (2023): 3 to 4 times a day."""
    assert most_applications(HERBS["cayenne"]) == 4
    assert most_applications(HERBS["ginger"]) is None


def test_records_with_a_narrow_margin() -> None:
    narrow = {one.id for one in HERBS.values() if one.narrow}
    assert {"lobelia", "poke-root", "greater-celandine", "mistletoe", "kava"} <= narrow
    assert "nettle-leaf" not in narrow


def test_what_texts_say_of_a_herb_on_the_skin() -> None:
    """Commission E on comfrey: 5 to 20 % of the herb in an ointment."""
    ointment = (Preparation.OINTMENT, Preparation.CREAM)
    notes = [row.note for row in texts_on(HERBS["comfrey"], ointment)]
    assert any("5 to 20 % of the herb" in note for note in notes)
    assert texts_on(HERBS["comfrey"], ()) == ()
