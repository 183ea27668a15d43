"""How it goes: each measure's ratings from the first to the last, and what the change means."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import chain

from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import (
    ACTIVITIES,
    KNOWN,
    NO_OWN,
    Measure,
    Measures,
    Verdict,
    average,
    is_activity,
    verdict,
)


@dataclass(frozen=True, slots=True)
class Progress:
    """The ratings of one measure by day, one at least.

    `measure` is None for one of the practice's own, of which it is not known which way is better.
    """

    id: str
    measure: Measure | None
    ratings: tuple[Score, ...]

    @property
    def name(self) -> str:
        """What people call it."""
        return self.measure.name if self.measure else self.id

    @property
    def first(self) -> Fraction:
        """The first rating."""
        return self.ratings[0].value

    @property
    def last(self) -> Fraction:
        """The last rating."""
        return self.ratings[-1].value

    @property
    def verdict(self) -> Verdict | None:
        """What the change means; None of one rating alone, and where no direction is known."""
        if self.measure is None or len(self.ratings) == 1:
            return None
        return verdict(self.measure, self.first, self.last)

    @property
    def matters(self) -> Fraction | None:
        """The change from the first rating that matters by every threshold that is held.

        None where none is held.
        """
        if self.measure is None:
            return None
        percent = self.measure.matters_percent
        held = (
            self.measure.matters,
            None if percent is None else percent * self.first / 100,
        )
        return max((change for change in held if change is not None), default=None)


def progress(scores: Iterable[Score], measures: Measures = NO_OWN) -> tuple[Progress, ...]:
    """Each measure's ratings: those that are offered first, then by their names.

    Of two activities or more their average follows, over the days on which all were rated.
    """
    rated: dict[str, list[Score]] = {}
    for score in sorted(scores):
        rated.setdefault(score.measure, []).append(score)
    known = [measure.id for measure in KNOWN if measure.id in rated]
    in_order = dict.fromkeys((*known, *sorted(rated)))
    each = tuple(Progress(name, measures.of(name), tuple(rated[name])) for name in in_order)
    averages = average_scores(score for score in chain(*rated.values()))
    return (*each, Progress(ACTIVITIES.id, ACTIVITIES, averages)) if averages else each


def average_scores(scores: Iterable[Score]) -> tuple[Score, ...]:
    """The mean of the activities on each day on which all of them, two or more, were rated.

    A day on which one was left out has no average: another set of activities is another measure.
    """
    days: dict[date, list[Fraction]] = {}
    names = set()
    for score in scores:
        if is_activity(score.measure):
            names.add(score.measure)
            days.setdefault(score.day, []).append(score.value)
    if len(names) < 2:
        return ()
    return tuple(
        Score(day, ACTIVITIES.id, average(tuple(values)))
        for day, values in sorted(days.items())
        if len(values) == len(names)
    )
