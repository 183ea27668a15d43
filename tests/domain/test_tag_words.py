"""Tags and findings as people read them."""

from __future__ import annotations

import pytest

from sennight.domain.safety.names import (
    Names,
)
from sennight.domain.safety.wording import heading_of_id
from sennight.domain.tag_words import TagWords, lower_first
from sennight.knowledge.vocabulary import vocabulary
from support.safety_samples import MATERIA_MEDICA, RULES, course, remedy

WORDS = vocabulary().words


@pytest.mark.parametrize(
    ("tag", "label", "phrase"),
    [
        ("gallstones", "gallstones", "with gallstones"),
        ("ssri", "SSRI antidepressants", "with SSRI antidepressants"),
        ("pregnancy", "pregnancy", "in pregnancy"),
        ("no-such-tag", "no such tag", "with no such tag"),
    ],
)
def test_a_tag_has_a_label_and_a_phrase(tag: str, label: str, phrase: str) -> None:
    assert WORDS.label(tag) == label
    assert WORDS.phrase(tag) == phrase
    assert TagWords().label(tag) == tag.replace("-", " ")


def test_words_are_for_tags_that_are_there() -> None:
    known = vocabulary()
    tags = {*known.conditions, *known.medicines, *known.constituents, *known.actions}
    assert set(WORDS.labels) <= tags | set(RULES.records.properties)
    assert set(WORDS.joined) <= tags


def test_a_label_leads_to_one_fact_alone() -> None:
    known = vocabulary()
    for kind in (known.conditions, known.medicines, known.allergies, known.actions):
        labels = [WORDS.label(tag) for tag in kind]
        assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("said", "within"),
    [
        ("Willow bark", "willow bark"),
        ("St John's wort", "St John's wort"),
        ("INR may change", "INR may change"),
        ("Commission E says so", "Commission E says so"),
        ("", ""),
    ],
)
def test_a_first_letter_within_a_sentence(said: str, within: str) -> None:
    assert lower_first(said) == within


@pytest.mark.parametrize(
    ("finding", "head"),
    [
        ("willow-bark.anticoagulant", "Willow bark with anticoagulants"),
        ("burden.ethanol.pregnancy", "Alcohol in pregnancy"),
        ("arnica.internal-use", "Arnica (external use) by mouth"),
        ("hours.iron.nettle-leaf", "Nettle leaf and iron: hours apart"),
        ("length.valerian.max-course", "Valerian: length of use"),
        ("burden.ethanol.15", "Alcohol in one dose"),
        ("burden.sedatives.3", "Sedatives together"),
        ("burden.pyrrolizidine-alkaloids.1", "Pyrrolizidine alkaloids"),
        ("burden.salicylates.240", "Salicylates per day"),
        ("flag.hot-joint", "Red flag: hot, swollen joint"),
        ("flag.liver-red-flags", "Red flag: liver"),
        ("elderflower.age", "Elderflower: age"),
        ("yarrow.reaction", "Yarrow: an earlier reaction"),
        ("unchecked.moonwort", "Moonwort: no record"),
        ("something.else", "something.else"),
        ("meets.willow-bark.anticoagulant", "Willow bark with anticoagulants"),
        ("age.elderflower", "Elderflower: age"),
        ("ginger.bleeding-risk", "Ginger with medicines that raise bleeding risk"),
        ("senna.liquorice", "Senna with liquorice"),
        ("nettle-leaf.heart-failure", "Nettle leaf with heart failure"),
    ],
)
def test_a_finding_has_a_heading(finding: str, head: str) -> None:
    names = Names(course(remedy("moonwort")), MATERIA_MEDICA, RULES)
    assert heading_of_id(finding, names) == head
