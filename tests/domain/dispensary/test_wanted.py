"""What is to be prepared next, and what has to be ordered for it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.lasting import lasting
from sennight.domain.dispensary.preparing import prepare
from sennight.domain.dispensary.stock import Delivery, Held, Material
from sennight.domain.dispensary.wanted import Order, ToPrepare, orders, to_prepare
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.schedule.doses import doses
from sennight.domain.supply.quantities import Quantity
from support import samples
from support.draws import draws
from support.samples import START

F = Fraction
TINCTURE = Remedy("t1", "T", Form.TINCTURE, (Ingredient("x", F(1), F(5), F(45)),))
WEEK = timedelta(days=7)


def course(take: str = "5 mL bd", weeks: str = "12 w") -> Layout:
    made = samples.course(samples.phase("loading", weeks, samples.line("t1", take)))
    return lay_out(replace(made, remedies=(TINCTURE,)))


def wanted(layout: Layout, today: date, *ml: int) -> tuple[ToPrepare, ...]:
    handed = [
        HandedOver("b", "c", "k", "t1", START, Quantity(F(amount), Unit.ML), 1, "MR")
        for amount in ml
    ]
    return to_prepare(layout, lasting(layout, handed), today)


def test_a_course_that_begins_within_a_week_wants_four_weeks() -> None:
    (found,) = wanted(course(), START - timedelta(days=3))
    assert (found.amount, found.containers) == (Quantity(F(280), Unit.ML), 3)
    assert (found.by, found.until) == (START, START + timedelta(days=27))
    assert wanted(course(), START - timedelta(days=8)) == ()


def test_what_runs_out_is_wanted_from_the_day_after_by_the_day_to_order() -> None:
    """100 mL are ten days of 10 mL; more is ordered a week before."""
    (found,) = wanted(course(), START, 100)
    assert found.by == START + timedelta(days=2)
    assert found.until == START + timedelta(days=37)
    assert wanted(course(), START, 840) == ()
    assert wanted(course(), START, 300) == ()
    (late,) = wanted(course(), START + timedelta(days=15), 100)
    assert late.until == START + timedelta(days=42)


def test_at_the_end_only_what_is_left_is_wanted() -> None:
    (found,) = wanted(course(weeks="2 w"), START, 100)
    assert found.amount.amount == 40
    assert found.containers == 1
    assert wanted(course(weeks="1 w"), START + WEEK) == ()


@settings(max_examples=draws(25, long=500))
@given(st.integers(0, 40), st.sampled_from([0, 50, 100, 250, 400]))
def test_what_is_wanted_covers_every_dose_to_the_day_said(after: int, ml: int) -> None:
    """Against the doses themselves: what is there, and what is wanted, is what they take."""
    layout, today = course("5 mL bd on mon wed fri", "8 w"), START + timedelta(days=after)
    for found in wanted(layout, today, *([ml] if ml else [])):
        last = lasting(
            layout, [HandedOver("b", "c", "k", "t1", START, Quantity(F(ml), Unit.ML), 1, "M")]
        )
        since = found.by if not ml or last[0].last_day is None else last[0].last_day + WEEK / 7
        since = max(today, since)
        assert found.until is not None
        span = Span(since, found.until + timedelta(days=1))
        taken = sum(dose.amount for dose in doses(layout) if dose.date in span)
        assert found.amount.amount == taken


def test_what_is_missing_is_ordered_where_it_came_from_last() -> None:
    herb = Material("x", Held.LIQUID, Unit.ML, F(5), F(45))
    other = Material("y", Held.DRIED, Unit.G)
    deliveries = [
        Delivery("d1", herb, "Old Lane", "1", START - WEEK),
        Delivery("d2", herb, "Hedgerow Supplies", "2", START + WEEK),
        Delivery("d3", other, "Hedgerow Supplies", "3"),
    ]
    stock = {"d1": F(500), "d2": F(30), "d3": F(100)}
    made = prepare(TINCTURE, Quantity(F(100), Unit.ML), deliveries, stock, START)
    found = orders([made], deliveries, stock, {herb: F(50), other: F(250)}, START)
    assert found == (
        Order(herb, F(100), F(30), F(50), "Hedgerow Supplies"),
        Order(other, F(0), F(100), F(250), "Hedgerow Supplies"),
    )
    assert [order.amount for order in found] == [120, 150]
    assert orders([], deliveries, stock, {other: F(100)}, START) == ()
    (unknown,) = orders([], deliveries, stock, {Material("z", Held.DRIED, Unit.G): F(1)}, START)
    assert unknown.supplier == ""
    assert unknown.amount == 1


def test_what_runs_out_just_before_a_long_break_is_wanted_when_it_is_over() -> None:
    """Four days of 10 mL, then six weeks off: nothing is taken in the four weeks that follow."""
    layout = course("5 mL bd 4 d on 6 w off", "26 w")
    assert wanted(layout, START, 40) == ()


def test_what_ends_before_today_is_wanted_no_more() -> None:
    assert wanted(course(weeks="2 w"), START + 3 * WEEK) == ()
