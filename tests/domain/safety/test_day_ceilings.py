"""Ceilings of a day over several remedies: what timed doses come to together."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Ceiling
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.wording import WordedFinding
from support.safety_samples import course, day, found, remedy
from support.samples import line, phase

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
    assert finding.heading == "Times a day: warm and cool"
    assert (
        finding.text
        == "warm and cool: timed together five times in a day; no more than 4 are set."
    )
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
    assert finding.text == "warm: timed four times in a day; no more than 3 are set."
