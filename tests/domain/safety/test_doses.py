"""Amounts over the published most, and forms that a record is not about."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import exposures
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.ranges import WorkingRange, range_or_reason, widest_range
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.findings import Severity
from support.safety_samples import MATERIA_MEDICA, START, course, day, found, remedy
from support.samples import line, phase

HERBS = sorted(MATERIA_MEDICA.herbs.values(), key=lambda herb: herb.id)
RANGES = [
    pytest.param(herb, held, id=herb.id)
    for herb in HERBS
    if isinstance(held := range_or_reason(herb, TakenAs.POWDER), WorkingRange)
]


def powder(herb: Herb, grams: Fraction) -> dict[str, Severity]:
    """What is found of a powder of which so many grams are taken in a day."""
    made = course(
        remedy(herb.id, form=Form.CAPSULE, amount=str(grams * 1000)), take="1 capsule od"
    )
    return {key: one.severity for key, one in found(made).items()}


@pytest.mark.parametrize(("herb", "held"), RANGES)
def test_over_the_published_most(herb: Herb, held: WorkingRange) -> None:
    """A caution; to be avoided where no text gives as much and it was read; narrow at once."""
    key, widest = f"over.{herb.id}", widest_range(herb, TakenAs.POWDER)
    assert widest
    assert key not in powder(herb, held.over_from)
    little = powder(herb, held.over_from * Fraction(5, 4))
    assert little[key] is (Severity.AVOID if herb.narrow else Severity.CAUTION)
    grave = herb.narrow or not held.from_memory
    much = powder(herb, max(widest.over_from, held.over_from) * 2)
    assert much[key] is (Severity.AVOID if grave else Severity.CAUTION)


def test_it_is_the_sum_over_all_remedies() -> None:
    """Ginger powder up to 3 g a day (Health Canada, read): 2 g and 2 g are over it."""
    one, two = (
        remedy("ginger", form=Form.CAPSULE, amount="2000", name=name) for name in ("r1", "r2")
    )
    assert "over.ginger" not in found(course(one, take="1 capsule od"))
    finding = found(course(one, two, take="1 capsule od"))["over.ginger"]
    assert finding.remedies == ("r1", "r2")
    assert "up to 4 g a day as a powder, 1.3 times the published maximum" in finding.text
    assert "Health Canada" in finding.source
    assert finding.days == (Span.of_days(START, day(28)),)


def test_only_on_the_days_on_which_it_is_over() -> None:
    capsule = remedy("ginger", form=Form.CAPSULE, amount="2000")
    phases = (
        phase("a", "1 w", line("r1", "1 capsule od")),
        phase("b", "1 w", line("r1", "2 capsule od")),
    )
    made = replace(course(capsule), protocol=Protocol("T", phases))
    assert found(made)["over.ginger"].days == (Span.of_days(day(8), day(14)),)


def test_doses_as_needed_count_in_full() -> None:
    capsule = remedy("ginger", form=Form.CAPSULE, amount="2000")
    assert "over.ginger" in found(course(capsule, take="1 capsule prn max 2/day"))


def test_ten_times_the_dose_of_black_cohosh() -> None:
    """No range of a 1:5 is held; 6 g are more than any liquid of any strength is given for."""
    drops = remedy("black-cohosh", form=Form.TINCTURE)
    finding = found(course(drops, take="10 mL tds"))["over.black-cohosh"]
    assert finding.severity is Severity.AVOID
    assert "over.black-cohosh" not in found(course(drops, take="1 mL tds"))


def test_nothing_is_stopped_by_a_figure_that_is_only_remembered() -> None:
    """Devil's claw drops, 0.6 g: the EMA's text from memory, small beside its own powder."""
    drops = remedy("devils-claw", form=Form.TINCTURE)
    assert found(course(drops, take="2 mL tds"))["over.devils-claw"].severity is Severity.CAUTION


def test_what_is_over_in_the_table_is_a_finding() -> None:
    made = course(
        remedy("willow-bark", "ginger", amount="12"),
        remedy("turmeric", "liquorice", form=Form.TINCTURE, name="r2"),
        remedy("boswellia", form=Form.CAPSULE, amount="400", name="r3"),
    )
    rows = exposures(lay_out(made), MATERIA_MEDICA)
    over = {f"over.{row.herb}" for row in rows if row.band is Band.OVER}
    assert over <= set(found(made))


@pytest.mark.parametrize("form", [Form.TEA, Form.CAPSULE])
def test_horse_chestnut_is_not_a_tea_or_a_powder(form: Form) -> None:
    """The raw seed must be neither eaten nor made into tea (ABC Clinical Guide 2003, read)."""
    finding = found(course(remedy("horse-chestnut", form=form)))["form.horse-chestnut"]
    assert finding.severity is Severity.AVOID
    assert "poisonous" in finding.text
    assert finding.remedies == ("r1",)


@pytest.mark.parametrize("form", [Form.TINCTURE, Form.RUB])
def test_horse_chestnut_as_a_liquid_or_on_the_skin(form: Form) -> None:
    assert "form.horse-chestnut" not in found(course(remedy("horse-chestnut", form=form)))


def test_every_form_that_a_record_speaks_against_is_found() -> None:
    forms = {TakenAs.TEA: Form.TEA, TakenAs.LIQUID: Form.TINCTURE, TakenAs.POWDER: Form.CAPSULE}
    pairs = [
        (herb, forms[form])
        for herb in HERBS
        for one in herb.not_as
        for form in one.forms
        if form in forms
    ]
    assert pairs
    for herb, form in pairs:
        assert f"form.{herb.id}" in found(course(remedy(herb.id, form=form)))


def test_forms_without_a_record_are_one_note() -> None:
    finding = found(course(remedy("cayenne", "myrrh"), remedy("rosehip", name="r2")))[
        "form.unrecorded"
    ]
    assert finding.severity is Severity.NOTE
    assert finding.herbs == ("cayenne", "myrrh")
    assert finding.remedies == ("r1",)
    assert finding.text.startswith("No dose is recorded for cayenne as a tea and myrrh as a tea")
    assert "form.unrecorded" not in found(course(remedy("rosehip")))
