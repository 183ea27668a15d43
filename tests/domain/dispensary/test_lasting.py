"""How long what was handed over lasts."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.lasting import Lasting, lasting
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.supply.needs import Bottle
from sennight.domain.supply.quantities import Quantity
from support import samples
from support.samples import START

F = Fraction
TINCTURE = Remedy("t1", "T", Form.TINCTURE, (Ingredient("x", F(1), F(5), F(45)),))
BOTTLE = Bottle("t1", "t1", Unit.ML)


def course(take: str = "5 mL bd") -> Layout:
    made = samples.course(samples.phase("loading", "4 w", samples.line("t1", take)))
    return lay_out(replace(made, remedies=(TINCTURE,)))


def handed(ml: int, day: date = START, unit: Unit = Unit.ML) -> HandedOver:
    return HandedOver("b", "c", "k", "t1", day, Quantity(F(ml), unit), 1, "MR")


def test_two_bottles_last_as_long_as_one_of_their_size() -> None:
    """10 mL a day: 100 and 50 mL from the first day are 15 days."""
    found = lasting(course(), [handed(100), handed(50, START + timedelta(days=6))])
    last = START + timedelta(days=14)
    assert found == (Lasting(BOTTLE, last, last - timedelta(days=7)),)


def test_a_bottle_after_a_gap_owes_nothing_for_it() -> None:
    """30 mL last three days; ten days later there are 50 mL for five days from then on."""
    (found,) = lasting(course(), [handed(50, START + timedelta(days=13)), handed(30)])
    assert found.last_day == START + timedelta(days=17)


def test_enough_for_all_is_not_ordered_again() -> None:
    (found,) = lasting(course(), [handed(280)])
    assert found == Lasting(BOTTLE, START + timedelta(days=27), None)


def test_too_little_for_a_day_is_ordered_at_once() -> None:
    assert lasting(course(), [handed(9)]) == (Lasting(BOTTLE, None, START),)


def test_what_the_course_does_not_take_so_is_left_out() -> None:
    assert lasting(course(), [handed(100, unit=Unit.G)]) == ()
    assert lasting(course(), [handed(100, START + timedelta(weeks=5))]) == ()
