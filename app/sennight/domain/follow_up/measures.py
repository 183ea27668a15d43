"""What clients are asked to rate: each with its scale, its direction, and the change that matters.

Only what is free to use. Where no threshold is published none is made up: the change is told, and
whether it went the right way.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction


class Better(StrEnum):
    """Which way a measure gets better."""

    LESS = "less"
    MORE = "more"


@dataclass(frozen=True, slots=True)
class Measure:
    """Something that is rated, between the whole numbers `low` and `high` of its `unit`
    (empty for a rating).

    `matters` is the smallest change that matters, in the scale's own points, `matters_percent` in
    percent of the first rating; None where none is held. `source` says where they are from.
    """

    id: str
    name: str
    better: Better
    low: Fraction = Fraction(0)
    high: Fraction = Fraction(10)
    unit: str = ""
    matters: Fraction | None = None
    matters_percent: Fraction | None = None
    source: str = ""

    def holds(self, value: Fraction) -> bool:
        """Whether a value is on the scale."""
        return self.low <= value <= self.high


PAIN = Measure(
    "pain",
    "Pain",
    Better.LESS,
    matters=Fraction(2),
    matters_percent=Fraction(30),
    source="Farrar et al., Pain 2001;94:149-158",
)
STIFFNESS = Measure(
    "stiffness in minutes",
    "Morning stiffness",
    Better.LESS,
    high=Fraction(1440),
    unit="minutes",
)
"""In minutes after getting up; a score called “stiffness” alone is a rating of 0 to 10.

No change that matters is published for one client: what is known tells kinds of joint trouble
apart, and does so poorly (van Nies et al., Arthritis Res Ther 2015;17:108)."""
SLEEP = Measure("sleep", "Sleep", Better.MORE)
WELL_BEING = Measure("well-being", "Well-being", Better.MORE)
ACTIVITY = Measure(
    "activity",
    "An activity",
    Better.MORE,
    matters=Fraction(3),
    source="Stratford et al., Physiother Can 1995;47:258-263 (one activity)",
)
"""One activity of the client's own choosing, 0 unable, 10 as before the trouble began."""
ACTIVITIES = replace(
    ACTIVITY,
    id="activities",
    name="Activities, on average",
    matters=Fraction(2),
    source="Stratford et al., Physiother Can 1995;47:258-263 (average of the activities)",
)
MOST_ACTIVITIES = 3
_ACTIVITY_KEY = "activity: "

KNOWN: tuple[Measure, ...] = (PAIN, STIFFNESS, SLEEP, WELL_BEING)
"""What is offered by name; activities and measures of the practice's own come beside them."""


def activity(name: str) -> Measure:
    """An activity of the client's own choosing, as a measure; its id is what scores keep."""
    return replace(ACTIVITY, id=f"{_ACTIVITY_KEY}{name}", name=name)


def is_activity(measure_id: str) -> bool:
    """Whether scores of that id are of an activity."""
    return measure_id.startswith(_ACTIVITY_KEY)


def is_published(measure_id: str) -> bool:
    """Whether an id is one that is offered by name, however it is written, or an activity."""
    return is_activity(measure_id) or _offered(measure_id) is not None


def _offered(measure_id: str) -> Measure | None:
    return next((measure for measure in KNOWN if measure.id == measure_id.casefold()), None)


@dataclass(frozen=True, slots=True)
class Measures:
    """What the scores of a course are of: what is offered by name, activities, and its `own`."""

    own: tuple[Measure, ...] = ()

    def of(self, measure_id: str) -> Measure | None:
        """What scores of that id are of; None where nothing is known but their name.

        A name with the word pain in it is pain somewhere (`knee pain`), unless it is an own one.
        """
        if is_activity(measure_id):
            return activity(measure_id.removeprefix(_ACTIVITY_KEY))
        own = (measure for measure in self.own if measure.id == measure_id)
        known = _offered(measure_id) or next(own, None)
        if known is not None:
            return known
        if PAIN.id in measure_id.casefold().replace("-", " ").split():
            return replace(PAIN, id=measure_id, name=measure_id)
        return None

    def scale(self, measure_id: str) -> tuple[int, int]:
        """The least and the most that its scores can be; 0 to 10 where nothing else is held."""
        measure = self.of(measure_id) or PAIN
        return int(measure.low), int(measure.high)


NO_OWN = Measures()
"""Of a course without measures of its own."""


class Verdict(StrEnum):
    """What a change means, by the thresholds that are held for its measure."""

    BETTER = "better"
    """By all thresholds that are held."""
    AT_THE_EDGE = "at the edge"
    """By one of two published thresholds, but not by the other."""
    SLIGHTLY_BETTER = "slightly better"
    """The right way, by less than matters, or no threshold is held."""
    SAME = "same"
    SLIGHTLY_WORSE = "slightly worse"
    WORSE = "worse"
    """The wrong way, by as much as would matter the other way."""


def gain(measure: Measure, first: Fraction, last: Fraction) -> Fraction:
    """How far a rating got better, in points; below 0 where it got worse."""
    return first - last if measure.better is Better.LESS else last - first


def verdict(measure: Measure, first: Fraction, last: Fraction) -> Verdict:
    """What a change from one rating to a later one means.

    Where a threshold in points and one in percent are both held, a change that reaches both
    matters, and one that reaches one alone is at the edge: the sources give both for the same
    change (Farrar et al. 2001), and at low or high first ratings they part.
    """
    points = gain(measure, first, last)
    if points == 0:
        return Verdict.SAME
    reached = _reached(measure, abs(points), first)
    if points < 0:
        return Verdict.WORSE if reached and all(reached) else Verdict.SLIGHTLY_WORSE
    if reached and all(reached):
        return Verdict.BETTER
    return Verdict.AT_THE_EDGE if any(reached) else Verdict.SLIGHTLY_BETTER


def _reached(measure: Measure, points: Fraction, first: Fraction) -> list[bool]:
    """For each threshold that is held and can be worked out, whether a change reaches it."""
    reached = []
    if measure.matters is not None:
        reached.append(points >= measure.matters)
    if measure.matters_percent is not None and first:
        reached.append(points / first * 100 >= measure.matters_percent)
    return reached


def average(ratings: tuple[Fraction, ...]) -> Fraction:
    """The mean of the activities rated on one day, one or more (Stratford et al. 1995)."""
    return sum(ratings, Fraction(0)) / len(ratings)
