"""Formulas as people write them, in one field."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sennight.domain.formulas.writing import FormulaError, read_formula
from sennight.domain.herbs.naming import HerbNames
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient
from sennight.practice.materia_medica import supplied_materia_medica

F = Fraction
HERBS = supplied_materia_medica()
NAMES = HerbNames(HERBS.headings)


def read(text: str, form: Form) -> tuple[Ingredient, ...]:
    return read_formula(text, form, NAMES, HERBS)


@pytest.mark.parametrize(
    "text",
    [
        "birch leaf 3, yarrow 2, meadowsweet 1",
        "Birch leaf 3; Yarrow 2; Meadowsweet 1",
        "birch leaf 3 parts\nyarrow 2 parts\nmeadowsweet 1 part\n",
        "3 birch leaf,2 yarrow,meadowsweet",
        "birch leaf 3 g, yarrow 2 g, meadowsweet 1 g",
        "birch leaf 3%, yarrow 2%, meadowsweet 1%",
        "betula pendula 3, achillea millefolium 2, filipendula ulmaria 1",
    ],
)
def test_a_tea_in_one_go(text: str) -> None:
    assert read(text, Form.TEA) == (
        Ingredient("birch-leaf", F(3)),
        Ingredient("yarrow", F(2)),
        Ingredient("meadowsweet", F(1)),
    )


@pytest.mark.parametrize(
    "text", ["yarrow 1:5 45% 30", "yarrow 30 mL 1:5 45 %", "30 yarrow 45% 1:5"]
)
def test_a_tincture_with_ratio_strength_and_parts(text: str) -> None:
    assert read(text, Form.TINCTURE) == (Ingredient("yarrow", F(30), F(5), F(45)),)


def test_what_is_not_said_is_the_herbs_usual() -> None:
    """Yarrow as a tincture: 1:5 in 45 % (the record's own texts)."""
    (said,) = read("yarrow 2,5", Form.TINCTURE)
    assert (said.parts, said.ratio, said.ethanol) == (F("2.5"), F(5), F(45))
    assert read("yarrow 1/3", Form.TEA)[0].parts == F(1, 3)
    assert read("yarrow 0% 2", Form.TINCTURE)[0].ethanol == 0


def test_pieces_and_bases() -> None:
    assert read("boswellia extract 400 mg 5:1, ginger powder 50", Form.CAPSULE) == (
        Ingredient("boswellia", ratio=F(1, 5), mg=F(400), filling=Filling.EXTRACT),
        Ingredient("ginger", mg=F(50), filling=Filling.POWDER),
    )
    assert read("arnica tincture 20% 1:10, thyme 12 drops, comfrey 5", Form.CREAM) == (
        Ingredient("arnica", ratio=F(10), filling=Filling.TINCTURE, percent=F(20)),
        Ingredient("thyme", filling=Filling.ESSENTIAL_OIL, drops=F(12)),
        Ingredient("comfrey", filling=Filling.INFUSED_OIL, percent=F(5)),
    )
    assert read("yarrow 1:5 30%", Form.GLYCERITE)[0].parts == 30


@pytest.mark.parametrize(
    ("text", "form", "words"),
    [
        ("yarrow 2, moonwort 1", Form.TEA, "no herb is called “moonwort”"),
        ("moonwort 5", Form.CREAM, "no herb is called “moonwort”"),
        ("3", Form.TEA, "no herb is called “3”"),
        ("nettle 2", Form.TEA, "“nettle” may be"),
        ("yarrow 2 3", Form.TEA, "“yarrow 2 3” says its parts twice"),
        ("yarrow 0", Form.TEA, "expected parts above 0"),
        ("yarrow 1/0", Form.TEA, "expected parts above 0"),
        ("yarrow 0:5", Form.TINCTURE, "expected ratio above 0"),
        ("yarrow 120%", Form.TINCTURE, "expected strength of at most 100 %"),
        ("comfrey 120", Form.CREAM, "expected percent of at most 100 %"),
        ("yarrow 1:5", Form.TEA, "a tea is not written with “1:5”"),
        ("yarrow 5 drops", Form.TEA, "a tea is not written with “5 drops”"),
        ("yarrow 400 mg", Form.TINCTURE, "a tincture is not written with “400 mg”"),
    ],
)
def test_what_cannot_be_read_is_told(text: str, form: Form, words: str) -> None:
    with pytest.raises(FormulaError) as told:
        read(text, form)
    assert words in str(told.value)
