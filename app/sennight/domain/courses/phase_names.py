"""What phases are called: one rule for every screen and every paper that names them.

A name begins with a large letter wherever it stands, as names do. What quotes a course file, as
its errors do, has the name as it is written there.
"""

from __future__ import annotations

from sennight.domain.courses.protocols import RESCUE
from sennight.domain.tag_words import upper_first

_THE_PLAN_ITSELF = (RESCUE, "flare", "flare-up")
"""Phases of these names are the flare-up plan itself and need no other name."""


def phase_title(phase: str) -> str:
    """A phase's name by its id: `Loading`, `Step-down`; of a flare-up plan without its own so."""
    if phase in _THE_PLAN_ITSELF:
        return upper_first(plan_title(phase))
    return upper_first(phase.replace("_", " "))


def phase_head(phase: str) -> str:
    """The same, as short as the head of a tab or of a narrow column has to be."""
    return "Flare-up" if phase in _THE_PLAN_ITSELF else phase_title(phase)


def plan_title(phase: str) -> str:
    """`flare-up plan`, with its own name where it has one: `flare-up plan “Bad nights”`."""
    if phase in _THE_PLAN_ITSELF:
        return "flare-up plan"
    return f"flare-up plan “{phase_title(phase.replace('-', ' '))}”"
