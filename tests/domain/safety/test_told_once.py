"""What is found for the course and again for its flare-up plan is told once, the graver way."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from fractions import Fraction

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.herbs.herbs import Level
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.check import findings
from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.domain.safety.rules import LimitRule
from sennight.domain.safety.wording import heading_of_id
from sennight.domain.safety.wording_findings import word_findings
from support.safety_samples import MATERIA_MEDICA, RULES, course, found, remedy, with_facts
from support.samples import line, phase


def with_flare() -> Course:
    """Much of everything each day, and more of it in a flare-up."""
    remedies = (
        remedy("willow-bark", "valerian", "hops", "nettle-leaf", amount="8"),
        remedy("ginger", form=Form.TINCTURE, name="r2"),
        remedy("ginger", form=Form.CAPSULE, name="r3", amount="2000"),
        remedy("cayenne", name="r4"),
        remedy("willow-bark", "passionflower", form=Form.TINCTURE, name="x1"),
        remedy("ginger", form=Form.CAPSULE, name="x2", amount="2000"),
        remedy("myrrh", "nettle-leaf", "california-poppy", name="x3"),
    )
    base = phase(
        "base",
        "4 w",
        line("r1", "1 cup bd"),
        line("r2", "20 mL at 08:00"),
        line("r3", "2 capsule od"),
        line("r4", "1 cup od"),
    )
    rescue = phase(
        "rescue",
        "1 w",
        line("x1", "10 mL at 08:10"),
        line("x2", "1 capsule od"),
        line("x3", "1 cup bd"),
    )
    client = replace(with_facts(Fact("iron", at=(time(8),))), weight_kg=Fraction(70))
    made = course(*remedies, client=client)
    return replace(made, protocol=Protocol("T", (base, rescue)))


def test_of_two_amounts_the_greater_is_told() -> None:
    ids = found(with_flare())
    once = {
        "burden.salicylates.240": "may contain up to",
        "burden.ethanol.75": "give up to",
        "over.ginger": "the published maximum",
    }
    for key, words in once.items():
        assert ids[key].text.count(words) == 1, key
    assert "flare-up plan" not in ids["burden.ethanol.75"].text, "it holds without the plan too"
    assert "flare-up plan" in ids["over.ginger"].text, "it is so grave in the plan alone"
    assert (
        "r2 and x1 taken within a quarter of an hour give up to 152 mg"
        in ids["burden.ethanol.75"].text
    )


def test_herbs_and_doses_of_both_are_told_together() -> None:
    ids = found(with_flare())
    assert {"cayenne", "myrrh"} <= set(ids["form.unrecorded"].herbs)
    assert ids["form.unrecorded"].text.count("No dose is recorded for") == 1
    assert ids["burden.sedatives.3"].text.count("calming effects add up") == 1
    near = ids["hours.iron.nettle-leaf"].text
    assert near.count("2 hours from iron") == 1
    assert "r1 is taken" in near
    assert "x3 is taken" in near


def test_two_plans_are_both_named() -> None:
    tea, drops = remedy("rosehip"), remedy("willow-bark", form=Form.TINCTURE, name="drops")
    plans = [phase("rescue", "1 w", line("drops", f"{ml} mL od")) for ml in (1, 2)]
    plans = [replace(plan, id=name) for plan, name in zip(plans, ("a", "b"), strict=True)]
    rescues = [replace(plan, purpose="rescue") for plan in plans]
    base = phase("base", "4 w", line("r1", "1 cup od"))
    made = replace(
        course(tea, drops, client=with_facts("gout")), protocol=Protocol("T", (base, *rescues))
    )
    text = found(made)["willow-bark.gout"].text
    assert "flare-up plan “A” and the flare-up plan “B”, which may start on any day" in text


def test_ethanol_is_not_there_between_two_phases_that_have_it() -> None:
    drops, tea = remedy("ginger", form=Form.TINCTURE), remedy("rosehip", name="r2")
    phases = [
        phase("a", "1 w", line("r1", "20 mL od")),
        phase("b", "1 w", line("r2", "1 cup od")),
        phase("c", "1 w", line("r1", "20 mL od")),
    ]
    made = replace(course(drops, tea), protocol=Protocol("T", tuple(phases)))
    assert len(found(made)["burden.ethanol.75"].days) == 2


def test_an_allergy_to_a_herb_whose_record_is_silent() -> None:
    herb = MATERIA_MEDICA.herbs["rosehip"]
    silent = replace(
        herb, cautions=tuple(one for one in herb.cautions if one.tag != "hypersensitivity")
    )
    client = Client("Una Example", allergies=(Fact("rosehip"),))
    made = course(remedy("rosehip"), client=client)
    finding = found(made, MATERIA_MEDICA.with_herbs([silent]))["rosehip.hypersensitivity"]
    assert "the client is allergic to it" in finding.text
    assert finding.source == "The practice's own record of the client's allergies"


def test_a_ceiling_that_no_text_gives_is_not_judged() -> None:
    strange = replace(RULES, limits=(LimitRule("glycyrrhizin", Fraction(7), Level.AVOID, None),))
    ids = found(course(remedy("liquorice")), rules=strange)
    assert not [key for key in ids if key.startswith("burden.glycyrrhizin")]


def test_what_needs_a_doctor_at_once_says_so() -> None:
    flag = next(one for one in RULES.flags if one.urgency is Urgency.EMERGENCY)
    made = course(remedy("rosehip"))
    standing = RedFlagCheck(made.start, (flag.id,))
    every = findings(lay_out(made), MATERIA_MEDICA, RULES, standing)
    words = word_findings(every, Names(made, MATERIA_MEDICA, RULES))
    (finding,) = (one for one in words if one.id == f"flag.{flag.tag or flag.id}")
    assert not finding.may_be_accepted
    assert "until a later check no longer finds it" in finding.text


def test_an_id_of_a_herb_and_nothing_known_is_left_as_it_is() -> None:
    names = Names(course(remedy("rosehip")), MATERIA_MEDICA, RULES)
    assert heading_of_id("willow-bark.nothing", names) == "willow-bark.nothing"
