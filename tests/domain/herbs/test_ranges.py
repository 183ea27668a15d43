"""The working range of a herb and form, rule by rule, and against a naive reading of all data."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from sennight.domain.herbs.doses import DoseRow, Route, TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.ranges import working_range
from sennight.domain.herbs.sources import Basis, SourceKind
from sennight.practice.materia_medica import supplied_materia_medica
from support.herb_samples import herb, ratio, row

LIQUIDS = ("tincture", "liquid-extract", "juice")
FORMS = {
    TakenAs.TEA: ("infusion", "decoction", "macerate"),
    TakenAs.LIQUID: LIQUIDS,
    TakenAs.POWDER: ("powder",),
    TakenAs.EXTRACT: ("dry-extract",),
}


def limits(
    one: Herb, form: TakenAs = TakenAs.TEA, ratio: str | None = None
) -> tuple[float, ...] | None:
    found = working_range(one, form, Fraction(ratio) if ratio else None)
    return (float(found.low), float(found.high)) if found else None


@pytest.mark.parametrize("form", ["infusion", "decoction", "macerate"])
def test_a_tea_is_compared_with_every_kind_of_tea(form: str) -> None:
    assert limits(herb("x", row(form, "2-4 g"))) == (2, 4)


def test_no_range_is_taken_from_another_form() -> None:
    one = herb("x", row("powder", "2-4 g"), row("dry-extract", "100-200 mg"))
    assert limits(one) is None
    assert limits(one, TakenAs.LIQUID, "5") is None
    assert limits(one, TakenAs.POWDER) == (2, 4)
    assert limits(one, TakenAs.EXTRACT) == (0.1, 0.2)


def test_liquids_become_dried_herb_through_their_own_ratio() -> None:
    assert limits(herb("x", row("tincture", "5-10 mL", per="1:5")), TakenAs.LIQUID) == (1, 2)
    spanned = herb("x", row("liquid-extract", "4-8 mL", per="1:3.5-4.5"))
    assert limits(spanned, TakenAs.LIQUID) == (1, 2)
    pressed = herb("x", row("juice", "6-9 mL", per="1.5-2.5:1"))
    assert limits(pressed, TakenAs.LIQUID) == (12, 18)
    drops = herb("x", row("tincture", "20-100 drop", per="1:5"))
    assert limits(drops, TakenAs.LIQUID) == (0.2, 1)


@pytest.mark.parametrize(
    ("form", "daily", "taken"),
    [
        ("tincture", "5-10 mL", TakenAs.LIQUID),  # no ratio of its own
        ("tincture", "5-10 g", TakenAs.LIQUID),  # weighed
        ("infusion", "6 tsp", TakenAs.TEA),
        ("dry-extract", "100 mg of aescin", TakenAs.EXTRACT),
        ("powder", "10 drop", TakenAs.POWDER),
        ("whole-fruit", "5-15 berry", TakenAs.TEA),
        ("powder", None, TakenAs.POWDER),
    ],
)
def test_what_cannot_be_told_as_grams_gives_no_range(
    form: str, daily: str | None, taken: TakenAs
) -> None:
    assert limits(herb("x", row(form, daily)), taken) is None


def test_what_is_not_taken_by_mouth_gives_no_range() -> None:
    assert limits(herb("x", row("infusion", "2-4 g", route=Route.TOPICAL))) is None


def test_the_best_source_wins_by_the_basis_of_the_daily_dose() -> None:
    ranked = [
        row("infusion", "9 g", kind=SourceKind.OFFICIAL),
        row("infusion", "8 g", kind=SourceKind.TEXTBOOK),
        row("infusion", "7 g", kind=SourceKind.SECONDARY),
        row("infusion", "6 g", kind=SourceKind.OFFICIAL, basis=Basis.MEMORY),
    ]
    for n, best in enumerate(ranked):
        assert best.daily
        found = working_range(herb(f"x{n}", *reversed(ranked[n:])), TakenAs.TEA)
        assert found
        assert found.high == best.daily.high
        assert found.from_memory == (best is ranked[-1])
        assert ("not yet checked" in found.source) == found.from_memory


def test_among_equals_the_nearest_ratio_wins_on_a_log_scale() -> None:
    one = herb(
        "x",
        row("tincture", "1 mL", per="1:1"),
        row("tincture", "20 mL", per="1:5"),
        row("tincture", "60 mL", per="1:10"),
    )
    assert limits(one, TakenAs.LIQUID, "2") == (1, 1)  # 2 is nearer to 1 than to 5: √5 = 2.236
    assert limits(one, TakenAs.LIQUID, "2.3") == (4, 4)
    assert limits(one, TakenAs.LIQUID, "7") == (4, 4)  # √50 = 7.07
    assert limits(one, TakenAs.LIQUID, "7.1") == (6, 6)


def test_then_the_lower_maximum_and_then_the_lower_minimum() -> None:
    assert limits(herb("x", row("infusion", "1-9 g"), row("infusion", "4-6 g"))) == (4, 6)
    assert limits(herb("y", row("infusion", "4-6 g"), row("infusion", "3-6 g"))) == (3, 6)
    tied = herb("z", row("tincture", "5 mL", per="1:2"), row("tincture", "8 mL", per="1:8"))
    assert limits(tied, TakenAs.LIQUID, "4") == (1, 1)  # 2 and 8 lie equally far from 4


def test_a_doubted_row_is_kept_and_not_compared_with() -> None:
    """Devil's claw as tea: one page reads 4.5 g three times a day, where the European monograph
    (from memory) has 4.5 g a day in three portions. The careful reading holds."""
    claw = supplied_materia_medica().herbs["devils-claw"]
    assert [row.daily.high for row in claw.doses if row.doubted and row.daily] == [
        Fraction("13.5")
    ]
    assert limits(claw, TakenAs.TEA, "5") == (4.5, 4.5)


# Against a naive reading of everything that is held


def naive(one: Herb, form: TakenAs, wanted: float | None) -> tuple[float, float] | None:
    """All rows sorted by one list of floats."""
    found = []
    for each in one.doses:
        grams = naive_grams(each, form)
        if grams:
            kinds = {"official": 0, "textbook": 1, "secondary": 2}
            trust = kinds.get(each.dose_from.source.kind, 3) if each.daily_basis == "read" else 3
            own = each.ratio
            away = 0.0
            if own and wanted and form == "liquid":
                middle = float(sum(own.made) / sum(own.herb))  # halves cancel
                away = round(abs(math.log(middle / wanted)), 9)
            found.append((trust, away, grams[1], grams[0]))
    best = min(found, default=None)
    return (best[3], best[2]) if best else None


def naive_grams(each: DoseRow, form: TakenAs) -> tuple[float, float] | None:
    daily = each.daily
    if not daily or daily.of or each.form not in FORMS[form] or each.route != "oral":
        return None
    if each.doubted:
        return None
    if form == "liquid":
        per_unit = {"mL": 1.0, "drop": 0.05, "tsp": 5.0}.get(daily.unit)
        if not per_unit or not each.ratio:
            return None
        per_unit *= float(sum(each.ratio.herb) / sum(each.ratio.made))
    else:
        per_unit = {"g": 1.0, "mg": 0.001}.get(daily.unit)
        if not per_unit:
            return None
    return float(daily.low) * per_unit, float(daily.high) * per_unit


@pytest.mark.parametrize("herb_id", list(supplied_materia_medica().herbs))
def test_every_supplied_herb_against_a_naive_reading(herb_id: str) -> None:
    one = supplied_materia_medica().herbs[herb_id]
    for form in TakenAs:
        for wanted in ("1", "2", "3", "5", "10"):
            expected = naive(one, form, float(wanted))
            found = limits(one, form, wanted)
            assert (found is None) == (expected is None)
            if found and expected:
                assert found == pytest.approx(expected)


def test_ranges_that_were_worked_out_by_hand() -> None:
    """From the texts held for the herb: Community monograph on turmeric (2010 text).

    Powder 1.5 to 3 g; tincture 1:10 at 0.5 to 1 mL three times, 1:5 at 10 mL once or 5 mL three
    times; Commission E cramp bark and others have no such figure.
    """
    turmeric = supplied_materia_medica().herbs["turmeric"]
    assert limits(turmeric, TakenAs.POWDER) == (1.5, 3)
    assert limits(turmeric, TakenAs.LIQUID, "5") == (2, 3)
    assert limits(turmeric, TakenAs.LIQUID, "10") == pytest.approx((0.15, 0.3))
    ginger = supplied_materia_medica().herbs["ginger"]
    assert limits(ginger, TakenAs.TEA) is None


def test_ratio_of_a_span_is_that_of_its_middle() -> None:
    assert ratio("1:5").made_per_herb == 5
    assert ratio("4-7:1").made_per_herb == Fraction(2, 11)
