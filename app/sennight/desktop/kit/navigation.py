"""Where the user is and was: places, what is open in them, and the way back."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What is in front."""

    CLIENTS = "clients"
    FOLDER = "folder"
    COURSE = "course"
    REMEDIES = "remedies"
    REMEDY = "remedy"
    HERBS = "herbs"
    HERB = "herb"


@dataclass(frozen=True, slots=True)
class Spot:
    """A page and, where it shows one record, that record's id."""

    kind: Kind
    id: str = ""


CLIENTS = Spot(Kind.CLIENTS)
REMEDIES = Spot(Kind.REMEDIES)
HERBS = Spot(Kind.HERBS)

PLACE_OF: dict[Kind, str] = {
    Kind.CLIENTS: "clients",
    Kind.FOLDER: "clients",
    Kind.COURSE: "clients",
    Kind.REMEDIES: "remedies",
    Kind.REMEDY: "remedies",
    Kind.HERBS: "herbs",
    Kind.HERB: "herbs",
}
"""The place on the rail that a page belongs to."""


class Way:
    """The spots visited; the last one is where the user is."""

    def __init__(self, start: Spot) -> None:
        self._visited = [start]

    @property
    def here(self) -> Spot:
        """Where the user is."""
        return self._visited[-1]

    @property
    def can_go_back(self) -> bool:
        """Whether there is a spot before this one."""
        return len(self._visited) > 1

    def go(self, spot: Spot) -> None:
        """Go to a spot; going to where one is changes nothing."""
        if spot != self.here:
            self._visited.append(spot)

    def back(self) -> Spot:
        """Go back to the spot before, if there is one."""
        if self.can_go_back:
            self._visited.pop()
        return self.here
