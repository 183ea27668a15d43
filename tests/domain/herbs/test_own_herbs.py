"""A practice's own herbs and ranges as they join the supplied ones."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sennight.domain.herbs.doses import DoseUnit, TakenAs
from sennight.domain.herbs.herbs import Level
from sennight.domain.herbs.own_herbs import (
    OwnCaution,
    OwnHerb,
    OwnRange,
    as_herb,
    cites_own,
    is_own,
    published_maximum,
    with_own,
)
from sennight.domain.herbs.ranges import working_range
from sennight.domain.herbs.sources import SourceKind
from support.herb_samples import herb, materia_medica_of, row

SUPPLIED = materia_medica_of(
    herb("a", row("infusion", "1-4 g")), herb("b", row("infusion", "2-6 g"))
)
TEA = OwnRange("a", TakenAs.TEA, Fraction(4), Fraction(20), reference="own notebook")
TESTWORT = OwnHerb(
    "own-1",
    "Testwort",
    latin="Testa exempli",
    actions=("bitter",),
    constituents=("tannins",),
    cautions=(OwnCaution("peptic-ulcer", Level.CAUTION, "It is sharp."),),
    reference="own notebook",
)


def test_an_own_herb_stands_beside_the_supplied_and_is_marked() -> None:
    known = with_own(SUPPLIED, (TESTWORT,), ())
    assert list(known.herbs) == ["a", "b", "own-1"]
    found = known.herbs["own-1"]
    assert [is_own(one) for one in known.herbs.values()] == [False, False, True]
    assert (found.name, found.latin, found.actions.tags) == (
        "Testwort",
        "Testa exempli",
        ("bitter",),
    )
    (caution,) = found.cautions
    assert [caution.tag, caution.level, caution.text] == [
        "peptic-ulcer",
        Level.CAUTION,
        "It is sharp.",
    ]
    assert [one.tag for one in found.constituents] == ["tannins"]
    assert str(caution.origin) == "This practice's own, own notebook"
    assert found.sources[0].kind is SourceKind.OWN
    assert known.herbs["a"] is SUPPLIED.herbs["a"]


def test_where_nothing_was_entered_the_careful_side_is_taken_and_said() -> None:
    found = as_herb(TESTWORT)
    assert [found.pregnancy.level, found.lactation.level] == [Level.AVOID, Level.AVOID]
    assert found.min_age.value == 18
    assert "caution is assumed" in found.min_age.text
    assert found.min_ethanol is not None
    assert found.min_ethanol.value == 0


def test_what_was_entered_stands_even_where_it_is_nothing() -> None:
    entered = replace(TESTWORT, min_age=Fraction(0), min_ethanol=Fraction(40))
    found = as_herb(entered)
    assert [found.min_age.value, found.min_age.text] == [0, ""]
    assert found.min_ethanol is not None
    assert found.min_ethanol.value == 40


def test_without_anything_of_its_own_the_supplied_herbs_are_as_they_were() -> None:
    assert with_own(SUPPLIED, (), ()) is SUPPLIED
    waiting = replace(TEA, herb="c")
    assert with_own(SUPPLIED, (), (waiting,)) is SUPPLIED, "it waits for its herb"


def test_an_own_range_goes_before_the_published_one_and_says_whose_it_is() -> None:
    known = with_own(SUPPLIED, (), (TEA,))
    found = working_range(known.herbs["a"], TakenAs.TEA)
    published = working_range(SUPPLIED.herbs["a"], TakenAs.TEA)
    assert found
    assert published
    assert [found.low, found.high, found.is_own, found.from_memory] == [4, 20, True, False]
    assert found.source == "This practice's own, own notebook"
    assert cites_own(found.source)
    assert [published.low, published.high, published.is_own] == [1, 4, False]
    assert not cites_own(published.source)
    assert known.herbs["b"] is SUPPLIED.herbs["b"]


def test_an_own_range_of_an_own_herb() -> None:
    known = with_own(SUPPLIED, (TESTWORT,), (replace(TEA, herb="own-1"),))
    found = working_range(known.herbs["own-1"], TakenAs.TEA)
    assert found
    assert [found.low, found.high] == [4, 20]
    assert working_range(known.herbs["own-1"], TakenAs.LIQUID) is None


def test_a_liquid_is_counted_in_ml_and_the_rest_in_grams() -> None:
    units = {form: replace(TEA, form=form).unit for form in TakenAs}
    assert units.pop(TakenAs.LIQUID) is DoseUnit.ML
    assert units.pop(TakenAs.JUICE) is DoseUnit.ML
    assert set(units.values()) == {DoseUnit.G}


def test_a_liquids_own_range_is_counted_through_its_ratio() -> None:
    """5 to 15 mL of 1:5 are 1 to 3 g of dried herb."""
    own = OwnRange("a", TakenAs.LIQUID, Fraction(5), Fraction(15), Fraction(5))
    known = with_own(materia_medica_of(herb("a")), (), (own,))
    found = working_range(known.herbs["a"], TakenAs.LIQUID, Fraction(3))
    assert found is not None
    assert [found.low, found.high] == [1, 3]


def test_going_beyond_what_is_published_is_told() -> None:
    """15 mL of 1:5 are 3 g; 2 g are published."""
    supplied = herb("a", row("infusion", "1-4 g"), row("tincture", "5-10 mL", per="1:5"))
    liquid = OwnRange("a", TakenAs.LIQUID, Fraction(5), Fraction(15), Fraction(5))
    assert published_maximum(liquid, supplied) == 2
    tea = OwnRange("a", TakenAs.TEA, Fraction(1), Fraction(4))
    assert published_maximum(tea, supplied) is None
    assert published_maximum(replace(tea, high=Fraction(5)), supplied) == 4
    assert published_maximum(tea, None) is None
