"""A recall over a practice of 5,000 clients: who had anything of a delivery, at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from pathlib import Path
from uuid import uuid4

import pytest
from sqlalchemy import insert

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import UsedPart
from sennight.domain.supply.quantities import Quantity
from sennight.practice.dispensary import batches, recall
from sennight.practice.opening import OpenPractice, open_practice
from sennight.store.tables.clients import ClientHead
from sennight.store.tables.dispensary import HandOver
from support.dispensary_cases import TEA, TODAY, batch_of, course_of, stock_up
from support.filled import NOW
from support.speed import quickest

pytestmark = pytest.mark.no_cover  # counting lines slows our work down

CLIENTS, BATCHES, HANDED, RECALLED = 5_000, 500, 20_000, 75
MOST_SECONDS = 0.1


def fill(practice: OpenPractice) -> str:
    """Batches of which some hold one delivery, handed over to everybody; the delivery's id."""
    nettle, _ = stock_up(practice)
    _, course = course_of(practice, "Ada Finch")
    batch_of(practice)
    (made,) = batches(practice)
    other = (UsedPart("nettle-leaf", Quantity(Fraction(1), Unit.G)),)
    clients = [uuid4().hex for _ in range(CLIENTS)]
    numbers = []
    with practice.file.writing() as unit:
        for n in range(BATCHES):
            batch = replace(
                made, id=uuid4().hex, number=f"{n}", parts=made.parts if n < RECALLED else other
            )
            unit.dispensary.make(batch, recorded=NOW + timedelta(seconds=n))
            numbers.append(batch.id)
        session = unit._session
        session.execute(insert(ClientHead), [{"id": c, "version": 1} for c in clients])
        session.execute(
            insert(HandOver),
            [
                {
                    "recorded": NOW,
                    "batch_id": numbers[n % BATCHES],
                    "client_id": clients[n % CLIENTS],
                    "course_id": course,
                    "remedy": TEA.id,
                    "day": TODAY,
                    "amount": Fraction(100),
                    "unit": "g",
                    "containers": 1,
                    "by": "MR",
                }
                for n in range(HANDED)
            ],
        )
    return nettle


def test_a_recall_is_told_at_once(tmp_path: Path) -> None:
    """76 batches and 3,000 hand-overs of 20,000, within a tenth of a second of processor time."""
    with open_practice(tmp_path / "large.sennight") as practice:
        nettle = fill(practice)
        traced = recall(practice, nettle)
        assert len(traced.batches) == RECALLED + 1
        assert len(traced.handed) == HANDED * RECALLED // BATCHES
        assert quickest(lambda: recall(practice, nettle)) < MOST_SECONDS
