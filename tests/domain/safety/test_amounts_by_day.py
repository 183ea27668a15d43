"""Constituents by amount, and how often a rub goes on: figures that a text gives for a day."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sennight.domain.courses.courses import Course
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.applications import most_often
from sennight.domain.safety.gravest import gravest
from sennight.domain.safety.statements import (
    AppliedTooOften,
    ChildAmount,
    NoChildDose,
)
from support.safety_samples import MATERIA_MEDICA, course, found, remedy


def tea(herb: str, grams: str) -> Course:
    """So many grams of a herb a day as a tea, in three cups."""
    a_cup = str(Fraction(grams) / 3)
    return course(remedy(herb, amount=a_cup), take="1 cup tds")


@pytest.mark.parametrize(
    ("grams", "severity"), [("5", None), ("6", "caution"), ("12", "caution"), ("18", "caution")]
)
def test_thujone_of_sage_by_amount(grams: str, severity: str | None) -> None:
    """6 mg a day for an adult (Health Canada after the European statement, read).

    1 g of sage as tea holds 0.4 to 1.2 mg (teas of 4.4 and 11.3 mg in a litre, Walch et al. 2011,
    read), so 5 g hold up to 6 mg and 6 g up to 7.2. Sage at 12 g a day was once no finding.
    """
    one = found(tea("sage", grams)).get("burden.thujone.6")
    assert (str(one.severity) if one else None) == severity
    if one:
        sure = "Content varies" not in one.text
        assert sure == (Fraction(grams) > 15)


def test_a_ceiling_says_up_to_and_over() -> None:
    """Sage, 12 g a day (Health Canada, read), which once stood as a range from nothing."""
    assert "over.sage" not in found(tea("sage", "12"))
    assert found(tea("sage", "13"))["over.sage"].severity == "caution"


@pytest.mark.parametrize(("grams", "is_over"), [("1", False), ("1.2", False), ("1.5", True)])
def test_hydroxyanthracenes_of_senna_by_amount(grams: str, *, is_over: bool) -> None:
    """30 mg a day (Health Canada, read); leaf of at least 2.5 % (EMEA draft 2006, read)."""
    one = found(tea("senna", grams)).get("burden.anthraquinones.30")
    assert (one is not None and one.severity == "caution") is is_over


def rub(take: str, *herbs: str) -> Course:
    return course(remedy(*(herbs or ("cayenne",)), form=Form.RUB), take=take)


@pytest.mark.parametrize(
    ("take", "severity"),
    [
        ("1 application qds", None),
        ("1 application qds and prn max 1/day", "caution"),
        ("1 application qds and prn max 2/day", "caution"),
        ("1 application qds and prn max 2/day 1 w on 1 w off", "caution"),
        ("1 application qds and prn max 3/day", "avoid"),
        ("1 application every 1 h", "avoid"),
    ],
)
def test_a_rub_is_put_on_no_more_often_than_is_published(take: str, severity: str | None) -> None:
    """Capsaicin cream 4 times a day (hospital leaflet, read); 16 times was once no finding."""
    one = found(rub(take)).get("over.cayenne")
    assert (str(one.severity) if one else None) == severity
    if one:
        assert "the published maximum is four times" in one.text


def test_applications_of_two_rubs_with_one_herb_count_together() -> None:
    two = course(
        remedy("cayenne", form=Form.RUB),
        remedy("cayenne", "arnica", form=Form.RUB, name="r2"),
        take="1 application tds",
    )
    one = found(two)["over.cayenne"]
    assert "up to 6 applications a day" in one.text
    assert one.remedies == ("r1", "r2")


def test_a_rub_and_a_cream_count_together_a_bath_by_itself() -> None:
    two = course(
        remedy("cayenne", form=Form.RUB),
        remedy("cayenne", form=Form.CREAM, name="r2"),
        remedy("cayenne", form=Form.BATH, name="r3"),
        take="1 application tds",
    )
    one = found(two)["over.cayenne"]
    assert "up to 6 applications a day" in one.text
    assert one.remedies == ("r1", "r2")


def test_a_herb_of_which_no_text_says_how_often_is_not_judged() -> None:
    kind = Form.RUB.facts.published
    silent = next(
        herb
        for herb in MATERIA_MEDICA.herbs.values()
        if "topical" in herb.routes and most_often(herb, kind) is None
    )
    assert f"over.{silent.id}" not in found(rub("1 application every 1 h", silent.id))


def test_of_several_amounts_of_one_herb_the_gravest_is_told() -> None:
    """A flare-up plan may give more of it than the days on which it is taken anyway."""
    origin = MATERIA_MEDICA.herbs["sage"].min_age.origin
    often = AppliedTooOften("cayenne", 5, 4, origin), AppliedTooOften("cayenne", 7, 4, origin)
    less, more = (
        ChildAmount("sage", TakenAs.TEA, Fraction(n), Fraction(2), 8, by_weight=True, source="")
        for n in (3, 5)
    )
    no_dose = NoChildDose("sage", 1, origin), NoChildDose("sage", 2, origin)
    told = gravest((*often, less, more, *no_dose))
    assert told == (often[1], more, no_dose[0])
