"""What was left when the client came: how long it lasts, and how much of what was due is gone."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.lasting import Lasting, lasting
from sennight.domain.dispensary.returned import Returned, by_the_diary, usages
from sennight.domain.dispensary.returned_words import usage_words
from sennight.domain.follow_up.adherence import adherence
from sennight.domain.follow_up.diaries import Taken
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.schedule.doses import doses
from sennight.domain.supply.needs import Allowance, Bottle
from sennight.domain.supply.quantities import Quantity
from support import samples
from support.files import REFERENCES, from_yaml
from support.samples import START

F = Fraction
DAY = timedelta(days=1)
TINCTURE = Remedy("t1", "T", Form.TINCTURE, (Ingredient("x", F(1), F(5), F(45)),))
BOTTLE = Bottle("t1", "t1", Unit.ML)
COUNTED = [
    row
    for row in from_yaml((REFERENCES / "adherence.yaml").read_text(encoding="utf-8"))
    if row["id"].startswith("volume_")
]


def course(take: str = "5 mL bd", weeks: str = "8 w") -> Layout:
    made = samples.course(samples.phase("loading", weeks, samples.line("t1", take)))
    return lay_out(replace(made, remedies=(TINCTURE,)))


def handed(ml: int, day: date = START) -> HandedOver:
    return HandedOver("b", "c", "k", "t1", day, Quantity(F(ml), Unit.ML), 1, "MR")


def left(ml: int, after: int, unit: Unit = Unit.ML) -> Returned:
    return Returned("k", "t1", START + after * DAY, Quantity(F(ml), unit))


@pytest.mark.parametrize("row", COUNTED, ids=lambda row: str(row["id"]))
def test_the_share_that_is_gone_is_as_computed_by_the_published_formula(
    row: dict[str, dict[str, int]],
) -> None:
    told = row["inputs"]
    times = {2: "bd", 3: "tds"}[told["per_day"]]
    (usage,) = usages(
        course(f"{told['dose_ml']} mL {times}"),
        [handed(told["dispensed_ml"])],
        [left(told["returned_ml"], told["days"])],
    )
    assert usage.proportion is not None
    assert float(usage.proportion) == pytest.approx(row["expected"], abs=1e-4)
    assert usage.bounds is not None
    low, high = usage.bounds
    assert low <= usage.proportion <= high


@given(
    st.sampled_from(["5 mL tds", "5 mL bd on mon wed fri", "2 mL od alternate days"]),
    st.integers(2, 40),
    st.integers(0, 200),
)
def test_what_was_due_is_what_the_doses_take(take: str, days: int, ml: int) -> None:
    """Against the doses themselves, one by one."""
    layout = course(take)
    due = sum(dose.amount for dose in doses(layout) if dose.date < START + days * DAY)
    (usage,) = usages(layout, [handed(200)], [left(ml, days)])
    assert usage.due == (due, due)
    assert usage.gone == 200 - ml


def test_bounds_hold_the_level_read_spillage_and_the_days_at_both_ends() -> None:
    """140 of 200 mL in 14 days of 10 mL: 135 to 145 mL, of 13 to 15 days."""
    count = replace(left(60, 14), within=F(5))
    (usage,) = usages(course(), [handed(200)], [count])
    assert usage.proportion == 1
    assert usage.bounds == (F(135, 150), F(145, 130))
    (poured,) = usages(course(), [handed(200)], [count], Allowance(spillage=F(1, 20)))
    assert poured.bounds == (F(135) / F(21, 20) / 150, F(145, 130))


def test_doses_as_needed_and_ranges_have_bounds_alone() -> None:
    (needed,) = usages(course("5 mL od and prn max 2/day"), [handed(200)], [left(60, 14)])
    assert (needed.due, needed.as_needed) == ((F(70), F(70)), F(140))
    assert needed.proportion is None
    assert needed.bounds == (F(0), F(140, 65))
    (ranged,) = usages(course("5-10 mL od"), [handed(200)], [left(60, 14)])
    assert (ranged.due, ranged.proportion) == ((F(70), F(140)), None)
    assert ranged.bounds == (F(140, 150), F(140, 65))


def test_a_count_goes_on_from_the_one_before_with_what_came_since() -> None:
    lost = replace(left(50, 14), lost=F(10))
    first, second = usages(
        course(), [handed(200), handed(100, START + 14 * DAY)], [left(20, 25), lost]
    )
    assert (first.since, first.there, first.gone) == (START, F(200), F(140))
    assert (second.since, second.there, second.gone) == (START + 14 * DAY, F(150), F(130))
    back = replace(lost, is_kept=False)
    _, second = usages(
        course(), [handed(200), handed(100, START + 14 * DAY)], [back, left(20, 25)]
    )
    assert (second.there, second.gone) == (F(100), F(80))


def test_what_cannot_be_told_is_not() -> None:
    assert usages(course(), [], [left(20, 3)]) == ()
    assert usages(course(), [handed(200)], [left(20, 3, Unit.G)]) == ()
    (more,) = usages(course(), [handed(100)], [left(120, 3)])
    assert (more.gone, more.proportion, more.bounds) == (F(-20), None, None)
    early, late = usages(course(), [handed(100)], [left(9, 5, Unit.ML), left(1, 9)])
    assert (early.there, late.there) == (F(100), F(9))
    in_grams = left(5, 4, Unit.G)
    (after_grams,) = usages(course(), [handed(100)], [in_grams, left(20, 8)])
    assert after_grams.there == 100
    both = samples.course(
        samples.phase(
            "loading", "8 w", samples.line("t1", "5 mL bd"), samples.line("t2", "5 mL bd")
        )
    )
    two = lay_out(replace(both, remedies=(TINCTURE, replace(TINCTURE, id="t2"))))
    (alone,) = usages(two, [handed(200)], [left(60, 14)])
    assert alone.due == (F(140), F(140))
    weighed = replace(handed(100), amount=Quantity(F(100), Unit.G))
    (unmeasured,) = usages(course(), [weighed], [left(20, 8, Unit.G)])
    assert unmeasured.due == (F(0), F(0))
    layout = course("1 dropperful bd")
    (unknown,) = usages(layout, [handed(100)], [left(20, 8)])
    assert unknown.due == (F(0), F(0))


def test_what_the_diary_says_of_the_same_days() -> None:
    layout = course()
    diary = [Taken(START + n * DAY, "t1", 1) for n in range(6)]
    (usage,) = usages(layout, [handed(200)], [left(170, 4)])
    days = adherence(layout, diary).days
    assert by_the_diary(usage, days) == F(1, 2)
    assert by_the_diary(usage, ()) is None


def test_what_is_left_holds_from_the_day_on_which_it_was_counted() -> None:
    """10 mL a day: 60 mL left on day 14 are six days more, whatever was reckoned before."""
    (found,) = lasting(course(), [handed(200)], [left(60, 14)])
    last = START + 19 * DAY
    assert found == Lasting(BOTTLE, last, last - 7 * DAY)
    back = replace(left(60, 14), is_kept=False)
    more = handed(100, START + 14 * DAY)
    (found,) = lasting(course(), [handed(200), more], [back])
    assert found.last_day == START + 23 * DAY
    (alone,) = lasting(course(), [], [left(60, 14)])
    assert alone.last_day == START + 19 * DAY


def test_what_is_taken_no_more_is_not_ordered_after_a_count() -> None:
    layout = course(weeks="2 w")
    (found,) = lasting(layout, [handed(200)], [left(60, 20)])
    assert found == Lasting(BOTTLE, START + 13 * DAY, None)


def test_what_a_count_says_in_words() -> None:
    def told(take: str, *counts: Returned, of: int = 200, diary: Fraction | None = None) -> str:
        usage = usages(course(take), [handed(of)], counts)[-1]
        return usage_words(usage, "T", diary)

    days = "T, 4 to 18 January 2027"
    share = f"{days}: 140 mL gone, 140 mL due: 100 %, between 93 and 108 % allowing for error."
    assert told("5 mL bd", left(60, 14)) == share
    assert told("5 mL bd", left(60, 14), diary=F(1)) == f"{share} The diary says 100 %."
    unlike = f"{share} The diary says 50 %, which does not agree."
    assert told("5 mL bd", left(60, 14), diary=F(1, 2)) == unlike
    assert told("5-10 mL od", left(60, 14)) == (
        f"{days}: 140 mL gone, 70 mL to 140 mL due: between 93 and 215 %."
    )
    assert told("5 mL prn max 2/day", left(60, 14)) == (
        f"{days}: 140 mL gone, nothing due at set times and up to 140 mL as needed."
    )
    more = f"{days}: 20 mL more left than there was on record."
    assert told("5 mL bd", left(120, 14), of=100) == more
