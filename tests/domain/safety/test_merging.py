"""What is found of the course and again with a flare-up plan is told once, at its gravest."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Remedy
from support.safety_samples import course, found, remedy
from support.samples import line, phase


def with_plan(base: Remedy, take: str, plan: Remedy, take_in_plan: str) -> Course:
    """One remedy every day for four weeks, and another besides it in a flare-up."""
    phases = (
        phase("base", "4 w", line(base.id, take)),
        phase("rescue", "1 w", line(plan.id, take_in_plan)),
    )
    return replace(course(base, plan), protocol=Protocol("T", phases))


def drops(*herbs: str) -> Remedy:
    return remedy(*herbs, form=Form.TINCTURE, name="drops")


def test_of_two_sums_over_a_ceiling_the_greater_is_told() -> None:
    """Willow at 110 mg of salicin to 1 g: 6 g of tea are 660 mg, with 6 g in the drops 1320."""
    made = with_plan(
        remedy("willow-bark", amount="2"), "1 cup tds", drops("willow-bark"), "10 mL tds"
    )
    finding = found(made)["burden.salicylates.240"]
    assert finding.text.count("may contain up to") == 1
    assert "up to 1320 mg" in finding.text
    assert "660" not in finding.text
    assert "flare-up plan" not in finding.text, "it is over without the plan"


def test_of_two_amounts_of_alcohol_at_once_the_greater_is_told() -> None:
    """15 mL of 45 % are 5.33 g, for 60 kg 89 mg to 1 kg; with 30 mL more at the same hour 266."""
    base = remedy("rosehip", form=Form.TINCTURE)
    finding = found(with_plan(base, "15 mL od", drops("rosehip"), "30 mL od"))["burden.ethanol.75"]
    assert finding.text.startswith("r1 and drops within a quarter of an hour give up to 266 mg")
    assert "89 mg" not in finding.text


def test_all_herbs_that_add_up_are_told_at_once() -> None:
    sleepy = with_plan(
        remedy("valerian", "hops", "chamomile"), "1 cup od", drops("passionflower"), "2 mL od"
    )
    finding = found(sleepy)["burden.sedatives.3"]
    assert finding.herbs == ("valerian", "hops", "chamomile", "passionflower")
    assert finding.text.count("together") == 1


def test_of_two_amounts_over_the_most_the_greater_is_told() -> None:
    """Ginger powder up to 3 g a day (Health Canada, read): 6 g are twice that, 12 g four times."""
    base, plan = (
        remedy("ginger", form=Form.CAPSULE, amount="6000", name=name) for name in ("r1", "r2")
    )
    finding = found(with_plan(base, "1 capsule od", plan, "1 capsule od"))["over.ginger"]
    assert "up to 12 g a day as a powder, 4 times the most" in finding.text
    assert "6 g a day" not in finding.text


def test_forms_without_a_record_are_one_sentence() -> None:
    made = with_plan(remedy("cayenne"), "1 cup od", remedy("myrrh", name="r2"), "1 cup od")
    finding = found(made)["form.unrecorded"]
    assert finding.herbs == ("cayenne", "myrrh")
    assert finding.text.startswith("No record gives cayenne as a tea and myrrh as a tea, so")
