"""What phases are called on the client's papers."""

from __future__ import annotations

from sennight.domain.courses.protocols import LOADING, MAINTENANCE, Phase


def phase_name(phase: Phase) -> str:
    """`full dose`, `keep going`, else the phase's own name."""
    if phase.purpose == LOADING:
        return "full dose"
    if phase.purpose == MAINTENANCE:
        return "keep going"
    return phase.id.replace("-", " ").replace("_", " ")
