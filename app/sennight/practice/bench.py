"""Bench: what wants attention, by day, over all running courses; done, put off, open again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sennight.domain.matters import Matter
from sennight.practice.bench_items import NOTHING, Item, Items
from sennight.practice.bench_reading import LOOK_BACK, MatterReader
from sennight.practice.opening import OpenPractice
from sennight.store.matters import Mark, MarkState, MatterKey

__all__ = [
    "LOOK_BACK",
    "NOTHING",
    "Bench",
    "Item",
    "Items",
    "Matter",
    "MatterKey",
    "bench",
    "mark_done",
    "put_off",
    "reopen",
]


@dataclass(frozen=True, slots=True)
class Bench:
    """What needs attention, the earliest first, the most pressing of a day first.

    `running` counts the courses under way, `behind` says whether some are not in it yet, because
    they were saved by an earlier version of the program.
    """

    items: Items
    running: int
    behind: bool


def bench(practice: OpenPractice, today: date) -> Bench:
    """What needs attention on a day and in the six after it; no course is read for it."""
    with practice.file.reading() as unit:
        reader = MatterReader(unit.matters, today, unit.clients.listed_names())
        return Bench(reader.items(), reader.running(), unit.matters.is_behind())


# What was said of it


def mark_done(practice: OpenPractice, item: Item, *, now: datetime) -> None:
    """Keep that something was seen to."""
    _mark(practice, item, Mark(MarkState.DONE, None), now)


def put_off(practice: OpenPractice, item: Item, to: date, *, now: datetime) -> None:
    """Keep that something is put off to a day."""
    _mark(practice, item, Mark(MarkState.PUT_OFF, to), now)


def reopen(practice: OpenPractice, item: Item, *, now: datetime) -> None:
    """Take back what was said of an item: it stands as it did."""
    state = MarkState.PUT_OFF if item.put_to else MarkState.OPEN
    _mark(practice, item, Mark(state, item.put_to), now)


def _mark(practice: OpenPractice, item: Item, mark: Mark, now: datetime) -> None:
    with practice.file.writing() as unit:
        unit.matters.mark(item.key, mark, recorded=now)
