"""An open practice with one client and one protocol on the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sennight.domain.courses.clients import Client
from sennight.domain.courses.protocols import Protocol
from sennight.practice.clients import add_client
from sennight.practice.opening import OpenPractice
from sennight.practice.protocols import add_protocol
from support.practice_files import new_practice
from support.samples import line, phase, remedy

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)


@dataclass
class Clock:
    """A clock that goes one minute further each time that it is asked."""

    time: datetime = NOW

    def __call__(self) -> datetime:
        self.time += timedelta(minutes=1)
        return self.time


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[OpenPractice]:
    with new_practice(tmp_path / "practice.sennight", clock=Clock()) as opened:
        yield opened


@pytest.fixture
def client_id(practice: OpenPractice) -> str:
    return add_client(practice, Client("Una Example"), contact="01632 960002")


@pytest.fixture
def protocol_id(practice: OpenPractice) -> str:
    protocol = Protocol(
        "Warm joints",
        (
            phase("loading", "6 w", line("t1", "1 cup tds", (4, "1 cup bd"))),
            phase("maintenance", "12 w", line("t2", "1 cup od")),
            phase("rescue", "1 w", line("t3", "1 cup qds")),
        ),
    )
    shelf = tuple(remedy(one) for one in ("t1", "t2", "t3"))
    return add_protocol(practice, protocol, remedies=shelf)
