"""The practice's card, as printed for clients."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PracticeCard:
    """Who the practice is and how a client reaches it."""

    name: str
    practitioner: str = ""
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
