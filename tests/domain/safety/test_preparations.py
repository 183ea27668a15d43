"""Sugar for people with diabetes, essential oils in percent, and joints that lie deep."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Remedy
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.wording import WordedFinding, heading_of_id
from support.safety_samples import MATERIA_MEDICA, RULES, course, found, remedy

F = Fraction
DIABETIC = Client("Una", conditions=(Fact("diabetes"),))


def syrup(parts: str = "3", sugar: int = 85, name: str = "r1") -> Remedy:
    herb = Ingredient("thyme", F(1), F(2), F(25))
    return Remedy(name, name, Form.SYRUP, (herb,), base=Base("syrup", F(parts), F(sugar)))


def cream(drops: int) -> Remedy:
    oil = Ingredient("thyme", filling=Filling.ESSENTIAL_OIL, drops=F(drops))
    return Remedy("r1", "r1", Form.CREAM, (oil,), batch_g=F(30))


def with_site(made: Remedy, site: str, client: Client | None = None) -> dict[str, WordedFinding]:
    plan = course(made, client=client)
    (phase,) = plan.protocol.phases
    lines = tuple(replace(line, site=site) for line in phase.lines)
    phases = (replace(phase, lines=lines),)
    return found(replace(plan, protocol=replace(plan.protocol, phases=phases)))


def test_sugar_a_dose_and_a_day_for_diabetes() -> None:
    """5 mL three times a day of 3 parts in 4 syrup of 85 g in 100 mL: 3.19 g, 9.56 g a day.
    Labels tell of it from 5 g (EMA, annex on excipients, sucrose, from memory)."""
    told = found(course(syrup(), client=DIABETIC))["burden.sugar.diabetes"]
    assert told.severity == "caution"
    assert "up to 3.2 g of sugar in one dose and 9.6 g a day" in told.text
    assert "count the sugar" in told.client_text
    more = found(course(syrup(), client=DIABETIC, take="5-10 mL tds"))["burden.sugar.diabetes"]
    assert "up to 6.4 g of sugar in one dose and 19.1 g a day" in more.text


@pytest.mark.parametrize(
    ("made", "severity"),
    [
        (syrup("1", 20), "note"),  # 1.5 g a day
        (replace(syrup(), base=None), "caution"),  # not known
        (syrup("0", 60), "caution"),  # of no parts, so not known either
        (syrup("0", 0), None),
        (syrup(sugar=0), None),
        (remedy("thyme"), None),
    ],
)
def test_little_sugar_is_a_note_and_none_is_nothing(made: Remedy, severity: str | None) -> None:
    told = found(course(made, client=DIABETIC)).get("burden.sugar.diabetes")
    assert (told and told.severity) == severity
    assert "burden.sugar.diabetes" not in found(course(made))


def test_sugar_of_two_syrups_of_which_one_is_not_known() -> None:
    both = course(syrup("1", 20), replace(syrup(name="r2"), base=None), client=DIABETIC)
    told = found(both)["burden.sugar.diabetes"]
    assert (told.severity, told.remedies) == ("caution", ("r1", "r2"))


@pytest.mark.parametrize(
    ("drops", "site", "severity"),
    [
        (18, "knee", None),  # 3 %
        (19, "knee", "caution"),
        (60, "knee", "caution"),
        (6, "face", None),  # 1 %
        (7, "face", "caution"),
    ],
)
def test_essential_oils_have_a_ceiling(drops: int, site: str, severity: str | None) -> None:
    """1 to 3 % for adults, 1 % for the face (common practice)."""
    told = with_site(cream(drops), site).get("over.essential-oil.r1")
    assert (told and told.severity) == severity


def test_for_a_child_the_lower_ceiling_holds() -> None:
    child = Client("Ivo", born=date(2020, 1, 1))
    told = with_site(cream(8), "knee", child)["over.essential-oil.r1"]
    assert "for the face and for children" in told.text


def test_oils_of_which_the_drops_go_into_nothing_are_not_judged() -> None:
    assert "over.essential-oil.r1" not in with_site(replace(cream(90), batch_g=None), "knee")
    unused = course(remedy("thyme", name="r2"))
    assert not any(
        "essential" in key
        for key in found(replace(unused, remedies=(*unused.remedies, cream(90))))
    )


def test_over_a_deep_joint_little_gets_through() -> None:
    told = with_site(cream(2), "left hip and knee")["site.r1"]
    assert told.severity == "note"
    assert told.text.startswith("hip: the joint lies deep")
    assert "site.r1" not in with_site(cream(2), "knee")
    assert "site.r1" not in with_site(remedy("thyme"), "left hip")


def test_steam_is_not_for_a_young_child() -> None:
    """NHS and British Burn Association, warning of November 2025: bowls of hot water scald
    children above all. The age is common practice."""
    bowl = replace(remedy("thyme"), form=Form.STEAM)
    child = Client("Ivo", born=date(2020, 1, 1))
    told = found(course(bowl, client=child, take="1 application bd"))["steam.r1"]
    assert (told.severity, told.remedies) == ("avoid", ("r1",))
    assert "tips over and scalds" in told.text
    assert "only as we agreed; an adult pours the water" in told.client_text
    for client in (Client("Una"), replace(child, born=date(2010, 1, 1))):
        assert "steam.r1" not in found(course(bowl, client=client, take="1 application bd"))
    assert "steam.r1" not in found(course(remedy("thyme"), client=child))


def test_the_ids_have_headings() -> None:
    names = Names(course(cream(2)), MATERIA_MEDICA, RULES)
    for finding in ("burden.sugar.diabetes", "over.essential-oil.r1", "site.r1", "steam.r1"):
        assert heading_of_id(finding, names) != finding


def test_a_bought_in_product_is_checked_by_its_contents() -> None:
    """Glucosamine with an allergy to shellfish, fish oil with anticoagulants, and zinc over 25 mg
    a day (SCF, from memory)."""
    contents = (
        Ingredient("glucosamine", mg=F(750), filling=Filling.SUBSTANCE),
        Ingredient("fish-oil", mg=F(500), filling=Filling.SUBSTANCE),
        Ingredient("zinc", mg=F(15), filling=Filling.SUBSTANCE),
        Ingredient("turmeric", mg=F(50), filling=Filling.POWDER),
    )
    product = Remedy("r1", "r1", Form.PRODUCT, contents)
    client = Client("Una", medicines=(Fact("warfarin"),), allergies=(Fact("shellfish-allergy"),))
    told = found(course(product, client=client, take="1 piece bd"))
    assert told["glucosamine.shellfish-allergy"].severity == "avoid"
    assert told["fish-oil.anticoagulant"].severity == "caution"
    assert "as a substance by itself" in told["over.zinc"].text
    assert "over.glucosamine" not in told
