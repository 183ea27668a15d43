"""The table of a formula's herbs: what is typed reaches the formula only when it can be read."""

from __future__ import annotations

from fractions import Fraction

import pytest
from pytestqt.modeltest import ModelTester

from sennight.desktop.remedies.columns import Part, parts_of
from sennight.desktop.remedies.parts_model import WRONG, FormulaEditRequest, PartsModel
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.practice.materia_medica import supplied_materia_medica
from support.sample_practice import DROPS, TEA

CAPSULE = Remedy("c", "Caps", Form.CAPSULE, (Ingredient("boswellia", mg=Fraction(400)),))


def model_of(remedy: Remedy) -> tuple[PartsModel, list[FormulaEditRequest]]:
    model = PartsModel()
    asked: list[FormulaEditRequest] = []
    model.set_herbs(dict(supplied_materia_medica().herbs))
    model.show_remedy(remedy)
    model.asked.connect(asked.append)
    model.asked.connect(lambda wanted: model.show_remedy(wanted.remedy))
    return model, asked


def cell(model: PartsModel, row: int, part: Part) -> object:
    return model.index(row, model.parts.index(part)).data()


def put(model: PartsModel, row: int, part: Part, text: str) -> bool:
    return model.setData(model.index(row, model.parts.index(part)), text)


@pytest.mark.parametrize("remedy", [TEA, DROPS, CAPSULE], ids=lambda remedy: remedy.name)
def test_the_model_is_sound(remedy: Remedy, qtmodeltester: ModelTester) -> None:
    model, _ = model_of(remedy)
    qtmodeltester.check(model)
    model.show_remedy(TEA)
    qtmodeltester.check(model)


def test_shares_are_exact_and_sum_to_one() -> None:
    model, _ = model_of(TEA)
    assert cell(model, 0, Part.SHARE) == "2/3 · 66.7 %"
    assert cell(model, 1, Part.SHARE) == "1/3 · 33.3 %"
    put(model, 0, Part.PARTS, "1/7")
    assert sum(share or 0 for share in shares(model.remedy)) == 1


@pytest.mark.parametrize(
    ("part", "typed", "value"),
    [
        (Part.PARTS, "2.5", Fraction(5, 2)),
        (Part.PARTS, "2,5", Fraction(5, 2)),
        (Part.PARTS, "1½", Fraction(3, 2)),
        (Part.PARTS, "40 mL", Fraction(40)),
        (Part.PARTS, "20%", Fraction(20)),
        (Part.RATIO, "1:2.5", Fraction(5, 2)),
        (Part.RATIO, "4", Fraction(4)),
        (Part.ETHANOL, "45 %", Fraction(45)),
    ],
)
def test_amounts_are_read_in_the_usual_ways(part: Part, typed: str, value: Fraction) -> None:
    model, asked = model_of(DROPS)
    put(model, 0, part, typed)
    one = asked[-1].remedy.ingredients[0]
    assert {Part.PARTS: one.parts, Part.RATIO: one.ratio, Part.ETHANOL: one.ethanol}[part] == value


@pytest.mark.parametrize(
    ("remedy", "part", "typed"),
    [
        (remedy, part, typed)
        for remedy in (TEA, DROPS, CAPSULE)
        for part in parts_of(remedy.form)
        if part not in (Part.SHARE, Part.FILLING, Part.HERB)
        and (remedy, part) != (CAPSULE, Part.RATIO)
        for typed in ("", "-1", "much", "1/0", "1e3", "٣", "nan", "9999999")
    ],
)
def test_what_cannot_be_read_stays_as_typed_and_is_told_where(
    remedy: Remedy, part: Part, typed: str
) -> None:
    model, asked = model_of(remedy)
    put(model, 0, part, typed)
    assert not asked
    assert model.remedy == remedy
    assert cell(model, 0, part) == typed
    assert model.index(0, model.parts.index(part)).data(WRONG)
    assert model.first_wrong().startswith(f"Row 1, {model.heading(part)}: ")


def test_what_was_wrong_is_right_once_it_is_put_right() -> None:
    model, asked = model_of(DROPS)
    put(model, 0, Part.RATIO, "1:0")
    assert "a ratio, for example 1:5" in model.first_wrong()
    put(model, 0, Part.RATIO, "1:5")
    assert not model.first_wrong()
    assert asked[-1].remedy.ingredients[0].ratio == 5


def test_a_herb_comes_in_by_any_of_its_names_with_its_usual_ratio_and_strength() -> None:
    model, asked = model_of(DROPS)
    assert put(model, 1, Part.HERB, "zingiber officinale roscoe")
    one = asked[-1].remedy.ingredients[1]
    assert one.herb == "ginger"
    assert one.ratio is not None
    assert one.ethanol is not None
    herb = supplied_materia_medica().herbs["ginger"]
    assert herb.min_ethanol is not None
    assert one.ethanol >= herb.min_ethanol.value


def test_an_unknown_herb_is_told_with_the_nearest_name() -> None:
    model, asked = model_of(TEA)
    put(model, 2, Part.HERB, "Gingr")
    assert not asked
    assert "Gingr" in model.first_wrong()
    assert "Ginger" in model.first_wrong()


def test_herbs_can_be_taken_out_and_moved() -> None:
    model, asked = model_of(TEA)
    assert model.move(0, 1) == 1
    assert [one.herb for one in model.remedy.ingredients] == ["ginger", "nettle-leaf"]
    model.remove(0)
    assert [one.herb for one in model.remedy.ingredients] == ["nettle-leaf"]
    assert len(asked) == 2


def test_a_capsules_filling_is_chosen() -> None:
    model, asked = model_of(CAPSULE)
    put(model, 0, Part.FILLING, "extract")
    assert asked[-1].remedy.ingredients[0].filling is Filling.EXTRACT


def test_a_formula_is_typed_in_one_go() -> None:
    model, asked = model_of(Remedy("t", "T", Form.TEA, ()))
    put(model, 0, Part.HERB, "nettle leaf 2, ginger 1/2")
    (edit,) = asked
    assert edit.remedy.ingredients == (
        Ingredient("nettle-leaf", Fraction(2)),
        Ingredient("ginger", Fraction(1, 2)),
    )
    put(model, 2, Part.HERB, "nettle leaf 2, ginger 2 3")
    assert len(asked) == 1
    assert "says its parts twice" in model.wrong(2, Part.HERB)
