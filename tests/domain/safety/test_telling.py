"""How findings are told: a pair of a herb and a fact once, one line a theme, no avoid lost."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Portion, Remedy
from sennight.domain.safety.check import findings
from sennight.domain.safety.finding_rules import HerbWithFact
from sennight.domain.safety.findings import GRAVEST, Severity
from sennight.domain.safety.for_client import Place
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.telling import told
from sennight.domain.safety.wording import WordedFinding
from sennight.domain.safety.wording_findings import word_lines
from sennight.knowledge.fact_names import fact_written
from support.safety_samples import MATERIA_MEDICA, RULES, course, day, found, remedy, with_facts
from support.samples import START


def lines(made: Course) -> tuple[WordedFinding, ...]:
    """The lines of a course, in words."""
    every = findings(lay_out(made), MATERIA_MEDICA, RULES)
    return word_lines(told(every, RULES), Names(made, MATERIA_MEDICA, RULES))


def typed(*medicines: str) -> Client:
    return Client(
        "Una Example",
        medicines=tuple(fact_written(Topic.MEDICINES, medicine) for medicine in medicines),
    )


def line_with(made: Course, finding: str) -> WordedFinding:
    (line,) = (line for line in lines(made) if finding in line.ids)
    return line


def test_herbs_of_one_theme_are_one_line() -> None:
    herbs = ("turmeric", "ginger", "nettle-leaf", "burdock-root", "sage")
    line = line_with(course(remedy(*herbs), client=typed("metformin")), "ginger.antidiabetic")
    assert line.text == (
        "Five herbs (burdock root, ginger, nettle leaf, sage and turmeric) may change blood "
        "glucose: test more often in weeks 1 to 4. Because of: metformin."
    )
    assert set(line.herbs) == set(herbs)
    assert len(line.reasons) >= len(herbs), "what each text says, beneath"
    assert all(reason.endswith("]") for reason in line.reasons), "each with its source"
    assert line.for_client is not None
    assert line.for_client.place is Place.TESTS
    assert line.id == "; ".join(line.ids)


def test_up_to_three_herbs_are_named_alone() -> None:
    line = line_with(
        course(remedy("ginger", "turmeric"), client=typed("metformin")), "ginger.antidiabetic"
    )
    assert line.text.startswith("Ginger and turmeric may change blood glucose:")


def test_what_is_to_be_avoided_is_a_line_a_herb_and_names_the_medicines() -> None:
    made = course(remedy("liquorice", "willow-bark"), client=typed("ramipril", "apixaban"))
    avoided = [line for line in lines(made) if line.severity is Severity.AVOID]
    assert [line.herbs for line in avoided] == [("liquorice",), ("willow-bark",)]
    assert avoided[0].text.startswith("Liquorice with ramipril")
    assert "Leave it out" in avoided[0].text


def test_an_operation_is_decided_once_for_all_herbs() -> None:
    client = with_facts(Fact("planned-surgery", since=day(20)))
    made = course(remedy("garlic", "ginger", "st-johns-wort"), client=client)
    line = line_with(made, "garlic.planned-surgery")
    assert line.severity is Severity.AVOID
    assert set(line.ids) == {
        f"{herb}.planned-surgery" for herb in ("garlic", "ginger", "st-johns-wort")
    }
    assert line.text.startswith(
        "Garlic, ginger and St John's wort before an operation: stop at least"
    )
    assert len([step for step in line.instead if "last dose before" in step]) == 1
    assert line.for_client is not None
    assert line.for_client.place is Place.OPERATION
    assert line.for_client.day == day(6), "14 days before"


def test_a_pair_told_more_strongly_is_not_told_again_more_weakly() -> None:
    """Willow and apixaban: avoid for bleeding, so neither its trace of this nor hours."""
    made = course(remedy("willow-bark"), client=typed("apixaban"))
    about = [line for line in lines(made) if "apixaban" in line.text]
    assert [line.severity for line in about] == [Severity.AVOID]
    raw = {finding.id for finding in findings(lay_out(made), MATERIA_MEDICA, RULES)}
    assert len([one for one in raw if one.startswith("willow-bark.")]) > 1, "more was found"


def test_it_is_told_on_the_days_that_the_graver_does_not_cover() -> None:
    client = with_facts(Fact("anticoagulant", since=day(8), until=day(14)), Fact("antiplatelet"))
    ids = {name for line in lines(course(remedy("ginger"), client=client)) for name in line.ids}
    assert {"ginger.anticoagulant", "ginger.antiplatelet"} <= ids


def test_what_is_said_of_any_herb_is_left_out_where_more_is_said_of_this_one() -> None:
    made = course(remedy("chamomile", "rosehip"), client=typed("tacrolimus"))
    line = line_with(made, "rosehip.narrow-therapeutic-index")
    assert "chamomile" not in line.herbs
    assert any("chamomile" in other.herbs and "tacrolimus" in other.text for other in lines(made))


def test_hours_of_several_herbs_are_one_line_and_the_longest_stand() -> None:
    client = Client("Una Example", medicines=(Fact("levothyroxine", at=(time(7, 0),)),))
    made = course(remedy("nettle-leaf", "sage", "ginger"), client=client)
    near = [line for line in lines(made) if line.id.startswith("hours.")]
    (line,) = near
    assert line.herbs == ("nettle-leaf", "sage")
    assert line.text.startswith("Keep nettle leaf and sage 4 hours from levothyroxine")
    assert line.heading == "Hours apart"
    assert line.for_client is not None
    assert line.for_client.place is Place.DAY
    assert "take this at least 4 hours before or after your levothyroxine" in line.for_client.text


def test_liquids_with_alcohol_are_one_line() -> None:
    made = course(
        remedy("ginger", form=Form.TINCTURE), client=with_facts("epilepsy", "methotrexate")
    )
    line = line_with(made, "burden.ethanol.epilepsy")
    assert "burden.ethanol.methotrexate" in line.ids
    assert line.text.startswith("Alcohol in r1: with epilepsy")
    assert "Because of:" in line.text


def test_a_fact_without_a_theme_is_one_line_too() -> None:
    client = with_facts("constipation")
    made = course(remedy("agrimony", "oak-bark"), client=client)
    merged = [line for line in lines(made) if line.fact == "constipation"]
    assert len(merged) <= 1


def test_a_finding_alone_is_told_as_it_is() -> None:
    line = line_with(course(remedy("sage"), client=with_facts("epilepsy")), "sage.epilepsy")
    assert line.ids == ("sage.epilepsy",)
    assert not line.reasons
    assert line.source


# What the client is told


@pytest.mark.parametrize(
    ("finding", "client", "take", "place"),
    [
        ("over.black-cohosh", Client("Una Example"), "1 cup tds", Place.USE),
        ("burden.sedatives.3", Client("Una Example"), "1 cup tds", Place.DRIVING),
        ("unchecked.zorblaxin", typed("zorblaxin"), "1 cup tds", Place.MEDICINES),
        ("valerian.depression", with_facts("depression"), "1 cup tds", Place.MOOD),
    ],
)
def test_every_caution_has_a_sentence(
    finding: str, client: Client, take: str, place: Place
) -> None:
    made = course(
        remedy("black-cohosh", "valerian", "hops", "passionflower"), client=client, take=take
    )
    for line in lines(made):
        if line.severity is Severity.NOTE:
            assert line.for_client is None
        else:
            assert line.client_text.endswith("."), line.id
    there = [line for line in lines(made) if finding in line.ids]
    assert not there or there[0].for_client is None or there[0].for_client.place is place


# Nothing grave is lost

_HERBS = ("liquorice", "willow-bark", "st-johns-wort", "nettle-leaf", "valerian", "sage", "senna")
_TYPED = ("ramipril", "apixaban", "metformin", "levothyroxine", "lithium", "zopiclone", "digoxin")


@settings(max_examples=15)
@given(
    st.lists(st.sampled_from(_HERBS), min_size=1, max_size=4, unique=True),
    st.lists(st.sampled_from(_TYPED), max_size=4, unique=True),
)
def test_each_pair_is_told_once_and_as_gravely_as_it_was_found(
    herbs: list[str], medicines: list[str]
) -> None:
    made = course(remedy(*herbs), client=typed(*medicines))
    found = findings(lay_out(made), MATERIA_MEDICA, RULES)
    groups = told(found, RULES)
    shown = [finding for line in groups for finding in line.findings]
    ids = [finding.id for finding in shown]
    assert len(ids) == len(set(ids))
    avoided = {finding.id for finding in found if finding.severity is Severity.AVOID}
    assert avoided <= set(ids)
    assert [GRAVEST.index(line.severity) for line in groups] == sorted(
        GRAVEST.index(line.severity) for line in groups
    )
    of_herbs = [finding for finding in found if isinstance(finding.rule, HerbWithFact)]
    for finding in of_herbs:
        for fact in finding.met:
            same = [
                GRAVEST.index(other.severity)
                for other in shown
                if other.herbs == finding.herbs and fact in other.met
            ]
            assert min(same) <= GRAVEST.index(finding.severity)


def test_a_fact_is_named_once_whatever_tags_it_is_met_under() -> None:
    made = course(remedy("red-clover"), client=with_facts("breast-cancer", "tamoxifen"))
    line = line_with(made, "red-clover.tamoxifen")
    assert "red-clover.oestrogen-sensitive" in line.ids
    assert line.heading.casefold().count("tamoxifen") == 1
    both = course(remedy("sage"), client=with_facts("epilepsy", "lamotrigine", "carbamazepine"))
    heading = line_with(both, "sage.epilepsy").heading
    assert heading.count(" and ") == 1, heading


def test_a_child_is_told_of_the_nearest_age_alone() -> None:
    """Alcohol under 2, not again under 6, 12 and 18; no length that is meant for adults."""
    toddler = Client("Kit Example", born=START.replace(year=START.year - 1))
    ids = found(course(remedy("ginger", form=Form.TINCTURE), client=toddler))
    alcohol = [finding for finding in ids if finding.startswith("burden.ethanol.under")]
    assert alcohol == ["burden.ethanol.under-2"]
    child = replace(toddler, born=START.replace(year=START.year - 8))
    text = found(course(remedy("fennel"), client=child))["length.fennel.max-course"].text
    assert "children" in text
    assert "adults" not in text
    grown = replace(toddler, born=START.replace(year=START.year - 30))
    text = found(course(remedy("fennel"), client=grown))["length.fennel.max-course"].text
    assert "adults" in text


def test_alcohol_with_one_medicine_is_told_at_its_gravest() -> None:
    """Disulfiram reacts with any alcohol; that it may also harm the liver adds nothing."""
    ids = found(course(remedy("ginger", form=Form.TINCTURE), client=with_facts("disulfiram")))
    alcohol = {finding: told.severity for finding, told in ids.items() if "ethanol" in finding}
    assert alcohol["burden.ethanol.disulfiram"] is Severity.AVOID
    assert "burden.ethanol.hepatotoxic-medicine" not in alcohol


def test_small_amounts_are_told_in_mg() -> None:
    """Black cohosh extract: 6.5 mg in a dose; hundredths of a gram would hide it."""
    extract = Ingredient("black-cohosh", mg=Fraction(20), filling=Filling.EXTRACT)
    capsule = Remedy("r1", "r1", Form.CAPSULE, (extract,))
    text = found(course(capsule, take="2 capsule od"))["over.black-cohosh"].text
    assert "up to 40 mg a day" in text
    assert "(6.5 mg)" in text


def test_a_herb_is_left_out_after_an_operation_whose_last_day_is_recorded() -> None:
    day_of = START + timedelta(days=20)
    planned = Fact("planned-surgery", since=day_of, until=day_of)
    made = course(remedy("nettle-leaf"), client=with_facts(planned))
    told = found(made)["nettle-leaf.planned-surgery"]
    assert (told.first, told.last) == (day_of - timedelta(days=14), day_of + timedelta(days=7))


def test_minerals_are_kept_as_long_from_levothyroxine_as_any_text_says() -> None:
    """At least 4 hours from calcium, magnesium and antacids (reference page on levothyroxine)."""
    minerals = tuple(Ingredient(mineral, mg=Fraction(10)) for mineral in ("calcium", "zinc"))
    powder = Remedy("r1", "r1", Form.PRODUCT, minerals, mg_in=Portion(Fraction(1), Unit.SCOOP))
    who = typed("levothyroxine 100 mcg 07:00")
    line = line_with(course(powder, client=who, take="1 scoop od"), "hours.levothyroxine.calcium")
    assert line.text.startswith("Keep calcium and zinc 4 hours from levothyroxine")


def test_supplements_are_not_called_herbs() -> None:
    held = ("glucosamine", "chondroitin", "bromelain", "fish-oil")
    joints = Remedy("r1", "r1", Form.PRODUCT, tuple(Ingredient(h, mg=Fraction(9)) for h in held))
    made = course(joints, client=typed("warfarin"), take="1 piece od")
    assert line_with(made, "glucosamine.anticoagulant").text.startswith("Four supplements (")
    mixed = replace(
        joints, ingredients=(*joints.ingredients[:3], Ingredient("ginger", mg=Fraction(9)))
    )
    line = line_with(
        course(mixed, client=typed("warfarin"), take="1 piece od"), "ginger.anticoagulant"
    )
    assert line.text.startswith("Four herbs and supplements (")


def test_breast_feeding_is_not_told_of_as_pregnancy() -> None:
    vervain = course(remedy("vervain"), client=with_facts("lactation"))
    told = line_with(vervain, "vervain.lactation").client_text
    assert "if your baby feeds badly" in told
    assert "bleeding" not in told
    sage = course(remedy("sage"), client=with_facts("lactation"))
    assert "if your baby feeds badly" in line_with(sage, "sage.lactation").client_text
    expecting = course(remedy("sage"), client=with_facts("pregnancy"))
    assert "bleeding or pain" in line_with(expecting, "sage.pregnancy").client_text
