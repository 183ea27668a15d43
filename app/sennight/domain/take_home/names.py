"""What phases are called on the client's papers."""

from __future__ import annotations

from sennight.domain.courses.phase_names import plan_title
from sennight.domain.courses.protocols import LOADING, MAINTENANCE, Phase
from sennight.domain.tag_words import upper_first


def plan_name(phase: str) -> str:
    """`Flare-up plan`, with its own name where it has one: `Flare-up plan “Bad nights”`."""
    return upper_first(plan_title(phase))


def phase_name(phase: Phase) -> str:
    """`full dose`, `keep going`, else the phase's own name."""
    if phase.purpose == LOADING:
        return "full dose"
    if phase.purpose == MAINTENANCE:
        return "keep going"
    return phase.id.replace("-", " ").replace("_", " ")
