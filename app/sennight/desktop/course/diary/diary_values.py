"""What the diary's grid holds: counts by day and column, notes by day, and steps to undo."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from datetime import date

from sennight.domain.directions.plain_words import MONTH_NAMES, WEEKDAY_NAMES
from sennight.domain.follow_up.diaries import Followed, Reported, Score, Taken


@dataclass(frozen=True, slots=True)
class Advised:
    """A line of advice, by its words, as a column of the diary."""

    text: str


Kept = str | Advised
"""What a column is of: a remedy, by its id, or advice."""
Draft = dict[tuple[date, Kept], int | None]
"""Counts by day and column; None takes away an entry, one that is saved too."""
Notes = dict[date, str]
"""What was said of days; nothing takes a saved note away."""


@dataclass(frozen=True, slots=True)
class KeyedIn:
    """All that was keyed in at one moment."""

    draft: Mapping[tuple[date, Kept], int | None]
    notes: Mapping[date, str]
    scores: tuple[Score, ...]


class Steps:
    """What was keyed in before each step, to be taken back and done again."""

    def __init__(self) -> None:
        self._before: list[KeyedIn] = []
        self._after: list[KeyedIn] = []
        self._of: Hashable = None

    def begin(self, now: KeyedIn, of: Hashable = None) -> None:
        """Before a step; those of the same `of`, such as the letters of a note, are one."""
        if of is None or of != self._of:
            self._before.append(now)
        self._after.clear()
        self._of = of

    def back(self, now: KeyedIn) -> KeyedIn | None:
        """What was before the last step; None where there was none."""
        return self._move(now, self._before, self._after)

    def again(self, now: KeyedIn) -> KeyedIn | None:
        """What the step that was taken back came to; None where none was."""
        return self._move(now, self._after, self._before)

    def _move(self, now: KeyedIn, out: list[KeyedIn], into: list[KeyedIn]) -> KeyedIn | None:
        self._of = None
        if not out:
            return None
        into.append(now)
        return out.pop()


def short_day(day: date) -> str:
    """A day in a narrow column: Mon 23 Nov."""
    return f"{WEEKDAY_NAMES[day.weekday()][:3]} {day.day} {MONTH_NAMES[day.month - 1][:3]}"


def doses_in(counts: Mapping[tuple[date, Kept], int | None]) -> tuple[Taken, ...]:
    """The doses among what is counted, by day and remedy."""
    doses = (
        Taken(day, kept, count)
        for (day, kept), count in counts.items()
        if isinstance(kept, str) and count is not None
    )
    return tuple(sorted(doses))


def followed_in(counts: Mapping[tuple[date, Kept], int | None]) -> tuple[Followed, ...]:
    """The advice among what is counted."""
    return tuple(
        Followed(day, kept.text, count)
        for (day, kept), count in counts.items()
        if isinstance(kept, Advised) and count is not None
    )


def counts_of(reported: Reported) -> dict[tuple[date, Kept], int]:
    """What was reported, as counts."""
    return {
        **{(entry.day, entry.remedy): entry.doses for entry in reported.taken},
        **{(entry.day, Advised(entry.advice)): entry.times for entry in reported.followed},
    }


def column_to_json(kept: Kept) -> tuple[str, str]:
    """A column by its kind and what it is of."""
    return ("advice", kept.text) if isinstance(kept, Advised) else ("remedy", kept)
