"""One dose in words said at home."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Portion, Remedy

F = Fraction


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
    assert dose_words(parse_directions(take), Remedy("r", "R", form, ())) == words


@pytest.mark.parametrize(
    ("take", "holds", "words"),
    [
        ("1 dropperful tds", Portion(F(1), Unit.ML), "1 dropperful (about 1 mL)"),
        (
            "1-2 dropperful od",
            Portion(F(3, 4), Unit.ML),
            "1 to 2 dropperfuls (about 0.75 to 1.5 mL)",
        ),
        ("½ dropperful od", Portion(F(30), Unit.DROP), "½ dropperful (about 15 drops)"),
        ("2 dropperful od", None, "2 dropperfuls"),
    ],
)
def test_a_dropperful_is_said_with_what_it_holds(
    take: str, holds: Portion | None, words: str
) -> None:
    tincture = Remedy("r", "R", Form.TINCTURE, (), dropperful=holds)
    assert dose_words(parse_directions(take), tincture) == words
