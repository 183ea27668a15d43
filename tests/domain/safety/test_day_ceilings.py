"""Ceilings of a day over several remedies: what timed doses come to together."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.stretches import lay_out
from sennight.domain.exposure.ethanol import ethanol_days, ethanol_rows, grams
from sennight.domain.exposure.exposure import exposures
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.domain.safety.wording import WordedFinding
from support.herb_samples import herb, materia_medica_of
from support.safety_samples import course, day, found, remedy
from support.samples import line, phase

F = Fraction
WARM = remedy("cayenne", form=Form.RUB, name="warm")
COOL = remedy("arnica", form=Form.RUB, name="cool")


def rubs(warm: str, cool: str, most: int = 4) -> Course:
    one = course(WARM, COOL)
    lines = (line("warm", f"1 application {warm}"), line("cool", f"1 application {cool}"))
    ceilings = (Ceiling(("warm", "cool"), most),)
    phases = (phase("only", "4 w", *lines),)
    return replace(one, protocol=replace(one.protocol, phases=phases, ceilings=ceilings))


def ceiling(one: Course) -> WordedFinding | None:
    return found(one).get("over.day.warm+cool")


def test_timed_doses_over_the_ceiling_are_a_caution() -> None:
    finding = ceiling(rubs("tds", "bd"))
    assert finding
    assert finding.severity == "caution"
    assert finding.heading == "Doses per day: warm and cool"
    assert finding.text == "warm and cool: timed together five times a day; the limit set is 4."
    assert finding.source == "The protocol's own ceiling"
    assert (finding.days[0].first, finding.days[0].last) == (day(1), day(28))


def test_as_many_as_the_ceiling_and_what_is_taken_as_needed_are_none() -> None:
    assert ceiling(rubs("bd", "bd")) is None
    assert ceiling(rubs("every 1-3 h prn", "every 1-3 h prn")) is None


def test_days_that_never_meet_do_not_add_up() -> None:
    apart = rubs("tds on mon wed fri", "tds on tue thu")
    assert ceiling(apart) is None
    meeting = ceiling(rubs("tds on mon wed fri", "tds every 2 days"))
    assert meeting
    assert "six times" in meeting.text


def test_days_without_any_of_them_lie_between() -> None:
    both = ceiling(rubs("tds 1 w on 1 w off", "bd 1 w on 1 w off"))
    assert both
    assert [(span.first, span.last) for span in both.days] == [
        (day(1), day(7)),
        (day(15), day(21)),
    ]


def test_one_remedy_alone_may_pass_it() -> None:
    finding = ceiling(rubs("qds", "prn max 1/day", most=3))
    assert finding
    assert finding.remedies == ("warm",)
    assert finding.text == "warm: timed four times a day; the limit set is 3."


def test_two_rubs_with_one_herb_come_to_no_more_than_their_ceiling() -> None:
    """Cayenne: four applications a day at most; four of each rub, all rubs together, are four."""
    warmer = replace(WARM, id="cool", name="warmer")
    apart = replace(rubs("prn max 4/day", "prn max 4/day"), remedies=(WARM, warmer))
    without = replace(apart, protocol=replace(apart.protocol, ceilings=()))
    assert "over.cayenne" in found(without)
    assert "over.cayenne" not in found(apart)


def test_alcohol_and_amounts_under_one_ceiling() -> None:
    """Two tinctures of 5 mL, three doses a day in all: the stronger three times."""
    mild, strong = (
        Remedy(name, name, Form.TINCTURE, (Ingredient("ginger", F(1), F(5), F(percent)),))
        for name, percent in (("mild", 25), ("strong", 60))
    )
    one = course(mild, strong)
    lines = (line("mild", "5 mL od and prn max 2/day"), line("strong", "5 mL prn max 3/day"))
    only = phase("only", "4 w", *lines)
    ceilings = (Ceiling(("mild", "strong"), 3),)
    layout = lay_out(
        replace(one, protocol=replace(one.protocol, phases=(only,), ceilings=ceilings))
    )
    (told,) = ethanol_days(ethanol_rows(layout))
    assert told.grams_high == 3 * grams(F(5), F(60))
    (row,) = exposures(layout, materia_medica_of(herb("ginger")))
    assert (row.daily_low, row.daily_high) == (F(1), F(3))
