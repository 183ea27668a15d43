"""A revised year of six remedies with real herbs, in a practice file: what speed is measured on.

The formulas are of our own composing, for measuring alone: nothing in them is a recommendation.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import (
    Course,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.courses.protocols import Protocol
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.form_facts import Filling
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.practice.clients import add_client
from sennight.practice.courses import add_course
from sennight.practice.opening import OpenPractice
from support.sample_practice import NOW
from support.samples import line, phase

START, UNTIL = date(2027, 1, 4), date(2028, 1, 2)
TODAY = date(2027, 6, 2)


def _tea(remedy_id: str, *herbs: str) -> Remedy:
    parts = tuple(Ingredient(herb, Fraction(n)) for n, herb in enumerate(herbs, 1))
    return Remedy(remedy_id, remedy_id.title(), Form.TEA, parts, TeaMaking(Fraction(3)))


def _drops(remedy_id: str, form: Form, *herbs: str) -> Remedy:
    parts = (Ingredient(herb, Fraction(1), Fraction(5), Fraction(45)) for herb in herbs)
    return Remedy(remedy_id, remedy_id.title(), form, tuple(parts))


REMEDIES = (
    _tea("joint tea", "meadowsweet", "nettle-leaf", "willow-bark", "birch-leaf"),
    _drops("night drops", Form.TINCTURE, "valerian", "passionflower", "hops"),
    _drops("day drops", Form.TINCTURE, "devils-claw", "hawthorn"),
    _tea("bitter tea", "dandelion-root", "peppermint", "chamomile"),
    Remedy(
        "capsules",
        "Capsules",
        Form.CAPSULE,
        tuple(
            Ingredient(herb, mg=Fraction(200), filling=Filling.POWDER)
            for herb in ("devils-claw", "ginger", "liquorice")
        ),
    ),
    _drops("rub", Form.RUB, "arnica", "comfrey"),
)
DECISIONS: tuple[Revision, ...] = (
    Extend(on=date(2027, 2, 8), phase="loading", by=1, in_weeks=True, reason="slow to respond"),
    Flare(on=date(2027, 2, 24), first=date(2027, 2, 24), rescue="rescue"),
    Flare(on=date(2027, 4, 14), first=date(2027, 4, 14), rescue="rescue"),
    Pause(
        on=date(2027, 4, 26),
        first=date(2027, 5, 3),
        last=date(2027, 5, 9),
        mode=PauseMode.FREEZE,
    ),
    Redirect(
        on=date(2027, 5, 17),
        remedy="day drops",
        first=date(2027, 5, 18),
        directions=parse_directions("5 mL od"),
    ),
    Stop(on=date(2027, 5, 26), remedy="capsules", first=date(2027, 9, 6), reason="enough"),
)


def protocol() -> Protocol:
    """Four phases, one of them for flare-ups; cycles, days of the week and every third day."""
    return Protocol(
        "Joint year",
        (
            phase(
                "loading",
                "6 w",
                line("joint tea", "1 cup tds ac", (4, "1 cup bd")),
                line("night drops", "5 mL nocte 5 d on 2 d off"),
                line("day drops", "5 mL tds pc"),
                line("capsules", "2 capsule bd 3 w on 1 w off"),
                line("bitter tea", "1 cup od alternate days"),
            ),
            phase(
                "maintenance",
                "24 w",
                line("joint tea", "1 cup bd 12 w on 3 w off"),
                line("day drops", "5 mL bd on mon wed fri"),
                line("night drops", "5 mL nocte 3 w on 1 w off"),
                line("capsules", "1 capsule bd"),
                line("rub", "1 application every 4-6 h prn"),
            ),
            phase(
                "taper",
                None,
                line("joint tea", "1 cup od"),
                line("night drops", "2.5 mL nocte every 3 days"),
                line("capsules", "1 capsule od alternate days"),
            ),
            phase(
                "rescue",
                "1 w",
                line("day drops", "7.5 mL tds pc"),
                line("rub", "1 application bd"),
            ),
        ),
        aims=("anti-inflammatory", "analgesic"),
    )


def real_year() -> Course:
    """The course, laid out from January to January."""
    client = Client(
        "Una Example",
        date(1961, 5, 1),
        medicines=(Fact("anticoagulant"), Fact("antihypertensive")),
        conditions=(Fact("hypertension"),),
    )
    return Course("c0ffee", client, REMEDIES, protocol(), START, UNTIL, DECISIONS)


def add_real_year(practice: OpenPractice) -> str:
    """The course in a practice; its id."""
    course = real_year()
    return add_course(practice, add_client(practice, course.client), course, now=NOW)


def edited(course: Course, number: int) -> Course:
    """The course after one more edit, none like the one before.

    In turn the end moves by a day, a line of all of maintenance is taken otherwise, and
    maintenance takes longer or shorter, which moves all that comes after it.
    """
    if number % 3 == 0:
        return replace(course, until=UNTIL - timedelta(days=1 + number % 100))
    phases = list(course.protocol.phases)
    maintenance = phases[1]
    if number % 3 == 1:
        cups, on = 1 + number // 3 % 2, 10 + number % 7
        directions = parse_directions(f"{cups} cup bd {on} w on 3 w off")
        first, *others = maintenance.lines
        lines = (replace(first, directions=directions), *others)
        phases[1] = replace(maintenance, lines=lines)
    else:
        weeks = Length(20 + number % 9, CalendarUnit.WEEKS)
        phases[1] = replace(maintenance, length=weeks)
    return replace(course, protocol=replace(course.protocol, phases=tuple(phases)))
