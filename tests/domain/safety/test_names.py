"""What tags are called in findings."""

from __future__ import annotations

import pytest

from sennight.domain.safety.names import Names
from support.safety_samples import MATERIA_MEDICA, RULES, course, remedy


@pytest.mark.parametrize(
    ("tag", "called"),
    [
        (
            "anaphylaxis-past",
            "severe allergy in the past",
        ),  # the vocabulary's own, before a record's
        ("long-qt", "long QT"),  # else the record's
        ("no-such-tag", "no such tag"),  # else the tag's words
    ],
)
def test_a_tag_goes_by_its_label_then_by_its_record(tag: str, called: str) -> None:
    assert Names(course(remedy("sage")), MATERIA_MEDICA, RULES).label(tag) == called
