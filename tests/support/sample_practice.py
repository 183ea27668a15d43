"""A practice to look at: two protocols, three clients, a course under way."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from fractions import Fraction

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.protocols import Line, Phase, Protocol, Step
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy, TeaMaking
from sennight.practice.clients import add_client
from sennight.practice.courses import start_course
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import add_protocol

TODAY = date(2027, 1, 27)
NOW = datetime(2027, 1, 27, 9, tzinfo=UTC)

TEA = Remedy(
    "tea",
    "Joint tea",
    Form.TEA,
    (Ingredient("nettle-leaf", Fraction(2)), Ingredient("ginger", Fraction(1))),
    TeaMaking(Fraction(3)),
)
DROPS = Remedy(
    "drops",
    "Warming drops",
    Form.TINCTURE,
    (Ingredient("turmeric", Fraction(30), ratio=Fraction(3), ethanol=Fraction(60)),),
)
JOINTS = Protocol(
    "Winter joints",
    (
        Phase(
            "loading",
            "loading",
            Length(6, CalendarUnit.WEEKS),
            (
                Line(
                    "tea", parse_directions("1 cup tds"), (Step(28, parse_directions("1 cup bd")),)
                ),
                Line("drops", parse_directions("2 mL bd pc")),
            ),
        ),
        Phase("maintenance", "maintenance", None, (Line("tea", parse_directions("1 cup od")),)),
        Phase(
            "rescue",
            "rescue",
            Length(1, CalendarUnit.WEEKS),
            (Line("drops", parse_directions("2 mL every 2-4 h prn")),),
        ),
    ),
)
EVENINGS = Protocol(
    "Quiet evenings",
    (
        Phase(
            "settling",
            "loading",
            Length(4, CalendarUnit.WEEKS),
            (Line("drops", parse_directions("2 mL nocte")),),
        ),
    ),
)


@dataclass(frozen=True)
class Sample:
    """The practice, and the ids of what is in it."""

    practice: OpenPractice
    clients: dict[str, str]
    protocols: dict[str, str]
    course: str


def filled(practice: OpenPractice) -> Sample:
    """Fill an empty practice."""
    protocols = {
        "joints": add_protocol(practice, JOINTS, remedies=(TEA, DROPS)),
        "evenings": add_protocol(practice, EVENINGS, remedies=(DROPS,)),
    }
    people = {
        "efua": Client(
            "Efua Prendergast",
            date(1958, 3, 2),
            conditions=(Fact("peptic-ulcer"),),
            medicines=(Fact("anticoagulant", date(2020, 1, 1)),),
        ),
        "noor": Client("Noor Müller", date(1990, 6, 5)),
        "oskar": Client("Oskar Teale"),
    }
    clients = {key: add_client(practice, client) for key, client in people.items()}
    course = start_course(
        practice, clients["efua"], protocols["joints"], date(2027, 1, 4), now=NOW
    )
    return Sample(practice, clients, protocols, course)
