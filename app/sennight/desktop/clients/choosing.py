"""Which clients the list shows, and in which order."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from enum import Enum, auto
from typing import assert_never

from sennight.desktop.clients.list_table import BEHIND, diary_age
from sennight.practice.client_list import ClientStanding

SOON = timedelta(days=6)
"""Today and so many days after it are this week."""


class Which(Enum):
    """Which clients are shown."""

    ALL = auto()
    RUNNING = auto()
    DUE = auto()
    DIARY = auto()
    FLAGS = auto()


class Order(Enum):
    """What the clients are ordered by; those of whom it does not tell come last, by name."""

    NAME = auto()
    NEXT = auto()
    DIARY = auto()
    FLAGS = auto()


def clients_of(
    clients: tuple[ClientStanding, ...], which: Which, today: date
) -> tuple[ClientStanding, ...]:
    """Those of a kind, in their order."""
    match which:
        case Which.ALL:
            return clients
        case Which.RUNNING:
            return tuple(client for client in clients if client.is_running)
        case Which.DUE:
            to = today + SOON
            return tuple(client for client in clients if client.next and client.next.day <= to)
        case Which.DIARY:
            return tuple(client for client in clients if (diary_age(client, today) or 0) >= BEHIND)
        case Which.FLAGS:
            return tuple(client for client in clients if client.red_flags)
        case _:
            assert_never(which)


def in_order(
    clients: Iterable[ClientStanding], order: Order, today: date
) -> tuple[ClientStanding, ...]:
    """Clients that are in the order of their names, in another."""
    match order:
        case Order.NAME:
            return tuple(clients)
        case Order.NEXT:
            return tuple(
                sorted(clients, key=lambda client: client.next.day if client.next else date.max)
            )
        case Order.DIARY:
            return tuple(sorted(clients, key=lambda client: -(diary_age(client, today) or 0)))
        case Order.FLAGS:
            return tuple(
                sorted(clients, key=lambda client: (-client.red_flags, client.asked_for_flags))
            )
        case _:
            assert_never(order)
