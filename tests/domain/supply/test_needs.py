"""What a course asks for, against worked figures and against a walk over the days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Portion, Remedy
from sennight.domain.supply.containers import phase_supplies
from sennight.domain.supply.needs import (
    Allowance,
    Bottle,
    DailyNeed,
    Unmeasured,
    daily_needs,
    last_day_needed,
    lasts_until,
    needs,
    unmeasured,
)
from support import samples
from support.draws import draws
from support.files import REFERENCES, from_yaml
from support.samples import START

F = Fraction
ROWS = [
    row
    for row in from_yaml((REFERENCES / "calculations.yaml").read_text(encoding="utf-8"))
    if row["group"] == "quantity_to_dispense"
]
TINCTURE = Remedy("t1", "T", Form.TINCTURE, (Ingredient("x", F(1), F(5), F(45)),))
BOTTLE = Bottle("t1", "t1", Unit.ML)


def course(take: str, length: str = "12 w", remedy: Remedy = TINCTURE) -> Layout:
    made = samples.course(samples.phase("loading", length, samples.line(remedy.id, take)))
    return lay_out(replace(made, remedies=(remedy,)))


RHYTHM = {1: "od", 2: "bd", 3: "tds", 4: "qds"}


def rows(what: str) -> list[Any]:
    found = [pytest.param(row["inputs"], row["expected"], id=row["id"]) for row in ROWS]
    chosen = [p for p, row in zip(found, ROWS, strict=True) if row["what"] == what]
    assert chosen
    return chosen


@pytest.mark.parametrize(("told", "expected"), rows("volume to dispense"))
def test_volume_to_dispense(told: dict[str, Any], expected: float) -> None:
    take = f"{told['dose_ml']} mL {RHYTHM[told['times_per_day']]}"
    (need,) = needs(course(take, f"{told['days']} d"))
    assert float(need.amount) == expected


@pytest.mark.parametrize(("told", "expected"), rows("whole doses and full days in a bottle"))
def test_full_days_in_a_bottle(told: dict[str, Any], expected: dict[str, int]) -> None:
    daily = daily_needs(course(f"{told['dose_ml']} mL {RHYTHM[told['times_per_day']]}"))
    last = lasts_until(daily, BOTTLE, START, F(told["bottle_ml"]))
    assert last == START + timedelta(days=expected["full_days"] - 1)


def test_half_of_what_may_be_taken_as_needed_is_reckoned() -> None:
    layout = course("5 mL bd and prn max 3/day", "10 d")
    assert [need.amount for need in needs(layout)] == [F(10 * (2 * 5)) + F(10 * 3 * 5, 2)]
    (lean,) = needs(layout, Allowance(as_needed=F(0), spillage=F(1, 10)))
    assert lean.amount == F(110)


def test_needs_of_some_days_only() -> None:
    layout = course("5 mL bd on mon thu", "4 w")
    (need,) = needs(layout, within=Span.of_days(date(2027, 1, 5), date(2027, 1, 14)))
    assert (need.amount, need.first, need.last) == (F(30), date(2027, 1, 7), date(2027, 1, 14))
    assert needs(layout, within=Span.of_days(date(2027, 1, 5), date(2027, 1, 6))) == ()


def test_how_long_a_bottle_lasts_where_it_is_not_taken_daily() -> None:
    """Mondays and Thursdays, 10 mL each: 25 mL cover two days, 5 mL none."""
    daily = daily_needs(course("5 mL bd on mon thu", "2 w"))
    assert lasts_until(daily, BOTTLE, START, F(25)) == START + timedelta(days=3)
    assert lasts_until(daily, BOTTLE, START + timedelta(days=1), F(25)) == date(2027, 1, 11)
    assert lasts_until(daily, BOTTLE, START, F(5)) is None
    assert lasts_until(daily, BOTTLE, START + timedelta(weeks=9), F(5)) is None


def test_a_bottle_reaches_into_the_next_phase_and_stops_in_it() -> None:
    made = samples.course(
        samples.phase("one", "2 d", samples.line("t1", "5 mL bd")),
        samples.phase("two", "2 d", samples.line("t1", "10 mL bd")),
    )
    daily = daily_needs(lay_out(replace(made, remedies=(TINCTURE,))))
    assert lasts_until(daily, BOTTLE, START, F(30)) == START + timedelta(days=1)
    assert lasts_until(daily, BOTTLE, START, F(45)) == START + timedelta(days=2)
    assert lasts_until(daily, BOTTLE, START, F(99)) == START + timedelta(days=3)


def test_what_is_not_measured_is_told_once() -> None:
    untold = Remedy("t3", "C", Form.CAPSULE, (Ingredient("x"),))
    layout = course("1 g bd", remedy=untold)
    assert needs(layout) == ()
    assert unmeasured(layout) == (
        Unmeasured("t3", "loading", "the mg in one capsule is not recorded"),
    )


def test_containers_of_a_phase_use_up_what_earlier_ones_left() -> None:
    """84 days × 15 mL leave 40 mL of 13 bottles of 100 mL; 28 × 10 mL then need 3 more."""
    made = samples.course(
        samples.phase("loading", "12 w", samples.line("t1", "5 mL tds")),
        samples.phase("maintenance", "4 w", samples.line("t1", "5 mL bd")),
    )
    loading, maintenance = phase_supplies(lay_out(replace(made, remedies=(TINCTURE,))))
    assert (loading.amount, loading.containers) == (F(1260), 13)
    assert loading.lasts_until == date(2027, 3, 28) + timedelta(days=4)
    assert loading.order_by == loading.lasts_until - timedelta(days=7)
    assert (maintenance.amount, maintenance.containers) == (F(280), 3)
    assert (maintenance.lasts_until, maintenance.order_by) == (date(2027, 4, 25), None)


def test_containers_are_as_large_as_the_remedy_says() -> None:
    """84 days × 15 mL are 1,260 mL: five bottles of 300 mL."""
    bottle = replace(TINCTURE, container=Portion(F(300), Unit.ML))
    (row,) = phase_supplies(course("5 mL tds", remedy=bottle))
    assert (row.amount, row.containers) == (F(1260), 5)


def test_applications_fill_no_container() -> None:
    rub = Remedy("t4", "R", Form.RUB, TINCTURE.ingredients)
    (row,) = phase_supplies(course("1 application tds", remedy=rub))
    assert (row.amount, row.containers, row.lasts_until) == (F(252), None, None)


def _a_day(daily: tuple[DailyNeed, ...], bottle: Bottle, day: date) -> Fraction:
    return sum(
        (n.a_day for n in daily if n.bottle == bottle and n.stretch.taken_on(day)), Fraction(0)
    )


@settings(max_examples=draws(20))
@given(samples.possible_courses(), st.integers(0, 3000), st.integers(0, 80))
def test_both_ways_of_counting_agree(made: Course, held: int, wait: int) -> None:
    """Amounts and last days from stretches are those of a walk over all the days."""
    layout = lay_out(made)
    daily, since = daily_needs(layout), made.start + timedelta(days=wait)
    days = Span(since, layout.days.end)
    for bottle in {need.bottle for need in daily}:
        total = sum((n.amount for n in needs(layout, within=days) if n.bottle == bottle), F(0))
        uses = {day: _a_day(daily, bottle, day) for day in days}
        assert total == sum(uses.values())
        covered, left = None, F(held)
        for day in (
            day
            for day in days
            if any(n.bottle == bottle and n.stretch.taken_on(day) for n in daily)
        ):
            if uses[day] > left:
                break
            covered, left = day, left - uses[day]
        assert lasts_until(daily, bottle, since, F(held)) == covered
    assert {n.bottle for n in daily if n.a_day} == {
        n.bottle for n in daily if last_day_needed(daily, n.bottle)
    }


@pytest.mark.parametrize(
    ("cool", "warm_a_day", "cool_a_day"),
    [
        ("1 application prn max 4/day", F(1), F(1)),
        ("1 application bd and prn max 2/day", F(2, 3), F(7, 3)),
        ("1 application qds", F(1, 2), F(4)),
        ("1 application prn max 4/day on mon", F(2), F(1)),
        ("1 application prn max 4/day every 2 days", F(2), F(1)),
    ],
    ids=[
        "two of four, one each",
        "what the timed doses leave, by what each allows",
        "the ceiling is full, and one dose is reckoned with all the same",
        "one that comes less often takes nothing from the other",
        "counted days alike",
    ],
)
def test_what_a_shared_ceiling_leaves_is_divided(
    cool: str, warm_a_day: Fraction, cool_a_day: Fraction
) -> None:
    """No more than 4 rubs a day, all rubs together; half of the most as needed is reckoned."""
    rubs = tuple(Remedy(name, name, Form.RUB, ()) for name in ("warm", "cool"))
    lines = (samples.line("warm", "1 application prn max 4/day"), samples.line("cool", cool))
    plan = samples.course(samples.phase("loading", "4 w", *lines))
    protocol = replace(plan.protocol, ceilings=(Ceiling(("warm", "cool"), 4),))
    daily = daily_needs(lay_out(replace(plan, remedies=rubs, protocol=protocol)))
    assert {need.stretch.remedy: need.a_day for need in daily} == {
        "warm": warm_a_day,
        "cool": cool_a_day,
    }


@pytest.mark.parametrize(("every", "parts"), [(3, [(1, F(1)), (10, F(3, 2))]), (14, [(1, F(1))])])
def test_a_stretch_is_cut_where_the_other_under_its_ceiling_ends(
    every: int, parts: list[tuple[int, Fraction]]
) -> None:
    """Counted days go on from the anchor: every 3 days from day 1 are 1, 4, 7, 10, 13."""
    rubs = tuple(Remedy(name, name, Form.RUB, ()) for name in ("warm", "cool"))
    often = samples.line("warm", f"1 application prn max 4/day every {every} days")
    short = samples.line("cool", "1 application prn max 4/day", (1, "1 application od"))
    plan = samples.course(samples.phase("loading", "2 w", often, short))
    protocol = replace(plan.protocol, ceilings=(Ceiling(("warm", "cool"), 4),))
    daily = daily_needs(lay_out(replace(plan, remedies=rubs, protocol=protocol)))
    warm = [need for need in daily if need.stretch.remedy == "warm"]
    starts = [(need.stretch.span.first - START).days + 1 for need in warm]
    assert [*zip(starts, (need.a_day for need in warm), strict=True)] == parts
