"""What follows from a medicine, a class, a condition, or a name that is not clear."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.client_facts.conditions import Condition, UnclearName
from sennight.domain.client_facts.medicines import (
    Medicine,
    MedicineClass,
    MedicineKind,
    Origin,
    Property,
    Systemic,
    UsedFor,
)
from sennight.domain.client_facts.records import NOTHING, ORAL_MEDICINE, FactRecords

HERE = Origin("made up for these tests", "memory")
FIBRILLATION = UsedFor("atrial-fibrillation", usual=False)


def medicine_class(tag: str, *parents: str, effects: tuple[str, ...] = ()) -> MedicineClass:
    return MedicineClass(
        id=tag,
        label=tag.replace("-", " "),
        names=(),
        parents=parents,
        effects=effects,
        handling=(),
        hours_apart=None,
        used_for=(FIBRILLATION,) if tag == "anticoagulant" else (),
        by_mouth=tag == "anticoagulant",
        group="",
        definition="",
        origin=HERE,
    )


def condition(tag: str, *implies: str, perhaps: tuple[str, ...] = ()) -> Condition:
    return Condition(tag, tag.replace("-", " "), (), implies, perhaps, "", "", HERE)


WARFARIN = Medicine(
    id="warfarin",
    names=("warfarin", "warfarin sodium"),
    kind=MedicineKind.MEDICINE,
    classes=("anticoagulant", "antithrombotic"),
    not_held=("fluid-retaining",),
    effects=("slows-clotting", "swells"),
    handling=("cleared-by-liver",),
    hours_apart=None,
    used_for=(FIBRILLATION,),
    routes=("oral",),
    systemic=Systemic.YES,
    contains=(),
    tier=1,
    note="",
    names_from=("memory",),
    classes_from="memory",
    origin=HERE,
)
RECORDS = FactRecords(
    medicines={
        "warfarin": WARFARIN,
        "patch": replace(WARFARIN, id="patch", names=("patch",), routes=("transdermal",)),
    },
    classes={
        "anticoagulant": medicine_class("anticoagulant", "antithrombotic", effects=("swells",)),
        "antithrombotic": medicine_class("antithrombotic"),
        "antiplatelet": medicine_class("antiplatelet", "antithrombotic"),
    },
    properties={
        "slows-clotting": Property("slows-clotting", "", brings="bleeding-risk"),
        "swells": Property("swells", "", brings="fluid-retaining"),
        "cleared-by-liver": Property("cleared-by-liver", "", brings=""),
    },
    conditions={
        "cirrhosis": condition("cirrhosis", "liver-disease", perhaps=("varices", "liver-disease")),
        "liver-disease": condition("liver-disease", perhaps=("itching",)),
        "varices": condition("varices"),
    },
    unclear_medicines={
        "blood-thinner?": UnclearName(
            "blood thinner", ("anticoagulant", "antiplatelet"), ("anticoagulant", "antiplatelet")
        )
    },
    unclear_conditions={"liver?": UnclearName("liver", ("cirrhosis",), ("liver-disease",))},
)


def test_a_medicine_brings_its_classes_and_those_above_and_what_its_properties_bring() -> None:
    meaning = RECORDS.medicine_meaning("warfarin")
    assert meaning.tags == ("anticoagulant", "antithrombotic", "bleeding-risk", ORAL_MEDICINE)
    assert meaning.effects == {"slows-clotting", "swells"}
    assert meaning.handling == {"cleared-by-liver"}
    assert meaning.used_for == (FIBRILLATION,)


def test_what_does_not_hold_of_a_medicine_is_left_out_though_an_effect_brings_it() -> None:
    assert "fluid-retaining" not in RECORDS.medicine_meaning("warfarin").tags
    assert "fluid-retaining" in RECORDS.medicine_meaning("anticoagulant").tags


def test_a_medicine_that_is_not_swallowed_is_no_oral_one() -> None:
    assert ORAL_MEDICINE not in RECORDS.medicine_meaning("patch").tags


def test_a_class_brings_what_its_record_says() -> None:
    meaning = RECORDS.medicine_meaning("anticoagulant")
    assert meaning.tags == ("anticoagulant", "fluid-retaining", ORAL_MEDICINE, "antithrombotic")
    assert meaning.used_for == (FIBRILLATION,)
    assert RECORDS.medicine_meaning("antiplatelet").tags == ("antiplatelet", "antithrombotic")


def test_classes_that_the_practitioner_chose_stand_in_place_of_the_record() -> None:
    chosen = RECORDS.medicine_meaning("warfarin", ("antiplatelet", "of-my-own"))
    assert chosen.tags == ("antiplatelet", "of-my-own", ORAL_MEDICINE, "antithrombotic")
    assert chosen.effects == frozenset()
    assert ORAL_MEDICINE not in RECORDS.medicine_meaning("patch", ("antiplatelet",)).tags


def test_of_an_unclear_name_all_may_hold() -> None:
    meaning = RECORDS.medicine_meaning("blood-thinner?")
    assert set(meaning.tags) == {
        "anticoagulant",
        "antiplatelet",
        "antithrombotic",
        "fluid-retaining",
        ORAL_MEDICINE,
    }
    assert meaning.effects == {"swells"}
    assert meaning.either == ("anticoagulant", "antiplatelet")
    assert RECORDS.condition_meaning("liver?").tags == ("liver-disease",)


def test_a_condition_brings_what_it_implies_and_asks_what_does_not_hold_already() -> None:
    meaning = RECORDS.condition_meaning("cirrhosis")
    assert meaning.tags == ("cirrhosis", "liver-disease")
    assert meaning.perhaps == ("varices", "itching")


def test_nothing_follows_from_what_is_not_recorded() -> None:
    assert RECORDS.medicine_meaning("nothing-known") == NOTHING
    assert RECORDS.condition_meaning("nothing-known") == NOTHING


def test_each_record_is_told_by_its_label_and_kind() -> None:
    assert RECORDS.label("warfarin") == "warfarin"
    assert RECORDS.label("liver-disease") == "liver disease"
    assert RECORDS.label("blood-thinner?") == RECORDS.label(unclear_id()) == "blood thinner"
    assert RECORDS.label("nothing-known") is None
    medicines = ["warfarin", "antiplatelet", "blood-thinner?"]
    conditions = ["varices", "liver?"]
    assert all(map(RECORDS.is_medicine, medicines))
    assert all(map(RECORDS.is_condition, conditions))
    assert not any(map(RECORDS.is_medicine, conditions))
    assert not any(map(RECORDS.is_condition, medicines))


def unclear_id() -> str:
    return RECORDS.unclear_medicines["blood-thinner?"].id
