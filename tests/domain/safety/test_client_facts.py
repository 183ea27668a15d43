"""What follows from medicines and conditions as people name them, and what is not checked.

The pairs are those that a clinical review of 27 November 2026 found to be told nothing; each
herb's record names the source of what it says.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client, Fact, Reaction, Topic
from sennight.domain.safety.findings import Severity
from sennight.knowledge.fact_names import fact_of
from support.safety_samples import START, course, day, found, remedy


def client(*medicines: str, conditions: tuple[str, ...] = ()) -> Client:
    """A client whose medicines and conditions were typed."""
    return Client(
        "Una Example",
        conditions=tuple(fact_of(Topic.CONDITIONS, text) for text in conditions),
        medicines=tuple(fact_of(Topic.MEDICINES, text) for text in medicines),
    )


def ids_with(herb: str, who: Client) -> set[str]:
    return set(found(course(remedy(herb), client=who)))


@pytest.mark.parametrize(
    ("herb", "medicine", "finding"),
    [
        ("liquorice", "ramipril 5 mg", "liquorice.hypertension"),
        ("liquorice", "ramipril", "liquorice.antihypertensive"),
        ("liquorice", "spironolactone", "liquorice.diuretic"),
        ("st-johns-wort", "amlodipine", "st-johns-wort.cyp3a4-substrate"),
        ("st-johns-wort", "amiodarone", "st-johns-wort.cyp3a4-substrate"),
        ("st-johns-wort", "gliclazide", "st-johns-wort.cyp2c9-substrate"),
        ("st-johns-wort", "tamoxifen", "st-johns-wort.cyp3a4-substrate"),
        ("st-johns-wort", "apixaban", "st-johns-wort.anticoagulant"),
        ("echinacea", "methotrexate", "echinacea.immunosuppressant"),
        ("black-cohosh", "methotrexate", "black-cohosh.hepatotoxic-medicine"),
        ("valerian", "amitriptyline", "valerian.sedative"),
        ("dandelion-root", "metformin", "dandelion-root.diabetes"),
    ],
)
def test_a_medicine_by_name_meets_what_its_classes_meet(
    herb: str, medicine: str, finding: str
) -> None:
    assert finding in ids_with(herb, client(medicine))
    assert finding not in ids_with(herb, client())


@pytest.mark.parametrize(
    ("herb", "condition", "finding"),
    [
        ("birch-leaf", "heart failure", "birch-leaf.oedema-heart-or-kidney"),
        ("devils-claw", "heart failure", "devils-claw.heart-disease"),
        ("hawthorn", "heart failure", "hawthorn.heart-disease"),
        ("horsetail", "CKD stage 4", "horsetail.oedema-heart-or-kidney"),
        ("liquorice", "high blood pressure", "liquorice.hypertension"),
        ("peppermint", "GORD", "peppermint.gastro-oesophageal-reflux"),
        ("echinacea", "multiple sclerosis", "echinacea.autoimmune-disease"),
    ],
)
def test_a_condition_by_name_meets_what_it_implies(
    herb: str, condition: str, finding: str
) -> None:
    assert finding in ids_with(herb, client(conditions=(condition,)))
    assert finding not in ids_with(herb, client())


def test_what_a_medicine_is_for_is_assumed_until_somebody_says_no() -> None:
    who = client("metformin")
    assert "dandelion-root.diabetes" in ids_with("dandelion-root", who)
    (metformin,) = who.medicines
    answered = replace(who, medicines=(replace(metformin, not_for=("diabetes",)),))
    assert "dandelion-root.diabetes" not in ids_with("dandelion-root", answered)


def test_the_medicines_that_are_meant_are_named() -> None:
    """A class that nobody wrote down says little: which of seven medicines is it?"""
    who = client("apixaban 5 mg", "amlodipine", "paracetamol", conditions=("high blood pressure",))
    ids = found(course(remedy("st-johns-wort"), remedy("liquorice", name="r2"), client=who))
    said = ids["st-johns-wort.cyp3a4-substrate"]
    assert "Because of: apixaban, amlodipine. Leave it out." in said.text
    assert "Because of" not in ids["liquorice.hypertension"].text, "that is recorded itself"


def test_a_medicine_that_ended_is_not_named() -> None:
    who = Client("Una Example", medicines=(Fact("apixaban", until=day(0)), Fact("warfarin")))
    ids = found(course(remedy("st-johns-wort"), client=who))
    assert "Because of: warfarin." in ids["st-johns-wort.anticoagulant"].text


def test_chosen_classes_take_the_place_of_the_records_own() -> None:
    who = Client("Una Example", medicines=(Fact("ramipril", classes=("anticoagulant",)),))
    ids = ids_with("willow-bark", who)
    assert "willow-bark.anticoagulant" in ids
    assert "liquorice.antihypertensive" not in ids_with("liquorice", who)


@pytest.mark.parametrize(
    ("typed", "is_asked"),
    [
        ("ibuprofen", True),
        ("ibuprofen 400 mg", False),
        ("ibuprofen 400 mg tds", False),
        ("ibuprofen 5 %", True),
        ("prednisolone 5 mg", False),
        ("prednisolone 1 drop", True),
    ],
)
def test_a_dose_in_mg_says_that_it_is_swallowed(typed: str, *, is_asked: bool) -> None:
    """Creams, gels and drops are dosed by percent, weight of the cream or drop."""
    ids = ids_with("nettle-leaf", client(typed))
    assert any(finding.startswith("unchecked.") for finding in ids) == is_asked


def test_a_medicine_that_no_record_knows_is_told() -> None:
    who = client("zorblaxin 5 mg")
    finding = found(course(remedy("nettle-leaf"), client=who))["unchecked.zorblaxin"]
    assert finding.severity is Severity.CAUTION
    assert (
        "“zorblaxin 5 mg” is not in the records, so it was not checked: look it up" in finding.text
    )
    assert finding.days[0].first == START
    named = replace(who, medicines=(replace(who.medicines[0], classes=("statin",)),))
    assert "unchecked.zorblaxin" not in ids_with("nettle-leaf", named)


def test_a_medicine_that_ended_is_told_no_more() -> None:
    over = Fact("", until=day(0), name="zorblaxin")
    who = Client("Una Example", medicines=(over,))
    assert not {one for one in ids_with("nettle-leaf", who) if one.startswith("unchecked")}


def test_an_unclear_name_is_asked_about_and_counts_meanwhile() -> None:
    ids = found(course(remedy("willow-bark"), client=client("blood thinner")))
    assert ids["unchecked.blood-thinner"].severity is Severity.NOTE
    assert (
        "anticoagulants or antiplatelet medicines: ask which"
        in ids["unchecked.blood-thinner"].text
    )
    assert "willow-bark.anticoagulant" in ids
    assert "willow-bark.antiplatelet" in ids


def test_a_medicine_on_the_skin_is_none_by_mouth() -> None:
    apart = "hours.oral-medicine-any.marshmallow-root"
    assert apart in ids_with("marshmallow-root", client("diclofenac sodium"))
    assert apart in ids_with("marshmallow-root", client("zorblaxin"))
    assert apart not in ids_with("marshmallow-root", client("diclofenac gel"))


@pytest.mark.parametrize("text", ["St. Elsewhere's remedy", "???", "σίδηρος"])
def test_any_words_make_an_id(text: str) -> None:
    who = Client("Una Example", conditions=(fact_of(Topic.CONDITIONS, text),))
    (finding,) = [
        one
        for one in found(course(remedy("nettle-leaf"), client=who)).values()
        if one.id.startswith("unchecked.")
    ]
    assert finding.id.removeprefix("unchecked.")
    assert text in finding.text


_SEVERITIES = tuple(Severity)
_TYPED = (
    "ramipril",
    "apixaban 5 mg",
    "blood thinner",
    "sertraline",
    "metformin",
    "water tablets",
    "diclofenac gel",
    "digoxin",
    "methotrexate",
    "the pill",
    "zorblaxin",
)


@settings(max_examples=20)
@given(
    st.lists(st.sampled_from(_TYPED), max_size=3, unique=True),
    st.sampled_from(_TYPED),
    st.sampled_from(("high blood pressure", "heart failure", "hepatitis", "GORD", "pregnant")),
)
def test_one_more_fact_takes_no_finding_away_and_makes_none_milder(
    medicines: list[str], more: str, condition: str
) -> None:
    made = course(remedy("liquorice", "willow-bark"), remedy("st-johns-wort", name="r2"))
    before = found(replace(made, client=client(*medicines)))
    for added in (client(*medicines, more), client(*medicines, conditions=(condition,))):
        after = found(replace(made, client=added))
        assert set(before) <= set(after)
        for key, finding in before.items():
            graver = _SEVERITIES.index(after[key].severity)
            assert graver <= _SEVERITIES.index(finding.severity), key


def test_what_nobody_asked_about_is_known() -> None:
    nobody = Client("Una Example")
    assert nobody.unasked == tuple(Topic)
    reacted = Reaction(START, "Tea", ("ginger",), "a rash")
    told = replace(
        nobody,
        medicines=(Fact("warfarin"),),
        reactions=(reacted,),
        asked=(Topic.ALLERGIES, Topic.MEDICINES),
    )
    assert told.unasked == (Topic.CONDITIONS,)
