"""Where the user is and was: places, what is open in them, and the way back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class RouteKind(StrEnum):
    """What is in front."""

    CLIENTS = "clients"
    FOLDER = "folder"
    COURSE = "course"
    REMEDIES = "remedies"
    REMEDY = "remedy"
    HERBS = "herbs"
    HERB = "herb"


@dataclass(frozen=True, slots=True)
class Route:
    """A page and, where it shows one record, that record's id."""

    kind: RouteKind
    id: str = ""


CLIENTS = Route(RouteKind.CLIENTS)
REMEDIES = Route(RouteKind.REMEDIES)
HERBS = Route(RouteKind.HERBS)

PLACE_OF: dict[RouteKind, str] = {
    RouteKind.CLIENTS: "clients",
    RouteKind.FOLDER: "clients",
    RouteKind.COURSE: "clients",
    RouteKind.REMEDIES: "remedies",
    RouteKind.REMEDY: "remedies",
    RouteKind.HERBS: "herbs",
    RouteKind.HERB: "herbs",
}
"""The place on the rail that a page belongs to."""


class History:
    """The spots visited; the last one is where the user is."""

    def __init__(self, start: Route) -> None:
        self._visited = [start]

    @property
    def here(self) -> Route:
        """Where the user is."""
        return self._visited[-1]

    @property
    def can_go_back(self) -> bool:
        """Whether there is a spot before this one."""
        return len(self._visited) > 1

    def go(self, spot: Route) -> None:
        """Go to a spot; going to where one is changes nothing."""
        if spot != self.here:
            self._visited.append(spot)

    def back(self) -> Route:
        """Go back to the spot before, if there is one."""
        if self.can_go_back:
            self._visited.pop()
        return self.here
