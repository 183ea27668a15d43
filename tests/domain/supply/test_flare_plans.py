"""What is kept at home for flare-up plans that no flare has called yet."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

from sennight.domain.courses.courses import Course, Flare, Stop
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import Unit
from sennight.domain.remedies.forms import Form
from sennight.domain.supply.containers import PhaseSupply
from sennight.domain.supply.flare_plans import supplies_if_flare
from sennight.domain.supply.needs import Bottle
from support import samples

START = date(2027, 1, 4)


def course() -> Course:
    """5 mL twice a day for four weeks; in a flare 10 mL four times a day, and rubs."""
    line, phase = samples.line, samples.phase
    made = samples.course(
        phase("steady", "4 w", line("t2", "5 mL bd")),
        phase("rescue", "5 d", line("t2", "10 mL qds"), line("rub", "1 application bd")),
    )
    return replace(
        made,
        start=START,
        revisions=(),
        remedies=(samples.remedy("t2", Form.TINCTURE), samples.remedy("rub", Form.RUB)),
    )


def test_one_run_of_a_plan_in_containers_of_its_own() -> None:
    """5 days of 40 mL are 200 mL: two bottles, whatever is in the one in use."""
    drops, rub = supplies_if_flare(lay_out(course()))
    bottle = Bottle("t2", "t2", Unit.ML)
    assert drops == PhaseSupply(bottle, "rescue", Fraction(200), 2, None, None, None)
    assert rub.amount == 10
    assert rub.containers is None


def test_a_plan_that_was_called_has_its_days_and_what_is_stopped_is_not_kept() -> None:
    called = replace(course(), revisions=(Flare(on=START, first=START, rescue="rescue"),))
    assert supplies_if_flare(lay_out(called)) == ()
    stopped = replace(course(), revisions=(Stop(on=START, first=START, remedy="t2"),))
    assert [row.bottle.remedy for row in supplies_if_flare(lay_out(stopped))] == ["rub"]
