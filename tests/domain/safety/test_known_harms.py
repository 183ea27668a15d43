"""What once passed without a word and could have hurt somebody: each now has its finding.

Pairs and figures are those of the records and rules, with their sources there.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import exposures
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.safety.check import findings
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rules import RedFlag
from sennight.domain.safety.wording import WordedFinding
from support.safety_samples import MATERIA_MEDICA, RULES, course, found, remedy, with_facts
from support.samples import line, phase


def grave(every: dict[str, WordedFinding], herb: str) -> list[str]:
    """What is to be avoided, or to be careful with, about a herb."""
    return [name for name, one in every.items() if herb in one.herbs and one.severity != "note"]


def tincture(name: str, herb: str, ratio: str, ethanol: str = "60") -> Remedy:
    part = Ingredient(herb, Fraction(1), Fraction(ratio), Fraction(ethanol))
    return Remedy(name, name, Form.TINCTURE, (part,))


def test_a_flare_up_plan_that_no_flare_has_called_is_checked() -> None:
    """Willow four times a day in a plan for a client on an anticoagulant, printed as checked."""
    base, plan = remedy("rosehip"), remedy("willow-bark", form=Form.TINCTURE, name="r2")
    made = course(base, plan, client=with_facts("anticoagulant"))
    phases = (
        phase("only", "8 w", line("r1", "1 cup od")),
        phase("rescue", "2 w", line("r2", "10 mL qds")),
    )
    one = found(replace(made, protocol=Protocol("T", phases)))["willow-bark.anticoagulant"]
    assert (one.severity, one.remedies) == ("avoid", ("r2",))
    assert one.days[0].days == 56, "it may begin on any day of the course"


@pytest.mark.parametrize(
    ("medicine", "herb"),
    [
        ("ramipril", "liquorice"),
        ("spironolactone", "liquorice"),
        ("amlodipine", "st-johns-wort"),
        ("tamoxifen", "st-johns-wort"),
        ("amiodarone", "st-johns-wort"),
        ("gliclazide", "st-johns-wort"),
        ("apixaban", "willow-bark"),
        ("methotrexate", "echinacea"),
        ("prednisolone", "echinacea"),
        ("lithium", "birch-leaf"),
        ("lithium", "dandelion-root"),
    ],
)
def test_a_medicine_by_its_name_is_met_by_what_is_said_of_its_class(
    medicine: str, herb: str
) -> None:
    """Recorded by name or by its own class, it once counted as no medicine at all."""
    client = Client("Una Example", medicines=(Fact(medicine),))
    assert grave(found(course(remedy(herb), client=client)), herb)


@pytest.mark.parametrize(
    ("condition", "herb"),
    [
        ("heart-failure", "birch-leaf"),
        ("heart-failure", "juniper"),
        ("renal-impairment", "horsetail"),
        ("heart-failure", "hawthorn"),
        ("epilepsy", "sage"),
    ],
)
def test_a_condition_brings_those_that_follow_from_it(condition: str, herb: str) -> None:
    assert grave(found(course(remedy(herb), client=with_facts(condition))), herb)


def test_ten_times_a_published_amount_is_to_be_avoided() -> None:
    """Black cohosh at 6 g against 0.6 g, and ginger added up over three remedies."""
    ten = course(tincture("t", "black-cohosh", "5"), take="10 mL tds")
    assert found(ten)["over.black-cohosh"].severity == "avoid"
    pieces = [
        Remedy(
            name,
            name,
            Form.CAPSULE,
            (Ingredient("ginger", mg=Fraction(1500), filling=Filling.POWDER),),
        )
        for name in ("a", "b", "c")
    ]
    assert "over.ginger" not in found(course(pieces[0], take="1 capsule bd"))
    assert found(course(*pieces, take="1 capsule bd"))["over.ginger"].remedies == ("a", "b", "c")


@pytest.mark.parametrize("form", [Form.TEA, Form.CAPSULE])
def test_a_form_that_is_poisonous_is_to_be_avoided(form: Form) -> None:
    """Horse chestnut as a tea or as raw powder."""
    made = course(remedy("horse-chestnut", form=form, amount="3"))
    assert found(made)["form.horse-chestnut"].severity == "avoid"


@pytest.mark.parametrize(
    ("herb", "ratio", "take", "bands"),
    [
        ("echinacea", "5", "5 mL tds", {Band.LOW, Band.MIDDLE, Band.HIGH, Band.UNKNOWN}),
        ("birch-leaf", "5", "2 mL tds", {Band.LOW, Band.MIDDLE, Band.HIGH, Band.UNKNOWN}),
        ("dandelion-leaf", "5", "5 mL tds", {Band.LOW, Band.MIDDLE, Band.HIGH, Band.UNKNOWN}),
        ("marshmallow-root", "5", "5 mL tds", {Band.LOW, Band.MIDDLE, Band.HIGH, Band.UNKNOWN}),
        ("turmeric", "3", "2 mL tds", {Band.LOW, Band.MIDDLE, Band.HIGH}),
    ],
)
def test_an_ordinary_tincture_is_neither_far_below_nor_over(
    herb: str, ratio: str, take: str, bands: set[Band]
) -> None:
    """Fresh juice was read as dried herb, and ranges carried over from other ratios."""
    (row,) = exposures(lay_out(course(tincture("t", herb, ratio), take=take)), MATERIA_MEDICA)
    assert row.band in bands


@pytest.mark.parametrize("flag", RULES.flags, ids=lambda flag: flag.id)
def test_every_red_flag_that_stands_is_a_finding_to_avoid(flag: RedFlag) -> None:
    """Cauda equina ticked today did not stop the course; half the signs could never be met."""
    made = course(remedy("rosehip"))
    standing = RedFlagCheck(made.start, (flag.id,))
    every = findings(lay_out(made), MATERIA_MEDICA, RULES, standing)
    assert [one.severity for one in every if one.id.startswith("flag.")] == ["avoid"]


def test_ethanol_that_is_taken_at_one_time_is_added() -> None:
    """Two tinctures of 60 % at bedtime, 10 mL each, for 70 kg: 135 mg for each kg, not 68."""
    client = Client("Una Example", weight_kg=Fraction(70))
    two = (tincture("a", "rosehip", "5"), tincture("b", "nettle-leaf", "5"))
    one = found(course(*two, client=client, take="10 mL at bedtime"))
    (said,) = [f.text for name, f in one.items() if name == "burden.ethanol.75"]
    assert "135 mg" in said
    assert one["burden.ethanol.75"].severity == "caution"


@pytest.mark.parametrize(("grams", "severity"), [("5", "caution"), ("18", "avoid")])
def test_glycyrrhizin_is_judged_from_a_hundred_milligrams_on(grams: str, severity: str) -> None:
    """40 mg in 1 g (Commission E, read): 15 g, 600 mg a day, once were one note."""
    made = course(remedy("liquorice", amount=str(Fraction(grams) / 3)), take="1 cup tds")
    burdens = [one for name, one in found(made).items() if name.startswith("burden.glycyrrhizin")]
    assert [str(one.severity) for one in burdens] == [severity]


def test_salicin_above_what_trials_used_is_a_caution() -> None:
    """15 to 110 mg in 1 g: 6 g of bark may hold 660 mg, against 240 in trials (read)."""
    made = course(remedy("willow-bark", amount="2"), take="1 cup tds")
    assert found(made)["burden.salicylates.240"].severity == "caution"


@pytest.mark.parametrize("medicine", ["anticoagulant", "nsaid", "ssri", "methotrexate"])
def test_hours_apart_are_no_help_where_herb_and_medicine_act_alike(medicine: str) -> None:
    """“2 hours apart” once stood beside “not together” and invited the combination."""
    every = found(course(remedy("willow-bark"), client=with_facts(medicine)))
    assert grave(every, "willow-bark")
    assert not [name for name in every if name.startswith("hours.")]


def test_hours_apart_are_said_to_the_client_too() -> None:
    client = Client("Una Example", medicines=(Fact("iron", at=()),))
    every = found(course(remedy("meadowsweet"), client=client))
    (one,) = [found_ for name, found_ in every.items() if name.startswith("hours.iron")]
    assert "take this at least 2 hours before or after your iron" in one.client_text


def test_an_allergy_to_one_herb_is_about_that_herb_alone() -> None:
    """Recorded as “allergy to the herb itself”, it met every herb but no one in particular."""
    client = Client("Una Example", allergies=(Fact("fennel"),))
    every = found(course(remedy("fennel"), remedy("sage", name="r2"), client=client))
    met = [one for one in every.values() if one.severity == "avoid"]
    assert [one.herbs for one in met] == [("fennel",)]
