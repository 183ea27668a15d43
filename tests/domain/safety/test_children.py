"""Children: never an adult's range, the published figure for the age, else the least of rules.

Figures: Health Canada on chamomile (2009), peppermint (2008), the European Union list on fennel
(2008/911/EC), all read; ginger's single dose from memory of the European monograph. Worked rules:
Young, Cowling, Clark and Salisbury as in the tables of `tests/domain/formulas`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure, exposures
from sennight.domain.herbs.child_doses import KG_PER_LB, least_part, may_be_estimated
from sennight.domain.herbs.herbs import Stated
from sennight.domain.remedies.forms import Form
from support.draws import draws
from support.files import REFERENCES, from_yaml
from support.safety_samples import MATERIA_MEDICA, START, course, found, remedy

few = settings(max_examples=draws(10))


def child(years: int, kg: str | None = None, *, months: int = 0) -> Client:
    born = date(START.year - years - (months > 0), START.month + (12 - months) % 12, 1)
    return Client("Una Example", born, weight_kg=Fraction(kg) if kg else None)


def tea(herb: str, grams: str, client: Client) -> Course:
    a_cup = str(Fraction(grams) / 3)
    return course(remedy(herb, amount=a_cup), take="1 cup tds", client=client)


def rows(made: Course) -> tuple[Exposure, ...]:
    return exposures(lay_out(made), MATERIA_MEDICA)


@pytest.mark.parametrize(
    ("herb", "years", "within", "over", "far_over"),
    [
        ("chamomile", 2, "4", "4.5", "9"),
        ("chamomile", 7, "6", "6.6", "12"),
        ("peppermint", 7, "3", "3.6", "12"),
        ("peppermint", 11, "5", "6", "12"),
        ("fennel", 5, "5", "6", "9"),
    ],
)
def test_a_childs_own_figure_is_gone_by(
    herb: str, years: int, within: str, over: str, far_over: str
) -> None:
    """Chamomile at 9 to 12 g a day for a child of 2 or 3 once was no finding."""
    client = child(years, "20")
    assert f"over.{herb}" not in found(tea(herb, within, client))
    assert found(tea(herb, over, client))[f"over.{herb}"].severity == "caution"
    severity = found(tea(herb, far_over, client))[f"over.{herb}"].severity
    from_memory = (herb, years) == ("peppermint", 11)
    assert severity == ("caution" if from_memory else "avoid")


def test_no_band_of_an_adult_is_shown_for_a_child() -> None:
    (adult,) = rows(tea("chamomile", "9", child(30)))
    (young,) = rows(tea("chamomile", "3", child(3)))
    assert adult.high != young.high == 4
    (none,) = rows(tea("nettle-leaf", "3", child(8)))
    assert (none.band, none.high) == (Band.UNKNOWN, None)
    assert (
        none.why == "no range is published for a child of this age, and an adult's does not apply"
    )


def test_a_birthday_within_the_course_changes_the_range() -> None:
    client = Client("Una Example", date(2022, 1, 18))
    younger, older = rows(tea("chamomile", "3", client))
    assert (younger.high, older.high) == (Fraction(4), Fraction(6))
    assert younger.span.end == older.span.first == date(2027, 1, 18)
    grown = Client("Una Example", date(2015, 1, 18))
    before, after = rows(tea("chamomile", "3", grown))
    assert before.source != after.source


@pytest.mark.parametrize(("kg", "part"), [(None, "0.375"), ("20", "0.29395"), ("12", "0.17637")])
def test_the_least_of_the_rules(kg: str | None, part: str) -> None:
    """At 8 years Young gives 8/20 and Cowling 9/24; Clark 20 kg in pounds ÷ 150."""
    least = least_part(96, Fraction(kg) if kg else None)
    assert float(least) == pytest.approx(float(part), abs=1e-4)


_CALCULATIONS = (REFERENCES / "calculations.yaml").read_text(encoding="utf-8")
PUBLISHED = {row["id"]: row for row in from_yaml(_CALCULATIONS)}
LEAST = [
    (5, None, "cowling_5y"),
    (7, None, "cowling_7y"),
    (10, 50, "clark_50lb_750"),
    (11, 70, "clark_70lb"),
    (8, 30, "clark_30lb"),
]
"""Completed years and pounds, and the published example whose rule gives the least."""


@pytest.mark.parametrize(("years", "pounds", "example"), LEAST, ids=[row[2] for row in LEAST])
def test_the_least_rule_beside_its_published_example(
    years: int, pounds: int | None, example: str
) -> None:
    """The part of the adult dose that a lesson, a study guide or a herb page works out."""
    row = PUBLISHED[example]
    published = Fraction(str(row["expected"])) / Fraction(str(row["inputs"]["adult"]))
    least = least_part(years * 12, None if pounds is None else pounds * KG_PER_LB)
    assert row["inputs"].get("age_y", years) == years
    assert row["inputs"].get("weight_lb", pounds) == pounds
    assert float(least) == pytest.approx(float(published), abs=1e-4)
    assert row["basis"] == "read"


def test_where_a_text_allows_the_age_the_least_rule_is_said_as_such() -> None:
    herb = MATERIA_MEDICA.herbs["lemon-balm"]
    allowed = replace(herb, min_age=Stated(Fraction(4), "", herb.min_age.origin))
    herbs = MATERIA_MEDICA.with_herbs((allowed,))
    heavy = found(tea("lemon-balm", "9", child(8, "25")), herbs)["over.lemon-balm"]
    assert heavy.severity == "avoid"
    assert "no dose is published for a child of 8 years" in heavy.text
    assert "the lowest by the rules of age and weight is" in heavy.text
    unweighed = found(tea("lemon-balm", "9", child(8)), herbs)["over.lemon-balm"]
    assert "rules of age is" in unweighed.text
    assert "Weigh the child, so that weight can be used too" in unweighed.text
    assert "over.lemon-balm" not in found(tea("lemon-balm", "0.6", child(8, "25")), herbs)


def test_where_no_rule_is_to_be_used_that_is_said() -> None:
    """Salicylates, and any herb under 2 years without a figure of its own."""
    herb = MATERIA_MEDICA.herbs["meadowsweet"]
    allowed = replace(herb, min_age=Stated(Fraction(4), "", herb.min_age.origin))
    herbs = MATERIA_MEDICA.with_herbs((allowed,))
    one = found(tea("meadowsweet", "1", child(8, "25")), herbs)["over.meadowsweet"]
    assert "no dose is published for a child of 8 years, and no rule is used" in one.text
    assert not may_be_estimated(allowed, 96)
    balm = MATERIA_MEDICA.herbs["lemon-balm"]
    from_birth = replace(balm, min_age=Stated(Fraction(0), "", balm.min_age.origin))
    herbs = MATERIA_MEDICA.with_herbs((from_birth,))
    said = found(tea("lemon-balm", "1", child(1, "9")), herbs)["over.lemon-balm"].text
    assert "for a child of 1 year, and no rule" in said
    said = found(tea("lemon-balm", "1", child(0, "5", months=4)), herbs)["over.lemon-balm"].text
    assert "for a child of under a year" in said


def test_under_the_least_age_only_the_age_stands() -> None:
    every = found(tea("willow-bark", "30", child(8, "25")))
    assert every["willow-bark.age"].severity == "avoid"
    assert "over.willow-bark" not in every


def test_ages_for_the_mouth_and_for_the_skin_are_apart() -> None:
    """Calendula on the skin from 2 once counted for the mouth too; by mouth nothing under 12."""
    assert "calendula.age" in found(tea("calendula", "3", child(2, "12")))
    rub = course(remedy("calendula", form=Form.RUB), client=child(2, "12"))
    assert "calendula.age" not in found(rub)


@few
@given(st.integers(2, 11), st.integers(1, 30), st.integers(1, 30))
def test_more_is_never_judged_more_mildly(years: int, one: int, two: int) -> None:
    less, more = sorted((one, two))
    order = [None, "caution", "avoid"]
    severities = []
    for grams in (less, more):
        finding = found(tea("chamomile", str(grams), child(years, "20"))).get("over.chamomile")
        severities.append(order.index(str(finding.severity) if finding else None))
    assert severities == sorted(severities)
