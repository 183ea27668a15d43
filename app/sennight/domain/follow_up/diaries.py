"""What a client reports: doses taken, advice followed, scores, and notes of single days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

LONGEST_NOTE = 1000
"""Letters that a note of a day may have."""


@dataclass(frozen=True, slots=True, order=True)
class Taken:
    """How many doses of a remedy were taken on one of the client's days (0 or more)."""

    day: date
    remedy: str
    doses: int


@dataclass(frozen=True, slots=True, order=True)
class Followed:
    """How often a line of advice, known by its words, was followed on a day (0 or more)."""

    day: date
    advice: str
    times: int


@dataclass(frozen=True, slots=True, order=True)
class Score:
    """A rating by the client, on the scale of its measure: 0 to 10, or minutes."""

    day: date
    measure: str
    value: Fraction


@dataclass(frozen=True, slots=True, order=True)
class DayNote:
    """What a client said of one of their days, in free words on one line; empty withdraws it."""

    day: date
    words: str


def note_words(typed: str) -> str:
    """What was typed as a note: on one line, without blanks about it or doubled in it."""
    return " ".join(typed.split())


@dataclass(frozen=True, slots=True)
class Reported:
    """What a sheet or a table of a course reports, each by day."""

    taken: tuple[Taken, ...] = ()
    followed: tuple[Followed, ...] = ()
    scores: tuple[Score, ...] = ()
    notes: tuple[DayNote, ...] = ()


NOTHING_REPORTED = Reported()
