"""A practice to check: an anticoagulant, and willow bark in the course's tea."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.protocols import Line, Phase, Protocol
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.practice.clients import add_client
from sennight.practice.courses import start_course
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import add_protocol
from support.sample_practice import NOW

WILLOW_TEA = Remedy(
    "willow",
    "Willow tea",
    Form.TEA,
    (Ingredient("willow-bark", Fraction(2)), Ingredient("nettle-leaf", Fraction(1))),
    TeaMaking(Fraction(3)),
)
QUIET_TEA = Remedy(
    "quiet",
    "Nettle tea",
    Form.TEA,
    (Ingredient("nettle-leaf", Fraction(1)),),
    TeaMaking(Fraction(3)),
)
WILLOW_WEEKS = Protocol(
    "Willow weeks",
    (
        Phase(
            "loading",
            "loading",
            Length(6, CalendarUnit.WEEKS),
            (
                Line("willow", parse_directions("1 cup tds")),
                Line("quiet", parse_directions("1 cup nocte")),
            ),
        ),
    ),
)
MET = "willow-bark.anticoagulant"
"""USP Safety Review of Willow Bark (Planta Medica 2019): not with medicines against clotting."""


@dataclass(frozen=True)
class Willow:
    """The practice, and the ids of what is in it."""

    practice: OpenPractice
    client: str
    protocol: str
    course: str


def willow_practice(practice: OpenPractice) -> Willow:
    """Fill an empty practice."""
    protocol = add_protocol(practice, WILLOW_WEEKS, remedies=(WILLOW_TEA, QUIET_TEA))
    client = add_client(
        practice,
        Client("Ishbel Marr", date(1960, 5, 1), medicines=(Fact("anticoagulant"),)),
    )
    course = start_course(practice, client, protocol, date(2027, 1, 25), now=NOW)
    return Willow(practice, client, protocol, course)
