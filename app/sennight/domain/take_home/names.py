"""What phases and flare-up plans are called on the client's papers."""

from __future__ import annotations

from sennight.domain.courses.protocols import LOADING, MAINTENANCE, RESCUE, Phase

_OWN_NAMES = (RESCUE, "flare", "flare-up")
"""Phases of these names are the flare-up plan itself and need no other name."""


def plan_name(phase: str) -> str:
    """`Flare-up plan`, with its own name where it has one: `Flare-up plan “Bad nights”`."""
    if phase in _OWN_NAMES:
        return "Flare-up plan"
    words = phase.replace("-", " ").replace("_", " ")
    return f"Flare-up plan “{words[:1].upper()}{words[1:]}”"


def phase_name(phase: Phase) -> str:
    """`full dose`, `keep going`, else the phase's own name."""
    if phase.purpose == LOADING:
        return "full dose"
    if phase.purpose == MAINTENANCE:
        return "keep going"
    return phase.id.replace("-", " ").replace("_", " ")
