"""How the client's papers are made: paper, letters, clock, and how far they go."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

SMALL = "A5"
"""The paper of a booklet's pages."""
FOLDED = "booklet"
"""A5 pages laid out two by two on A4, to be printed on both sides and folded."""


class Print(StrEnum):
    """How large the letters are: 14 point, or 18."""

    STANDARD = "standard"
    LARGE = "large"


class ClockHours(StrEnum):
    """How clock times are written: 18:30 or 6:30 pm."""

    TWENTY_FOUR = "24"
    TWELVE = "12"


class Reach(StrEnum):
    """How far a sheet goes: to the next visit, or to the end of the course."""

    REVIEW = "review"
    WHOLE = "whole"


@dataclass(frozen=True, slots=True)
class SheetChoices:
    """How a sheet is made; `paper` is A4, Letter, A5, or `booklet` for A5 pages on folded A4."""

    paper: str = "A4"
    letters: Print = Print.STANDARD
    hours: ClockHours = ClockHours.TWENTY_FOUR
    reach: Reach = Reach.REVIEW

    @property
    def full_size(self) -> str:
        """The paper of what is no booklet."""
        return "A4" if self.paper in (SMALL, FOLDED) else self.paper

    @property
    def page_size(self) -> str:
        """The paper of the sheet's pages."""
        return SMALL if self.paper == FOLDED else self.paper


USUAL = SheetChoices()
"""Standard print on A4, 24-hour times, to the next visit."""
