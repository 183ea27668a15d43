"""Which signs of danger a client is told of: by what the course is for, and the medicines."""

from __future__ import annotations

from datetime import date

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.remedies.advice import Concern
from sennight.practice.course_reading import read_course
from sennight.practice.take_home import concerns
from support.safety_samples import START, course, remedy, with_facts


def test_what_eases_cramp_is_for_the_gut_in_a_course_for_digestion() -> None:
    cramp, elm = remedy("cramp-bark"), remedy("slippery-elm", name="r2")
    aims = ("antispasmodic", "demulcent")
    alone, both = course(cramp, aims=aims), course(cramp, elm, aims=aims)
    assert concerns(read_course(alone, today=START)) == {Concern.JOINTS, Concern.GROWN}
    assert concerns(read_course(both, today=START)) == {Concern.DIGESTION, Concern.GROWN}


@pytest.mark.parametrize(
    ("herb", "facts", "expected"),
    [
        ("willow-bark", (), {Concern.JOINTS}),
        ("fennel", (), {Concern.DIGESTION}),
        ("valerian", (), {Concern.MOOD}),
        ("thyme", (), set()),
        ("ivy-leaf", (), {Concern.CHEST}),
        ("thyme", ("anticoagulant",), {Concern.BLEEDING}),
        ("thyme", ("ssri",), set()),  # no herb that raises serotonin too
        ("st-johns-wort", ("ssri",), {Concern.MOOD, Concern.SEROTONIN}),
        ("thyme", ("depression",), {Concern.MOOD}),
        ("thyme", ("gout",), {Concern.ARTHRITIS}),
        ("valerian", ("osteoarthritis",), {Concern.MOOD, Concern.ARTHRITIS}),
        ("thyme", ("methotrexate",), {Concern.LOW_BLOOD_COUNT}),
        ("feverfew", ("migraine",), {Concern.HEADACHE}),
    ],
)
def test_signs_are_chosen_by_the_course_and_its_client(
    herb: str, facts: tuple[str, ...], expected: set[Concern]
) -> None:
    made = course(remedy(herb), client=with_facts(*facts))
    assert concerns(read_course(made, today=START)) == {*expected, Concern.GROWN}


def test_a_child_has_signs_of_its_own() -> None:
    made = course(remedy("ivy-leaf"), client=Client("Una Example", born=date(2020, 5, 1)))
    assert concerns(read_course(made, today=START)) == {Concern.CHEST, Concern.CHILD}
