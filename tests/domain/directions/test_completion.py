"""The words that can come next."""

from __future__ import annotations

import pytest
from hypothesis import given

from sennight.domain.directions.completion import completed, next_words
from sennight.domain.directions.directions import Unit
from support import samples


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", ()),
        ("1 cup", ()),
        ("1 c", ("cup", "capsule")),
        ("1 cup t", ("tds",)),
        ("1 cup at mid-", ("mid-morning", "mid-afternoon")),
        ("2 mL tds 3 w ", ("on",)),
        ("2 mL tds 3 w on 1 w ", ("off",)),
        ("1 cup wrong ", ()),
    ],
)
def test_words_offered(text: str, words: tuple[str, ...]) -> None:
    assert next_words(text) == words


def test_all_units_follow_an_amount() -> None:
    assert next_words("2.5 ") == tuple(Unit)


def test_a_word_takes_the_place_of_the_one_begun() -> None:
    assert completed("1 c", "cup") == "1 cup "
    assert completed("1 cup at rising,", "lunch") == "1 cup at rising,lunch "
    assert completed("1", "cup") == "1 cup "


@given(samples.TAKES)
def test_each_word_of_directions_written_out_is_offered_before_it(take: object) -> None:
    words = str(take).split()
    rhythm = words[2]
    assert rhythm in next_words(" ".join(words[:2]) + " ") or rhythm[0].isdigit()
