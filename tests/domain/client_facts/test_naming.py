"""Finding by name: what is taken, what is offered, and what never is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.client_facts.naming import Match, Named, NameIndex, slips_between

INDEX = NameIndex(
    (
        Named("hypertension", ("high blood pressure", "hypertension", "BP")),
        Named("hypotension", ("low blood pressure", "hypotension")),
        Named("diabetes", ("diabetes",)),
        Named("diabetes-type-2", ("type 2 diabetes",)),
        Named("cancer-active", ("cancer",)),
        Named("breast-cancer", ("breast cancer",)),
        Named("hives", ("hives",)),
        Named("hiv", ("HIV",)),
        Named("metformin", ("metformin",)),
    )
)


def tags(typed: str) -> list[str]:
    return [offer.tag for offer in INDEX.offers(typed)]


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("BP", ["hypertension"]),
        ("blood pressure", ["low-first", "hypertension", "hypotension"]),
        ("high bl", ["hypertension"]),
        ("pressure high", ["hypertension"]),
        ("hyp", ["hypertension", "hypotension"]),
        ("type 2 diabetes", ["diabetes-type-2"]),
        ("hiv", ["hiv"]),
        ("hives", ["hives"]),
        ("breast cancer in 2019", ["breast-cancer", "cancer-active"]),
    ],
)
def test_names_are_offered_by_their_words(typed: str, expected: list[str]) -> None:
    found = [tag for tag in expected if tag != "low-first"]
    assert sorted(tags(typed)) == sorted(found)


@pytest.mark.parametrize("typed", ["", "d", "no diabetes", "mother had breast cancer", "zebra"])
def test_nothing_is_offered_where_nothing_is_meant(typed: str) -> None:
    assert tags(typed) == []


def test_the_exact_name_comes_first_and_is_taken() -> None:
    first = INDEX.offers("diabetes")[0]
    assert (first.tag, first.match) == ("diabetes", Match.EXACT)
    assert INDEX.exact("Diabetes") == "diabetes"
    assert INDEX.exact("metformin hydrochloride") == "metformin"
    assert INDEX.exact("metformin tablets") == "metformin"
    assert INDEX.exact("diabet") is None
    assert INDEX.exact("calcium") is None


def test_a_slip_is_looked_past_and_never_taken_by_itself() -> None:
    assert [(offer.tag, offer.match) for offer in INDEX.offers("metfromin")] == [
        ("metformin", Match.SLIP)
    ]
    assert INDEX.exact("metfromin") is None


def test_of_two_names_equally_near_neither_is_offered() -> None:
    # a letter from each: hypertension without its r, hypotension with e for o
    assert tags("hypetension") == []


@given(st.text(alphabet="abc", max_size=7), st.text(alphabet="abc", max_size=7))
def test_slips_are_counted_alike_from_either_side(one: str, other: str) -> None:
    slips = slips_between(one, other, 7)
    assert slips == slips_between(other, one, 7)
    assert (slips == 0) == (one == other)
    assert slips <= max(len(one), len(other))
    assert slips >= abs(len(one) - len(other))
    assert slips_between(one, other, 2) == min(slips, 3)


@pytest.mark.parametrize(
    ("one", "other", "slips"),
    # kitten and sitting is the example of Levenshtein's distance; ca and abc tell the restricted
    # distance (3) from the unrestricted one (2): Navarro, ACM Computing Surveys 33 (2001),
    # from memory
    [("kitten", "sitting", 3), ("ca", "abc", 3), ("ab", "ba", 1), ("", "abc", 3)],
)
def test_slips_of_worked_examples(one: str, other: str, slips: int) -> None:
    assert slips_between(one, other, 5) == slips


def test_a_name_in_two_spellings_is_offered_once() -> None:
    index = NameIndex((Named("heartburn", ("heartburn", "heart-burn", "heart burn")),))
    assert [offer.tag for offer in index.offers("heartb")] == ["heartburn"]
    assert index.exact("heart burn") == "heartburn"


def test_the_right_letters_in_another_order_are_no_slip() -> None:
    assert tags("metformni") == ["metformin"]
    assert tags("mrofnitem") == []


def test_words_of_other_letters_are_as_far_apart_as_need_be_known() -> None:
    assert slips_between("valerian", "hops", 2) == 3
