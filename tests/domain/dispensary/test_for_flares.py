"""What is kept at home for flare-ups: prepared at first, used up by a flare, prepared again."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.courses import Flare, Stop
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import HandedOver
from sennight.domain.dispensary.lasting import Lasting, kept_for_flares, lasting
from sennight.domain.dispensary.returned import Returned
from sennight.domain.dispensary.wanted import ToPrepare, to_prepare
from sennight.domain.remedies.forms import Form
from sennight.domain.supply.flare_plans import supplies_again, supplies_if_flare
from sennight.domain.supply.needs import Bottle
from sennight.domain.supply.quantities import Quantity
from support import samples
from support.samples import START

F = Fraction
DAY = timedelta(days=1)
FLARE = Flare(on=START + 7 * DAY, first=START + 7 * DAY, rescue="rescue")
"""On days 8 to 12, five days of the plan."""
KEPT = Bottle("t3", "t3", Unit.ML)


def course(*revisions: Flare | Stop) -> Layout:
    """t2 day by day, and more of it in a flare; t3 in flares alone, 20 mL on each of five days."""
    made = samples.course(
        samples.phase("steady", "8 w", samples.line("t2", "5 mL bd")),
        samples.phase(
            "rescue", "5 d", samples.line("t2", "10 mL qds"), samples.line("t3", "5 mL qds")
        ),
    )
    remedies = (samples.remedy("t2", Form.TINCTURE), samples.remedy("t3", Form.TINCTURE))
    return lay_out(replace(made, start=START, remedies=remedies, revisions=revisions))


def handed(ml: int, day: date = START, remedy: str = "t3") -> HandedOver:
    return HandedOver("b", "c", "k", remedy, day, Quantity(F(ml), Unit.ML), 1, "MR")


def wanted(layout: Layout, today: date, *parts: HandedOver) -> dict[str, ToPrepare]:
    """What is to be prepared for flare-ups, by remedy."""
    kept = kept_for_flares(layout, parts, (), today)
    rows = to_prepare(layout, lasting(layout, parts), today, kept=kept)
    return {row.remedy.id: row for row in rows if row.plan}


def test_it_is_prepared_when_the_course_begins_and_then_there() -> None:
    found = wanted(course(), START)
    assert {name: row.amount.amount for name, row in found.items()} == {"t2": 200, "t3": 100}
    assert (found["t3"].by, found["t3"].until, found["t3"].containers) == (START, None, 1)
    assert wanted(course(), START, handed(100), handed(200, remedy="t2")) == {}
    assert wanted(course(), START - 8 * DAY) == {}
    assert wanted(course(), START + 60 * DAY) == {}


def test_less_than_a_flare_needs_is_filled_up_where_it_is_for_flares_alone() -> None:
    """Of what is taken every day too, that what is there runs out decides."""
    found = wanted(course(), START + 1 * DAY, handed(40), handed(10, remedy="t2"))
    assert {name: row.amount.amount for name, row in found.items()} == {"t3": 60}


def test_a_flare_uses_it_and_it_is_prepared_and_ordered_again() -> None:
    called, ended = course(FLARE), START + 11 * DAY
    parts = (handed(130), handed(600, remedy="t2"))
    assert supplies_if_flare(called) == ()
    again = {row.bottle.remedy: row for row in supplies_again(called)}
    assert (again["t3"].amount, again["t3"].order_by) == (F(100), ended)
    assert wanted(called, START + 12 * DAY, *parts)["t3"].amount.amount == 70
    rows = {row.bottle: row for row in lasting(called, parts)}
    assert rows[KEPT] == Lasting(KEPT, ended, ended, "rescue")
    refilled = (*parts, handed(70, START + 13 * DAY))
    assert wanted(called, START + 13 * DAY, *refilled) == {}
    rows = {row.bottle: row for row in lasting(called, refilled)}
    assert rows[KEPT] == Lasting(KEPT, ended, None)


def test_what_was_left_after_the_flare_counts() -> None:
    called, came = course(FLARE), START + 14 * DAY
    count = Returned("k", "t3", came, Quantity(F(95), Unit.ML))
    kept = {
        row.supply.bottle: row for row in kept_for_flares(called, [handed(130)], [count], came)
    }
    assert (kept[KEPT].at_home, kept[KEPT].missing) == (F(95), F(5))


def test_what_is_stopped_or_cannot_come_any_more_is_not_prepared_again() -> None:
    stopped = course(FLARE, Stop(on=START + 12 * DAY, first=START + 12 * DAY, remedy="t3"))
    assert [row.bottle.remedy for row in supplies_again(stopped)] == ["t2"]
    to_the_end = Flare(on=START, first=START + 7 * DAY, last=START + 55 * DAY, rescue="rescue")
    assert supplies_again(course(to_the_end)) == ()
