"""What the practitioner decided about findings, and what each decision was made for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.directions.directions import Unit


@dataclass(frozen=True, slots=True)
class TakenThen:
    """The most of a remedy in a day of a phase when something was decided.

    `most` counts doses as needed in full; `formula` tells its formula from any other.
    """

    remedy: str
    phase: str
    most: Fraction
    unit: Unit
    formula: str


@dataclass(frozen=True, slots=True)
class Accept:
    """A decision about a finding: to go ahead with an `avoid`, or that a caution was discussed.

    `on` is the day of the decision, `taken` what the finding was about and `facts` what was
    known of the client on that day; None where an earlier program kept nothing of it. One that
    was made in error stays on record with `void`, the reason, and `void_on`.
    """

    finding: str
    reason: str
    on: date | None = None
    taken: tuple[TakenThen, ...] | None = None
    facts: tuple[str, ...] | None = None
    void: str = ""
    void_on: date | None = None

    @property
    def is_void(self) -> bool:
        """Whether it was struck out."""
        return bool(self.void)
