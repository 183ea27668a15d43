"""A formula put together, written as other amounts, tried out, and what falls out of it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Unit
from sennight.domain.formulas.calculations import CalculationError, base_for
from sennight.domain.formulas.formulas import (
    falling_out,
    full_day,
    moved_ingredient,
    trial,
    trial_directions,
    usual_day_trial,
    usual_ingredient,
    usual_trial,
    with_ingredient,
    with_whole,
    without_ingredient,
)
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.herbs import Stated
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Base, Ingredient, Portion, Remedy, TeaMaking
from support.herb_samples import READ, herb, materia_medica_of, row
from support.samples import take

F = Fraction
HERB = herb("a", row("infusion", "3-9 g"), row("tincture", "5-10 mL", per="1:3"))
BLEND = Remedy(
    "t",
    "Blend",
    Form.TINCTURE,
    (Ingredient("a", F(3), F(5), F(60)), Ingredient("b", F(2), F(2), F(25))),
)
CAPSULE = Remedy(
    "c",
    "Capsule",
    Form.CAPSULE,
    (Ingredient("a", mg=F(100)), Ingredient("b", mg=F(300), filling=Filling.EXTRACT)),
)


def test_a_first_entry_follows_the_form() -> None:
    assert usual_ingredient(HERB, Form.TEA) == Ingredient("a", F(1))
    filled = usual_ingredient(HERB, Form.CAPSULE)
    assert (filled.mg, filled.filling, filled.parts) == (F(300), Filling.POWDER, None)
    assert usual_ingredient(HERB, Form.TINCTURE).ratio == 3
    assert usual_ingredient(HERB, Form.GLYCERITE) == Ingredient("a", F(1), F(3))
    assert usual_ingredient(HERB, Form.JUICE) == Ingredient("a", F(1), ethanol=F(0))
    oil = Ingredient("a", percent=F(10), filling=Filling.INFUSED_OIL)
    assert usual_ingredient(HERB, Form.CREAM) == oil


def test_a_whole_is_shared_out_as_the_parts_are() -> None:
    assert [one.parts for one in with_whole(BLEND, F(100)).ingredients] == [60, 40]
    assert [one.mg for one in with_whole(CAPSULE, F(500)).ingredients] == [125, 375]
    thinned = replace(BLEND, base=Base("water", F(5)))
    scaled = with_whole(thinned, F(100))
    assert [one.parts for one in scaled.ingredients] == [30, 20]
    assert scaled.base == Base("water", F(50))
    assert base_for(thinned, F(100)) == 50
    assert base_for(BLEND, F(100)) == 0
    assert base_for(CAPSULE, F(30)) == 0


@pytest.mark.parametrize(
    ("remedy", "whole"),
    [
        (BLEND, F(0)),
        (Remedy("t", "Blend", Form.TEA, (Ingredient("a"), Ingredient("b", F(1)))), F(100)),
        (Remedy("t", "Blend", Form.TEA, (Ingredient("a", F(0)),)), F(100)),
    ],
)
def test_a_whole_of_nothing_or_of_parts_not_said_is_refused(
    remedy: Remedy, whole: Fraction
) -> None:
    with pytest.raises(CalculationError, match="an amount above 0, and parts for every herb"):
        with_whole(remedy, whole)


def test_an_ingredient_stops_at_the_ends() -> None:
    assert [one.herb for one in moved_ingredient(BLEND, 0, 9).ingredients] == ["b", "a"]
    assert moved_ingredient(BLEND, 0, -1) == BLEND


def test_an_ingredient_is_put_in_anywhere_and_taken_out() -> None:
    new = Ingredient("c", F(1))
    herbs = [one.herb for one in BLEND.ingredients]
    assert herbs == ["a", "b"]
    assert [one.herb for one in with_ingredient(BLEND, 0, new).ingredients] == ["c", "b"]
    assert [one.herb for one in with_ingredient(BLEND, 1, new).ingredients] == ["a", "c"]
    assert [one.herb for one in with_ingredient(BLEND, 2, new).ingredients] == ["a", "b", "c"]
    assert [one.herb for one in without_ingredient(BLEND, 0).ingredients] == ["b"]
    assert [one.herb for one in without_ingredient(BLEND, 1).ingredients] == ["a"]


def test_a_first_tincture_is_never_weaker_than_its_herb_needs() -> None:
    """The sample herbs need 25 % v/v; the strength is the middle of what the text says."""
    weak, strong = (
        replace(row("tincture", "5-10 mL", per="1:4"), ethanol=(F(low), F(high)))
        for low, high in ((10, 30), (40, 60))
    )
    assert usual_ingredient(herb("a", weak), Form.TINCTURE) == Ingredient("a", F(1), F(4), F(25))
    assert usual_ingredient(herb("a", strong), Form.RUB) == Ingredient("a", F(1), F(4), F(50))


def test_a_first_tincture_of_a_herb_without_one_is_1_to_5() -> None:
    applied = row("tincture", "5-10 mL", per="1:2", route=Route.TOPICAL)
    extract = row("liquid-extract", "1-2 mL", per="1:1")
    found = usual_ingredient(herb("a", applied, extract), Form.TINCTURE)
    assert [found.ratio, found.ethanol] == [5, 25]


def test_a_first_tincture_without_a_daily_dose_goes_by_the_texts_ratio() -> None:
    found = usual_ingredient(herb("a", row("tincture", None, per="1:3")), Form.TINCTURE)
    assert found.ratio == 3


# A trial dose

DAY = ClientDay.at()
KNOWN = materia_medica_of(herb("a", row("tincture", "5-10 mL", per="1:5")), herb("b"))


def test_a_trial_counts_a_dose_and_a_day() -> None:
    """5 mL, three fifths of it 1:5 and two fifths 1:2: 0.6 g and 1 g, in 46 % v/v of ethanol.

    5 mL x 0.46 x 0.78924 g/mL are 1.815 g of it; at most four doses a day.
    """
    found = trial(BLEND, take("5 mL bd and prn max 2/day"), DAY, KNOWN)
    assert [found.timed, found.most] == [2, 4]
    assert [(one.herb, one.grams) for one in found.doses] == [("a", F("0.6")), ("b", F(1))]
    assert found.ethanol_dose == F("1.815252")
    assert found.ethanol_day == 4 * F("1.815252")
    first = found.rows[0]
    assert (first.herb, first.daily_low, first.daily_high) == ("a", F("1.2"), F("2.4"))
    assert [first.low, first.high] == [1, 2]


def test_the_fractions_of_all_herbs_are_added_up() -> None:
    """2.4 g of at most 2 are 1.2 of a full day; 9 g of at most 9 are one, in two forms or one."""
    blend = full_day(trial(BLEND, take("5 mL bd and prn max 2/day"), DAY, KNOWN).rows)
    assert (blend.part, blend.herbs, blend.unknown) == (F("1.2"), 1, ("b",))
    teas = (Ingredient("a", F(1)), Ingredient("c", F(1)))
    known = materia_medica_of(HERB, herb("c", row("infusion", "2-6 g")))
    tea = Remedy("t", "Tea", Form.TEA, teas, TeaMaking(F(3)))
    half = full_day(trial(tea, take("1 cup bd"), DAY, known).rows)
    assert (half.part, half.herbs, half.unknown) == (F(3, 9) + F(3, 6), 2, ())
    two_forms = (Ingredient("d", mg=F(500)), Ingredient("d", mg=F(500), filling=Filling.EXTRACT))
    known = materia_medica_of(herb("d", row("powder", "1-4 g"), row("dry-extract", "1-2 g")))
    pieces = Remedy("p", "P", Form.TABLET, two_forms)
    assert full_day(trial(pieces, take("2 tablet od"), DAY, known).rows).unknown == ("d",)
    assert full_day(()).part == 0


def test_a_trial_of_a_remedy_without_ethanol_or_by_the_drop() -> None:
    tea = Remedy("t", "Tea", Form.TEA, (Ingredient("a", F(1)),), TeaMaking(F(4)))
    found = trial(tea, take("1 cup tds"), DAY, KNOWN)
    assert [found.timed, found.most, found.ethanol_dose, found.ethanol_day] == [3, 3, None, None]
    drops = trial(BLEND, take("20 drops od"), DAY, KNOWN)
    assert drops.ethanol_dose == 20 / BLEND.drops_per_ml * F("0.46") * F("0.78924")
    assert trial(BLEND, take("1 cup od"), DAY, KNOWN).ethanol_dose is None
    unsaid = replace(BLEND, ingredients=(Ingredient("a", F(1), F(5)),))
    assert trial(unsaid, take("5 mL od"), DAY, KNOWN).ethanol_day is None
    rub = replace(BLEND, form=Form.RUB)
    assert trial(rub, take("5 mL od"), DAY, KNOWN).ethanol_dose is None, "it is not taken"


# In solution


def test_a_blend_too_weak_for_a_herb_is_told() -> None:
    """The blend has 46 % v/v: enough for a herb that needs just that."""
    known = materia_medica_of(
        replace(herb("a"), min_ethanol=Stated(F(46), "", READ)),
        replace(herb("b"), min_ethanol=Stated(F(47), "", READ)),
    )
    (falling,) = falling_out(BLEND, known)
    assert [falling.herb.id, falling.needs.value, falling.strength] == ["b", 47, 46]


def test_nothing_is_told_of_unknown_herbs_or_an_unknown_strength() -> None:
    assert falling_out(BLEND, materia_medica_of()) == ()
    strong = materia_medica_of(replace(herb("a"), min_ethanol=Stated(F(90), "", READ)))
    unsaid = replace(BLEND, ingredients=(Ingredient("a", F(1), F(5)),))
    assert falling_out(unsaid, strong) == ()


@pytest.mark.parametrize("form", [Form.GLYCERITE, Form.JUICE])
def test_what_is_not_drawn_out_with_ethanol_is_not_too_weak_in_it(form: Form) -> None:
    needs = replace(herb("a"), min_ethanol=Stated(F(45), "", READ))
    made = Remedy("r", "R", form, (Ingredient("a", F(1), F(5)),))
    assert falling_out(made, materia_medica_of(needs)) == ()


@pytest.mark.parametrize("form", Form)
def test_the_usual_trial_of_each_form_can_be_read(form: Form) -> None:
    remedy = Remedy("r", "R", form, ())
    assert trial_directions(remedy, usual_trial(remedy)) == take(usual_trial(remedy))


def test_a_product_is_tried_with_what_its_packet_tells() -> None:
    told = Remedy("r", "R", Form.PRODUCT, (), mg_in=Portion(F(2), Unit.SCOOP))
    assert trial_directions(told, usual_trial(told)) == take("2 scoop od")


def test_a_trial_that_cannot_be_told_is_none() -> None:
    tea = Remedy("r", "R", Form.TEA, (Ingredient("a", Fraction(1)),), TeaMaking(Fraction(3)))
    materia_medica = materia_medica_of(herb("a"))
    told = usual_day_trial(tea, "1 cup tds", materia_medica)
    assert told == trial(tea, take("1 cup tds"), ClientDay.at(), materia_medica)
    for text in ("1 cup whenever", "1 capsule bd", "1 cup at 07:30 bf"):
        assert usual_day_trial(tea, text, materia_medica) is None
    together = "1 cup at breakfast,07:30"
    assert usual_day_trial(tea, together, materia_medica) is None
