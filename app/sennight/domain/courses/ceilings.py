"""Ceilings of a day over several remedies: no more than 4 rubs, whichever of them."""

from __future__ import annotations

from dataclasses import replace

from sennight.domain.courses.protocols import Protocol
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions


def within_ceilings(
    protocol: Protocol, remedy: str, directions: Directions, day: ClientDay
) -> Directions:
    """Directions that allow no more as needed than the ceilings of a remedy leave.

    Its own timed doses are counted; those of the other remedies are not, so that the figure holds
    for every day. Nothing is left as needed where the timed doses reach the ceiling.
    """
    bounds = [ceiling.most for ceiling in protocol.ceilings if remedy in ceiling.remedies]
    if directions.as_needed is None or not bounds:
        return directions
    left = min(bounds) - len(directions.minutes(day))
    if left >= directions.as_needed.ceiling(day):
        return directions
    needed = replace(directions.as_needed, most=left) if left > 0 else None
    return replace(directions, as_needed=needed)
