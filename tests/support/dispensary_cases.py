"""Two deliveries, a tea made of them, and a client whose course takes it."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from sennight.domain.courses.clients import Client
from sennight.domain.courses.protocols import Protocol
from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.stock import Held, Material
from sennight.domain.supply.quantities import Quantity
from sennight.practice.clients import add_client
from sennight.practice.courses import start_course
from sennight.practice.dispensary import Made, Received, make_batch, receive
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import add_protocol
from support.filled import NOW, REMEDIES
from support.samples import line, phase

F = Fraction
TODAY = date(2027, 1, 4)
TEA = REMEDIES[0]
NETTLE = Material("nettle-leaf", Held.DRIED, Unit.G)
GINGER = Material("ginger", Held.DRIED, Unit.G)


def stock_up(practice: OpenPractice) -> tuple[str, str]:
    nettle, ginger = (
        receive(
            practice,
            Received(material, F(500), "Hedgerow Supplies", batch, best_before, F(12)),
            day=TODAY,
            now=NOW,
        )
        for material, batch, best_before in (
            (NETTLE, "N-17", date(2027, 6, 1)),
            (GINGER, "G-4", None),
        )
    )
    return nettle.id, ginger.id


def course_of(practice: OpenPractice, name: str) -> tuple[str, str]:
    client = add_client(practice, Client(name))
    made = Protocol("Warm joints", (phase("loading", "4 w", line(TEA.id, "1 cup bd")),))
    shelved = add_protocol(practice, made, remedies=(TEA,))
    return client, start_course(practice, client, shelved, TODAY, now=NOW)


def batch_of(practice: OpenPractice, grams: int = 210) -> str:
    made = Made("M. Reed")
    return make_batch(practice, TEA, Quantity(F(grams), Unit.G), made, today=TODAY, now=NOW).id
