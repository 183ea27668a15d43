"""One dose in words said at home."""

from __future__ import annotations

import pytest

from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.remedies.forms import Form


@pytest.mark.parametrize(
    ("take", "form", "words"),
    [
        ("1 application bd", Form.RUB, "a thin layer"),
        ("2 application bd", Form.RUB, "2 applications"),
        ("1 application od", Form.BATH, "1 bath"),
        ("5 mL bd", Form.RUB, "5 mL"),
        ("1-2 cups bd", Form.TEA, "1 to 2 cups"),
    ],
)
def test_a_dose_as_it_is_said_at_home(take: str, form: Form, words: str) -> None:
    assert dose_words(parse_directions(take), form) == words
