"""Which signs of danger a client is told of: by what the course is for, and the medicines."""

from __future__ import annotations

import pytest

from sennight.domain.remedies.advice import Concern
from sennight.practice.course_reading import read_course
from sennight.practice.take_home import concerns
from support.safety_samples import START, course, remedy, with_facts


def test_what_eases_cramp_is_for_the_gut_in_a_course_for_digestion() -> None:
    cramp, elm = remedy("cramp-bark"), remedy("slippery-elm", name="r2")
    aims = ("antispasmodic", "demulcent")
    alone, both = course(cramp, aims=aims), course(cramp, elm, aims=aims)
    assert concerns(read_course(alone, today=START)) == {Concern.JOINTS}
    assert concerns(read_course(both, today=START)) == {Concern.DIGESTION}


@pytest.mark.parametrize(
    ("herb", "facts", "expected"),
    [
        ("willow-bark", (), {Concern.JOINTS}),
        ("fennel", (), {Concern.DIGESTION}),
        ("valerian", (), {Concern.MOOD}),
        ("thyme", (), set()),
        ("thyme", ("anticoagulant",), {Concern.BLEEDING}),
        ("thyme", ("ssri",), {Concern.SEROTONIN}),
        ("thyme", ("depression",), {Concern.MOOD}),
    ],
)
def test_signs_are_chosen_by_the_course_and_its_client(
    herb: str, facts: tuple[str, ...], expected: set[Concern]
) -> None:
    made = course(remedy(herb), client=with_facts(*facts))
    assert concerns(read_course(made, today=START)) == expected
