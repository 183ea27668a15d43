"""What is taken on some days, in containers, and what goes into it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.settings import DispensarySettings
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.dispensary.taken_within import taken_within
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Method, Portion, TeaMaking
from sennight.domain.supply.needs import Allowance
from sennight.domain.supply.quantities import Quantity
from sennight.domain.supply.settings import SupplySettings
from support import samples
from support.samples import START

F = Fraction
TEA = replace(
    samples.remedy("t1", Form.TEA),
    ingredients=(Ingredient("nettle-leaf", F(2)), Ingredient("ginger", F(1))),
    tea=TeaMaking(F(3), F(250), Method.INFUSION, 10),
)
RUB, CAPSULES = samples.remedy("t2", Form.RUB), samples.remedy("t3", Form.CAPSULE)


def test_the_days_of_a_span_alone_count() -> None:
    """Two cups of 3 g on ten days are 60 g, two parts of nettle to one of ginger."""
    made = samples.course(
        samples.phase(
            "loading",
            "8 w",
            samples.line("t1", "1 cup bd"),
            samples.line("t2", "1 application bd"),
            samples.line("t3", "2 capsules od"),
        )
    )
    layout = lay_out(replace(made, remedies=(TEA, RUB, CAPSULES)))
    ten = Span(START + timedelta(days=3), START + timedelta(days=13))
    tea, rub, capsules = taken_within(layout, ten)
    assert (tea.amount, tea.containers) == (Quantity(F(60), Unit.G), 1)
    assert tea.materials == (
        (Material("nettle-leaf", Held.DRIED, Unit.G), F(40)),
        (Material("ginger", Held.DRIED, Unit.G), F(20)),
    )
    assert (rub.amount.amount, rub.containers, rub.materials) == (F(20), None, ())
    assert (capsules.amount.amount, capsules.containers) == (F(20), 1)
    spilt = SupplySettings(Allowance(spillage=F(1, 10)), grams=F(30))
    assert taken_within(layout, ten, spilt)[0].containers == 3
    assert taken_within(layout, Span(START, START)) == ()


def test_what_holds_where_nothing_is_set() -> None:
    """Half of the most as needed, nothing spilt, and the usual sizes (common practice)."""
    usual = DispensarySettings()
    supply, steps = usual.supply, usual.rounding.steps
    assert (supply.allowance.as_needed, supply.allowance.spillage) == (F(1, 2), F(0))
    assert (supply.ml, supply.grams, supply.capsules) == (F(100), F(100), F(60))
    assert (supply.order_days, steps) == (7, {Unit.G: F(1, 10), Unit.ML: F(1, 2)})
    own = replace(TEA, container=Portion(F(250), Unit.G))
    assert [supply.container_of(made, Unit.G) for made in (TEA, own)] == [100, 250]
    assert supply.container_of(RUB, Unit.APPLICATION) is None
