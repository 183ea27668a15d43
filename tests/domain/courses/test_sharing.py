"""The greatest day under shared ceilings, against every choice of doses tried one by one."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.sharing import Offer, greatest_day, shared_ceilings
from support.draws import draws

F = Fraction
RUBS = Ceiling(("warm", "cool"), 4)


def offer(remedy: str, timed: int, doses: int, each: int, *ceilings: Ceiling) -> Offer:
    return Offer(remedy, timed, doses, F(each), ceilings)


@pytest.mark.parametrize(
    ("offers", "most"),
    [
        ([offer("warm", 0, 4, 3, RUBS), offer("cool", 0, 4, 1, RUBS)], 12),
        ([offer("warm", 0, 2, 3, RUBS), offer("cool", 0, 4, 1, RUBS)], 8),
        ([offer("warm", 2, 2, 1, RUBS), offer("cool", 0, 4, 3, RUBS)], 12),
        ([offer("warm", 3, 3, 2, RUBS), offer("cool", 3, 3, 1, RUBS)], 9),
        ([offer("warm", 0, 4, 3, RUBS), offer("tea", 3, 3, 5)], 27),
        ([offer("warm", 0, 4, 3, RUBS), offer("warm", 0, 4, 1, RUBS)], 16),
        ([], 0),
    ],
    ids=[
        "the stronger alone",
        "two of the stronger, two of the other",
        "a timed dose may be left for a stronger one",
        "timed doses past the ceiling are all counted",
        "what no ceiling names is free",
        "two herbs of one remedy come together",
        "nothing",
    ],
)
def test_the_greatest_day(offers: list[Offer], most: int) -> None:
    assert greatest_day(offers) == most


def test_a_ceiling_over_one_remedy_is_not_shared() -> None:
    own = Ceiling(("warm",), 2)
    assert shared_ceilings((own, RUBS), "warm") == (RUBS,)
    assert shared_ceilings((own, RUBS), "tea") == ()


_CEILINGS = (RUBS, Ceiling(("warm", "tea"), 3), Ceiling(("warm", "cool", "tea"), 5))


@st.composite
def _offers(draw: st.DrawFn) -> list[Offer]:
    ceilings = draw(st.lists(st.sampled_from(_CEILINGS), unique=True))
    offers = []
    for remedy in draw(st.lists(st.sampled_from(("warm", "cool", "tea", "free")), unique=True)):
        timed, needed = draw(st.integers(0, 3)), draw(st.integers(0, 3))
        bounds = shared_ceilings(ceilings, remedy)
        each = draw(st.fractions(0, 5, max_denominator=4))
        offers.append(Offer(remedy, timed, timed + needed, each, bounds))
    return offers


def _tried(offers: list[Offer]) -> Fraction:
    best = F(0)
    for choice in product(*(range(its.doses + 1) for its in offers)):
        pairs = list(zip(offers, choice, strict=True))
        if all(
            sum(doses for its, doses in pairs if ceiling in its.ceilings) <= ceiling.most
            for ceiling in _CEILINGS
        ):
            best = max(best, sum((its.each * doses for its, doses in pairs), F(0)))
    held = [(its, its.timed if its.ceilings else its.doses) for its in offers]
    return max(best, sum((its.each * doses for its, doses in held), F(0)))


@settings(max_examples=draws(30))
@given(_offers())
def test_it_is_the_best_of_every_choice(offers: list[Offer]) -> None:
    assert greatest_day(offers) == _tried(offers)


@settings(max_examples=draws(20))
@given(_offers(), st.integers(0, 3))
def test_another_dose_never_makes_it_less(offers: list[Offer], which: int) -> None:
    for n, its in enumerate(offers):
        if n == which:
            more = Offer(its.remedy, its.timed + 1, its.doses + 1, its.each, its.ceilings)
            assert greatest_day([*offers[:n], more, *offers[n + 1 :]]) >= greatest_day(offers)
