"""One key for all spellings of a name, and different keys for different names."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.client_facts.spelling import folded, plain_words


def key(text: str) -> str:
    return "".join(folded(plain_words(text)))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        # British approved names and the international ones that took their place: MHRA, Change
        # of British Approved Names to recommended International Non-proprietary Names (1997 to
        # 2004), list A and B, from memory.
        ("oestradiol", "estradiol"),
        ("amoxycillin", "amoxicillin"),
        ("cephalexin", "cefalexin"),
        ("cholecalciferol", "colecalciferol"),
        ("chlorthalidone", "chlortalidone"),
        ("sulphasalazine", "sulfasalazine"),
        ("indomethacin", "indometacin"),
        ("beclomethasone", "beclometasone"),
        ("cyclosporin", "ciclosporin"),
        # British and American English
        ("diarrhoea", "diarrhea"),
        ("coeliac", "celiac"),
        ("haemophilia", "hemophilia"),
        ("tumour", "tumor"),
        ("oesophagus", "esophagus"),
        ("tranquilliser", "tranquilizer"),
        # what people say
        ("Crohn’s disease", "crohns disease"),
        ("Sjögren", "sjogren"),
        ("water tablets", "water pill"),
        ("blood pressure meds", "blood-pressure tablets"),
        ("anti-inflammatories", "anti inflammatory"),
    ],
)
def test_spellings_of_one_name_have_one_key(one: str, other: str) -> None:
    assert key(one) == key(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("hypertension", "hypotension"),
        ("hyperthyroidism", "hypothyroidism"),
        ("prednisolone", "prednisone"),
        ("vitamin A", "vitamin"),
        ("hepatitis A", "hepatitis B"),
        ("the pill", "tablets"),
        ("NRTI", "NNRTI"),
        ("PPI", "PI"),
    ],
)
def test_different_names_have_different_keys(one: str, other: str) -> None:
    assert key(one) != key(other)


@given(st.text())
def test_any_text_has_words_in_plain_letters(text: str) -> None:
    words = plain_words(text)
    assert all(word.isascii() and word.isalnum() and word == word.lower() for word in words)


@given(st.text(alphabet="abcdehioprstuyz", min_size=6))
def test_folding_an_accent_or_capital_changes_nothing(word: str) -> None:
    assert plain_words(word.upper()) == plain_words(word)
