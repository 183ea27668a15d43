"""The practice's card, as printed for clients."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PracticeCard:
    """Who the practice is and how a client reaches it.

    `emergency` is the number to call in an emergency where its clients live, `on_labels` what
    local rules want said on every label, in short lines.
    """

    name: str
    practitioner: str = ""
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    emergency: str = ""
    on_labels: tuple[str, ...] = ()
