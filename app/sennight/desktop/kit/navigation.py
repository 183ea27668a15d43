"""Where the user is and was: places, what is open in them, and the way back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class RouteKind(StrEnum):
    """What is in front."""

    BENCH = "bench"
    CLIENTS = "clients"
    FOLDER = "folder"
    COURSE = "course"
    REVIEW = "review"
    PROTOCOLS = "protocols"
    PROTOCOL = "protocol"
    REMEDIES = "remedies"
    REMEDY = "remedy"
    HERBS = "herbs"
    HERB = "herb"
    DISPENSARY = "dispensary"


@dataclass(frozen=True, slots=True)
class Route:
    """A page and, where it shows one record, that record's id, and the day to look at.

    `kind` is one of RouteKind, or one that a further section is for.
    """

    kind: str
    id: str = ""
    day: date | None = None


BENCH = Route(RouteKind.BENCH)
CLIENTS = Route(RouteKind.CLIENTS)
PROTOCOLS = Route(RouteKind.PROTOCOLS)
REMEDIES = Route(RouteKind.REMEDIES)
HERBS = Route(RouteKind.HERBS)
DISPENSARY = Route(RouteKind.DISPENSARY)


class History:
    """The spots visited; the last one is where the user is, those gone back from are ahead."""

    def __init__(self, start: Route) -> None:
        self._visited = [start]
        self._ahead: list[Route] = []

    @property
    def here(self) -> Route:
        """Where the user is."""
        return self._visited[-1]

    @property
    def can_go_back(self) -> bool:
        """Whether there is a spot before this one."""
        return len(self._visited) > 1

    @property
    def can_go_forward(self) -> bool:
        """Whether the user went back from a spot."""
        return bool(self._ahead)

    def go(self, spot: Route) -> None:
        """Go to a spot; going to where one is changes nothing."""
        if spot != self.here:
            self._visited.append(spot)
            self._ahead.clear()

    def turn(self, spot: Route) -> None:
        """Go to a spot that the page in front turned to; to the one before is a step back."""
        before = self._visited[-2] if self.can_go_back else None
        if before is not None and (before.kind, before.id) == (spot.kind, spot.id):
            self.back()
        else:
            self.go(spot)

    def back(self) -> Route:
        """Go back to the spot before, if there is one."""
        if self.can_go_back:
            self._ahead.append(self._visited.pop())
        return self.here

    def forward(self) -> Route:
        """Go where the user last went back from, if there is such a spot."""
        if self._ahead:
            self._visited.append(self._ahead.pop())
        return self.here

    def leave_out(self) -> Route:
        """Be where the user was before, and forget this spot, since it is no longer there."""
        if self.can_go_back:
            self._visited.pop()
        return self.here
