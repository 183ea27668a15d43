"""Herbs in the place of one to avoid: each went through the whole check, or none is proposed.

The cases are those in which herbs with nothing recorded were once named as having nothing against
them: a lack of data is no clearance.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sennight.domain.courses.clients import Client, Reaction
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.herbs.doses import Route
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.acting import with_other_herb
from sennight.domain.safety.alternative_words import alternatives_text
from sennight.domain.safety.alternatives import MOST_PROPOSED, Alternative, Check, alternatives
from sennight.domain.safety.check import findings
from sennight.domain.safety.findings import Severity
from sennight.domain.safety.names import (
    Names,
)
from support.safety_samples import MATERIA_MEDICA, RULES, START, course, remedy, with_facts

ALL_AIMS = tuple(dict.fromkeys(a for h in MATERIA_MEDICA.herbs.values() for a in h.actions.tags))


def proposed(made: Course) -> dict[str, tuple[Alternative, ...]]:
    check = Check(lay_out(made), MATERIA_MEDICA, RULES)
    every = findings(check.layout, MATERIA_MEDICA, RULES)
    return {one.id: alternatives(one, check) for one in every}


def against(herb: str, *facts: str, form: Form = Form.TEA, aims: tuple[str, ...] = ()) -> Course:
    aims = aims or MATERIA_MEDICA.herbs[herb].actions.tags
    return course(remedy(herb, form=form), client=with_facts(*facts), aims=aims)


CASES = [
    against("horsetail", "lithium"),
    against("dandelion-root", "lithium"),
    against("willow-bark", "anticoagulant"),
    against("meadowsweet", "salicylate-allergy"),
    against("st-johns-wort", "hormonal-contraceptive"),
    against("juniper", "ckd-stage-4"),
    against("liquorice", "digoxin", "heart-failure"),
    replace(against("hops", "depression"), client=Client("Una Example", date(2025, 1, 1))),
]


@pytest.mark.parametrize("made", CASES, ids=lambda made: made.remedies[0].ingredients[0].herb)
def test_nothing_is_found_about_a_herb_that_is_proposed(made: Course) -> None:
    """Checked a second way: the course with it is made and checked from scratch."""
    (old,) = made.remedies
    bad = old.ingredients[0].herb
    for finding, herbs in proposed(made).items():
        assert len(herbs) <= MOST_PROPOSED
        for one in herbs:
            record, before = MATERIA_MEDICA.herbs[one.herb], MATERIA_MEDICA.herbs[bad]
            assert one.instead_of == bad
            assert set(one.aims) <= set(record.actions.tags) & set(before.actions.tags), finding
            assert set(record.systems) & set(before.systems)
            assert any(caution.origin.basis == "read" for caution in record.cautions)
            swapped = replace(made, remedies=(with_other_herb(old, bad, one.herb),))
            after = findings(lay_out(swapped), MATERIA_MEDICA, RULES)
            grave = [
                found.id
                for found in after
                if found.severity is not Severity.NOTE
                and not found.id.startswith(("over.", "length."))
            ]
            assert grave == [], one


def test_the_action_that_does_the_harm_is_not_looked_for_elsewhere() -> None:
    """Lithium and one diuretic: another diuretic is the hazard itself (case report of 2001)."""
    for herb in ("dandelion-root", "horsetail"):
        found = proposed(against(herb, "lithium", aims=("diuretic",)))
        assert found
        assert not any(found.values())


def test_without_an_aim_that_the_herb_serves_nothing_is_proposed() -> None:
    made = course(remedy("willow-bark"), client=with_facts("anticoagulant"))
    assert not any(proposed(made).values())
    assert not any(proposed(replace_aims(made, ("sedative",))).values())


def replace_aims(made: Course, aims: tuple[str, ...]) -> Course:
    return replace(made, protocol=replace(made.protocol, aims=aims))


def test_for_the_skin_only_herbs_for_the_skin() -> None:
    made = against("calendula", "asteraceae-allergy", form=Form.RUB, aims=ALL_AIMS)
    herbs = [one.herb for found in proposed(made).values() for one in found]
    assert herbs
    assert all(Route.TOPICAL in MATERIA_MEDICA.herbs[herb].routes for herb in herbs)


def test_only_findings_to_avoid_about_one_herb_are_answered() -> None:
    made = against("ginger", "anticoagulant")
    assert not any(proposed(made).values())


def test_it_says_what_it_was_checked_for() -> None:
    made = against("willow-bark", "peptic-ulcer", form=Form.TINCTURE)
    made = replace(made, client=replace(made.client, born=date(1970, 5, 1)))
    found = proposed(made)["willow-bark.peptic-ulcer"]
    assert found[0].checked_for == ("peptic-ulcer", "age")
    said = alternatives_text(found, Names(made, MATERIA_MEDICA, RULES))
    assert "For the same action (" in said
    assert "Checked for" in said
    assert said.endswith("which does not mean it is safe. Each has its own dose.")
    assert alternatives_text((), Names(made, MATERIA_MEDICA, RULES)) == ""
    (first, *_) = found
    bare = alternatives_text((replace(first, checked_for=()),), Names(made, MATERIA_MEDICA, RULES))
    assert "Checked with nothing recorded about the client" in bare


def test_reactions_are_among_what_it_was_checked_for() -> None:
    reaction = Reaction(START, "Tea", ("willow-bark",), "Itching")
    client = Client("Una Example", reactions=(reaction,))
    aims = MATERIA_MEDICA.herbs["willow-bark"].actions.tags
    made = course(remedy("willow-bark"), client=client, aims=aims)
    found = proposed(made)["willow-bark.reaction"]
    assert all(one.checked_for == ("reactions",) for one in found)
    assert found
