"""The forms as data: each answers for itself, and what a dose of each holds."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from sennight.domain.directions.directions import Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.exposure.ethanol import grams, strength
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.contents import (
    SkinStrength,
    Unknown,
    essential_oil_percent,
    has_drops_in_nothing,
    herb_amounts,
    is_over_the_whole,
    percent_of,
    skin_strengths,
    sugar_grams,
    taken_as,
)
from sennight.domain.remedies.fingerprints import formula_mark
from sennight.domain.remedies.form_facts import KEEPS, Composition, Filling, Taking
from sennight.domain.remedies.forms import (
    Form,
    called,
    is_for_skin,
    is_made_in_water,
    is_taken_by_mouth,
    units_of,
)
from sennight.domain.remedies.making_words import making_line, making_sentence, making_steps
from sennight.domain.remedies.portions import (
    DROPPER_UNITS,
    PACKET_UNITS,
    UNMEASURED_DROPPER,
    container_holds,
    container_units,
    measured_units,
    read_portion,
    unit_mistake,
)
from sennight.domain.remedies.remedies import Base, Ingredient, Method, Portion, Remedy, TeaMaking
from sennight.domain.remedies.remedy_words import ratio_words, remedy_words
from sennight.places import own_folder

F = Fraction
HERB = "herb"


def remedy(form: Form, *parts: Ingredient, **more: object) -> Remedy:
    return Remedy("r", "R", form, parts or (Ingredient(HERB, F(1)),), **more)  # type: ignore[arg-type]


def amount(made: Remedy, number: str, unit: Unit) -> object:
    (found,) = herb_amounts(made, F(number), unit)
    return found.form, found.grams


# Data


@pytest.mark.parametrize("form", Form)
def test_each_form_is_whole(form: Form) -> None:
    facts = form.facts
    assert (own_folder("resources") / "marks" / f"{form}.svg").is_file()
    assert facts.usual_dose.split()[1] in units_of(form)
    assert called(form).split()[0] == ("an" if facts.noun[0] in "aeiou" else "a")
    assert facts.use or facts.making == "cup"
    assert is_made_in_water(form) == bool(facts.making)
    has_fillings = facts.composition in (Composition.BY_PIECE, Composition.IN_BASE)
    assert has_fillings == bool(facts.fillings)
    assert facts.keeping in KEEPS
    assert is_taken_by_mouth(form) or facts.counted_as is None
    assert is_for_skin(form) == any("external use" in line for line in facts.use)
    assert (facts.taking is Taking.RINSED) == any("spit it out" in line for line in facts.use)


def test_a_form_is_found_by_its_name_alone() -> None:
    assert [Form.named(form.value) for form in Form] == list(Form)
    with pytest.raises(ValueError, match="snuff"):
        Form.named("snuff")


@pytest.mark.parametrize("form", [form for form in Form if not is_taken_by_mouth(form)])
def test_what_is_not_swallowed_is_not_counted(form: Form) -> None:
    made = remedy(form, Ingredient(HERB, F(1), F(5), percent=F(5)))
    assert herb_amounts(made, F(1), Unit.APPLICATION) == ()
    assert taken_as(form, made.ingredients[0]) == frozenset()


# Doses


def test_powder_by_weight_and_by_the_spoon() -> None:
    made = remedy(Form.POWDER, spoon_g=F("2.5"))
    assert amount(made, "3", Unit.G) == (TakenAs.POWDER, 3)
    assert amount(made, "500", Unit.MG) == (TakenAs.POWDER, F(1, 2))
    assert amount(made, "2", Unit.TSP) == (TakenAs.POWDER, 5)
    assert amount(made, "1", Unit.TBSP) == (TakenAs.POWDER, F("7.5"))
    weightless = amount(remedy(Form.POWDER), "1", Unit.TSP)
    assert weightless == (
        TakenAs.POWDER,
        Unknown("how much a teaspoon of it weighs is not recorded"),
    )
    in_cups = amount(made, "1", Unit.CUP)
    assert in_cups == (TakenAs.POWDER, Unknown("a powder is not measured in cup"))


def test_fresh_juice_is_never_read_as_dried_herb() -> None:
    """Echinacea, pressed juice 6 to 9 mL a day (Commission E): counted as it is, in mL."""
    assert amount(remedy(Form.JUICE), "9", Unit.ML) == (TakenAs.JUICE, 9)


def test_a_glycerite_counts_by_its_ratio_and_has_no_ethanol() -> None:
    made = remedy(Form.GLYCERITE, Ingredient(HERB, F(1), F(5)))
    assert amount(made, "10", Unit.ML) == (TakenAs.LIQUID, 2)
    assert strength(made) == 0


def test_what_a_liquid_is_thinned_with_takes_its_share() -> None:
    """5 mL of 45 % hold 1.7758 g of ethanol (worked from OIML R 22); thinned 1 in 2, half."""
    herb = Ingredient(HERB, F(1), F(5), F(45))
    whole, thinned = (
        remedy(Form.TINCTURE, herb),
        remedy(Form.TINCTURE, herb, base=Base("water", F(1))),
    )
    assert strength(whole) == 45
    assert float(grams(F(5), F(45))) == pytest.approx(1.7758, abs=5e-5)
    assert strength(thinned) == F(45, 2)
    assert amount(thinned, "10", Unit.ML) == (TakenAs.LIQUID, 1)


def test_the_sugar_of_a_dose() -> None:
    """Syrup USP: 850 g of sucrose in 1,000 mL (from memory), so 4.25 g in a teaspoon of it."""
    herb = Ingredient(HERB, F(1), F(2), F(25))
    syrup = remedy(Form.SYRUP, herb, base=Base("simple syrup", F(3), F(85)))
    assert sugar_grams(syrup, F(1), Unit.TSP) == F("4.25") * F(3, 4)
    assert sugar_grams(syrup, F(1), Unit.CUP) == Unknown("a syrup is not measured in cup")
    unknown = Unknown("how much syrup is in it is not recorded")
    assert sugar_grams(remedy(Form.SYRUP, herb), F(5), Unit.ML) == unknown
    assert sugar_grams(remedy(Form.TINCTURE, herb), F(5), Unit.ML) is None
    assert sugar_grams(remedy(Form.TEA), F(1), Unit.CUP) is None


@pytest.mark.parametrize(
    ("filling", "form"),
    [
        (Filling.POWDER, TakenAs.POWDER),
        (Filling.EXTRACT, TakenAs.EXTRACT),
        (Filling.SUBSTANCE, TakenAs.SUBSTANCE),
        (Filling.TINCTURE, TakenAs.LIQUID),
        (Filling.ESSENTIAL_OIL, TakenAs.EXTRACT),
        (Filling.INFUSED_OIL, TakenAs.EXTRACT),
        (None, TakenAs.SUBSTANCE),
    ],
)
def test_a_bought_in_product_is_checked_by_its_contents(
    filling: Filling | None, form: TakenAs
) -> None:
    made = remedy(Form.PRODUCT, Ingredient(HERB, mg=F(400), filling=filling))
    assert amount(made, "2", Unit.PIECE) == (form, F("0.8"))


@pytest.mark.parametrize(
    ("told_in", "dose", "parts"),
    [
        ("5 mL", "10 mL", F(2)),
        ("5 mL", "1 tsp", F(1)),
        ("10 drop", "5 drop", F(1, 2)),
        ("5 mL", "3 dropperful", F(3, 5)),
        ("5 g", "500 mg", F(1, 10)),
        ("1 scoop", "2 scoop", F(2)),
        ("2 capsule", "3 capsule", F(3, 2)),
        ("1 tsp", "1 tsp", F(1)),
    ],
)
def test_a_bought_in_product_by_what_its_packet_tells(
    told_in: str, dose: str, parts: Fraction
) -> None:
    told, taken = (read_portion(text, tuple(Unit)) for text in (told_in, dose))
    made = replace(
        remedy(Form.PRODUCT, Ingredient(HERB, mg=F(400))),
        mg_in=told,
        dropperful=Portion(F(1), Unit.ML),
    )
    (found,) = herb_amounts(made, taken.amount, taken.unit)
    assert found.grams == F(2, 5) * parts
    assert measured_units(made)[0] is told.unit
    assert not unit_mistake(made, taken.unit)


def test_a_product_is_measured_in_what_its_packet_tells_alone() -> None:
    made = remedy(Form.PRODUCT, Ingredient(HERB, mg=F(400)), mg_in=Portion(F(5), Unit.ML))
    unknown = Unknown("a bought-in product is not measured in scoop")
    assert amount(made, "1", Unit.SCOOP) == (TakenAs.SUBSTANCE, unknown)
    assert unit_mistake(made, Unit.SCOOP).startswith("measures a bought-in product in scoop")
    (pieces,) = herb_amounts(remedy(Form.PRODUCT, Ingredient(HERB, mg=F(4))), F(1), Unit.G)
    assert pieces.grams == Unknown("a bought-in product is not measured in g")


def test_what_a_dropperful_holds_is_never_guessed() -> None:
    """Droppers differ: 1 mL in one, 0.75 mL in another, and drops by the liquid."""
    made = remedy(Form.TINCTURE, Ingredient(HERB, F(1), F(5)), drops_per_ml=F(40))
    unmeasured = (TakenAs.LIQUID, Unknown(UNMEASURED_DROPPER))
    assert amount(made, "1", Unit.DROPPERFUL) == unmeasured
    assert UNMEASURED_DROPPER in unit_mistake(made, Unit.DROPPERFUL)
    in_ml = replace(made, dropperful=Portion(F(3, 4), Unit.ML))
    in_drops = replace(made, dropperful=Portion(F(30), Unit.DROP))
    for calibrated in (in_ml, in_drops):
        assert amount(calibrated, "2", Unit.DROPPERFUL) == (TakenAs.LIQUID, F(3, 10))
        assert unit_mistake(calibrated, Unit.DROPPERFUL) == ""
        assert formula_mark(calibrated) != formula_mark(made)


def test_a_container_is_filled_by_what_its_form_is_dispensed_in() -> None:
    assert container_units(Form.TEA) == (Unit.G,)
    assert container_units(Form.TINCTURE) == (Unit.ML,)
    assert container_units(Form.CREAM) == (Unit.G, Unit.ML)
    assert container_units(Form.TABLET) == (Unit.TABLET,)
    assert container_units(Form.PRODUCT)[:4] == (Unit.PIECE, Unit.CAPSULE, Unit.TABLET, Unit.ML)


def test_a_container_counts_in_its_own_unit_and_pieces_are_pieces() -> None:
    tea = remedy(Form.TEA, Ingredient(HERB, F(1)))
    bag = replace(tea, container=Portion(F(250), Unit.G))
    assert container_holds(tea, Unit.G) is None
    assert container_holds(bag, Unit.G) == 250
    assert container_holds(bag, Unit.ML) is None
    tub = remedy(Form.PRODUCT, Ingredient(HERB, mg=F(4)), container=Portion(F(90), Unit.CAPSULE))
    assert container_holds(tub, Unit.PIECE) == 90


def test_a_measure_in_usual_spellings() -> None:
    assert read_portion("two teaspoons", PACKET_UNITS) == Portion(F(2), Unit.TSP)
    assert read_portion("30 drops", DROPPER_UNITS) == Portion(F(30), Unit.DROP)
    for wrong in ("30", "1 cup", "1 mL od", "1.0 mL", "1-2 mL"):
        with pytest.raises(DirectionsError):
            read_portion(wrong, PACKET_UNITS)


def test_a_piece_of_which_the_mg_are_not_said() -> None:
    unsaid = Unknown("the mg in one tablet is not recorded")
    assert amount(remedy(Form.TABLET), "1", Unit.TABLET) == (TakenAs.POWDER, unsaid)


# On the skin


def test_percent_by_weight_and_dried_herb_in_100_g() -> None:
    """Arnica ointment: at most 20 to 25 % of tincture (Commission E on arnica). 20 % of a tincture
    of 1:10 is 2 g of dried flower in 100 g."""
    made = remedy(
        Form.OINTMENT,
        Ingredient("arnica", percent=F(20), ratio=F(10), filling=Filling.TINCTURE),
        Ingredient("comfrey", percent=F(5), filling=Filling.POWDER),
        Ingredient("thyme", percent=F(1), filling=Filling.ESSENTIAL_OIL),
        Ingredient("ginger", percent=F(2), filling=Filling.EXTRACT),
    )
    assert skin_strengths(made) == (
        SkinStrength("arnica", Filling.TINCTURE, F(20), F(2)),
        SkinStrength("comfrey", Filling.POWDER, F(5), F(5)),
        SkinStrength("thyme", Filling.ESSENTIAL_OIL, F(1), None),
        SkinStrength("ginger", Filling.EXTRACT, F(2), None),
    )
    rub = remedy(Form.RUB, Ingredient("arnica", F(1), F(10)), base=Base("water", F(3)))
    assert skin_strengths(rub) == (SkinStrength("arnica", None, F(25), F("2.5")),)
    unsaid = remedy(Form.GEL, Ingredient("arnica"))
    assert skin_strengths(unsaid) == (SkinStrength("arnica", None, None, None),)
    assert skin_strengths(remedy(Form.BATH)) == ()


@pytest.mark.parametrize(("drops", "batch", "percent"), [(6, 30, 1), (12, 30, 2), (10, 50, 1)])
def test_drops_of_essential_oil_as_percent(drops: int, batch: int, percent: int) -> None:
    """6 drops in 30 mL are 1 %, 12 are 2 %: the dilution table of the trade (common practice)."""
    oil = Ingredient("thyme", filling=Filling.ESSENTIAL_OIL, drops=F(drops))
    made = remedy(Form.CREAM, oil, batch_g=F(batch))
    assert percent_of(made, oil) == percent
    assert essential_oil_percent(made) == percent
    assert essential_oil_percent(remedy(Form.CREAM, oil)) is None
    assert essential_oil_percent(remedy(Form.CREAM)) == 0
    assert not has_drops_in_nothing(made)
    assert has_drops_in_nothing(remedy(Form.CREAM, oil))
    assert not has_drops_in_nothing(remedy(Form.CREAM))


def test_a_base_holds_no_more_than_the_whole() -> None:
    half = Ingredient("arnica", percent=F(50))
    oil = Ingredient("thyme", filling=Filling.ESSENTIAL_OIL, drops=F(6))
    assert not is_over_the_whole(remedy(Form.CREAM, half, half))
    assert not is_over_the_whole(remedy(Form.CREAM, half, half, oil)), "drops in no known grams"
    assert is_over_the_whole(remedy(Form.CREAM, half, half, oil, batch_g=F(30)))
    assert not is_over_the_whole(remedy(Form.CREAM))


# Words


@pytest.mark.parametrize(
    ("method", "words"),
    [
        (Method.INFUSION, "boiling water"),
        (Method.DECOCTION, "simmer"),
        (Method.MACERATION, "cold water"),
    ],
)
def test_what_is_made_in_water_says_how(method: Method, words: str) -> None:
    making = TeaMaking(F(50), F(1000), method, 480)
    for told in (making_sentence(Form.BATH, making), " ".join(making_steps(Form.BATH, making))):
        assert words in told
        assert "For one bath" in told
        assert "50 g" in told
        assert "8 hours" in told
    assert "90 minutes" in making_sentence(Form.TEA, TeaMaking(F(3), minutes=90))


def test_a_powder_says_what_it_is_stirred_into() -> None:
    assert remedy_words(remedy(Form.POWDER, stirred_into="honey")) == (
        "Stir each dose into honey.",
    )
    assert "water" in remedy_words(remedy(Form.POWDER))[0]
    assert remedy_words(remedy(Form.TEA)) == ()


def test_a_syrup_says_how_much_sugar_is_in_it() -> None:
    """3 parts in 4 of 85 g in 100 mL: 3.19 g in 5 mL."""
    herb = Ingredient(HERB, F(1), F(2), F(25))
    syrup = remedy(Form.SYRUP, herb, base=Base("simple syrup", F(3), F(85)))
    assert remedy_words(syrup) == ("5 mL contains about 3.2 g of sugar.",)
    assert remedy_words(remedy(Form.SYRUP, herb)) == ()
    sugarless = remedy(Form.SYRUP, herb, base=Base("agave", F(3)))
    assert remedy_words(sugarless) == ()


@pytest.mark.parametrize(("ratio", "words"), [("5", "1:5"), ("1", "1:1"), ("0.2", "5:1")])
def test_ratios_of_liquids_and_of_extracts(ratio: str, words: str) -> None:
    assert ratio_words(F(ratio)) == words


def test_steam_is_breathed_in_and_neither_swallowed_nor_on_the_skin() -> None:
    """Scalds: NHS and burns units, from memory."""
    making = TeaMaking(Fraction(10), Fraction(500))
    assert not is_taken_by_mouth(Form.STEAM)
    assert not is_for_skin(Form.STEAM)
    assert making_sentence(Form.STEAM, making) == (
        "For one bowl: pour 500 mL of boiling water on 10 g of the dried herbs."
    )
    assert making_steps(Form.STEAM, making) == (
        "For one bowl, put 10 g of the dried herbs into it and pour on 500 mL of boiling water.",
    )
    assert making_line(Form.STEAM, making) == "1 bowl: 10 g in 500 mL of boiling water"
    assert "Never for small children" in " ".join(Form.STEAM.facts.use)
