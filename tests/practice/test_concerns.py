"""Which signs of danger a client is told of: by what the course is for, and the medicines."""

from __future__ import annotations

from datetime import date

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.remedies.advice import Concern
from sennight.domain.remedies.forms import Form
from sennight.practice.course_reading import read_course
from sennight.practice.take_home import concerns, purposes, told
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


def test_what_is_not_swallowed_is_not_said_to_bring_on_a_sweat() -> None:
    tea, gargle = remedy("thyme"), remedy("sage", form=Form.GARGLE, name="r2")
    made = course(remedy("elderflower"), tea, gargle, aims=("diaphoretic", "anti-inflammatory"))
    said = purposes(read_course(made, today=START))
    assert any("bring on a sweat" in words for words in said["r1"])
    assert "bring on a sweat" not in said.get("r2", ())


def test_a_cream_with_cayenne_says_what_its_form_does_not() -> None:
    """Capsaicin topical, health library (read): no heat; the directions of a rub have it."""

    def heat(form: Form) -> bool:
        reading = read_course(course(remedy("cayenne", form=form)), today=START)
        return any("heat pad" in sentence.says for sentence in told(reading))

    assert heat(Form.CREAM)
    assert not heat(Form.RUB)
