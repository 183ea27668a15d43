"""The cost of a safety check, as a ratio to a plain library doing the same span of days."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction

import pytest
from dateutil.rrule import DAILY, rrule

from sennight.domain.courses.clients import Fact
from sennight.domain.courses.protocols import Protocol
from sennight.domain.courses.stretches import Layout, lay_out
from sennight.domain.remedies.forms import Form
from sennight.domain.safety.check import findings
from sennight.knowledge.safety_rules import read_safety_rules
from sennight.places import own_folder
from sennight.practice.safety import check
from support.safety_samples import MATERIA_MEDICA, RULES, course, day, remedy, with_facts
from support.samples import line, phase
from support.speed import quickest

pytestmark = pytest.mark.no_cover  # counting lines slows our work down, and not the library's


def a_year() -> Layout:
    """A year's course of five remedies with eleven herbs, for a client with five facts."""
    client = with_facts(
        "anticoagulant",
        Fact("iron", at=(time(8),)),
        "peptic-ulcer",
        Fact("planned-surgery", since=day(100)),
        "hypertension",
    )
    remedies = (
        remedy("willow-bark", "meadowsweet", "ginger"),
        remedy("turmeric", "celery-seed", "liquorice", form=Form.TINCTURE, name="r2"),
        remedy("boswellia", form=Form.CAPSULE, name="r3", amount="400"),
        remedy("cayenne", "arnica", form=Form.RUB, name="r4"),
        remedy("valerian", "hops", "nettle-leaf", name="r5"),
    )
    lines = (
        line("r1", "1 cup tds 3 w on 1 w off"),
        line("r2", "5 mL tds"),
        line("r3", "2 capsule bd 12 w on 3 w off"),
        line("r4", "1 application bd 3 w on 2 w off"),
        line("r5", "1 cup nocte and prn max 2/day"),
    )
    phases = (phase("a", "26 w", *lines), phase("b", "26 w", *lines))
    client = replace(client, born=date(1960, 1, 1), weight_kg=Fraction(70))
    made = course(*remedies, client=client)
    return lay_out(replace(made, protocol=Protocol("Year", phases, ("anti-inflammatory",))))


def plain_days() -> int:
    """The days of five remedies in a year, listed by the plain library."""
    start = datetime(2027, 1, 4)  # noqa: DTZ001
    until = start + timedelta(363)
    return sum(len(list(rrule(DAILY, dtstart=start, until=until))) for _ in range(5))


def test_a_years_course_is_checked_in_a_few_milliseconds() -> None:
    """Not much more than listing its days: nothing here walks over days."""
    layout = a_year()
    found = findings(layout, MATERIA_MEDICA, RULES)
    assert len(found) > 40
    ours, plain = quickest(lambda: findings(layout, MATERIA_MEDICA, RULES)), quickest(plain_days)
    print(f"safety {ours * 1000:.1f} ms, plain days {plain * 1000:.1f} ms")
    assert ours < 4 * plain


def test_a_years_course_is_told_within_ten_milliseconds() -> None:
    """The whole check, in words, with all records of medicines and herbs loaded."""
    layout = a_year()
    assert len(RULES.records.medicines) >= 700
    assert len(MATERIA_MEDICA.herbs) >= 150
    check(layout, MATERIA_MEDICA)
    ours, plain = quickest(lambda: check(layout, MATERIA_MEDICA)), quickest(plain_days)
    print(f"whole check {ours * 1000:.1f} ms, plain days {plain * 1000:.1f} ms")
    assert ours < 0.010 or ours < 4 * plain


def test_the_rules_are_read_in_less_than_50_ms() -> None:
    folder = own_folder("resources") / "safety"
    assert quickest(lambda: read_safety_rules(folder), runs=5) < 0.050


def test_the_cost_does_not_follow_the_days() -> None:
    short = lay_out(course(remedy("liquorice"), client=with_facts("hypertension"), weeks=4))
    long = lay_out(course(remedy("liquorice"), client=with_facts("hypertension"), weeks=400))
    assert quickest(lambda: findings(long, MATERIA_MEDICA, RULES)) < 2 * quickest(
        lambda: findings(short, MATERIA_MEDICA, RULES)
    )
