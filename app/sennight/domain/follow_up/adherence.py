"""Adherence: how much of what was due was taken, from the client's diary.

The measure is the proportion of due timed doses that were taken (the "implementation" of
Vrijens et al., Br J Clin Pharmacol 2012;73:691-705). How days are counted is this project's
own decision, since no published rule covers cycles and doses as needed:

- A day is the client's day: a bedtime dose past midnight belongs to the day before.
- Only days with a diary entry for the remedy count. Days due without an entry, up to the last
  day of the diary, are reported apart, never as missed.
- Off-days of a cycle, and days of a pause, are not due.
- Doses above those due on a day do not make up for others missed. Up to the day's ceiling they
  were taken as needed and are outside the proportion; the rest are reported as extra.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.follow_up.diaries import Taken

USUAL_CUT = Fraction(4, 5)
"""From this proportion on a course counts as followed: the usual cut in published adherence
measures (Pharmacy Quality Alliance, for statins, blood pressure and diabetes medicines). None
is published for herbs."""


@dataclass(frozen=True, slots=True)
class DayTaken:
    """One diary entry beside what was due on that day.

    `taken` is at most `due`; what was taken above it is `as_needed` up to the day's ceiling,
    and `extra` beyond.
    """

    day: date
    remedy: str
    phase: str
    due: int
    taken: int
    as_needed: int
    extra: int


@dataclass(frozen=True, slots=True)
class Adherence:
    """Doses due and taken over the recorded days, of one remedy, one phase or all.

    `days_due` are days with timed doses up to the diary's last day; where several remedies are
    taken together, each counts its own. `first` and `last` are the first and last day on which
    any dose was taken.
    """

    days_due: int
    days_recorded: int
    due: int
    taken: int
    as_needed: int
    extra: int
    first: date | None
    last: date | None

    @property
    def proportion(self) -> Fraction | None:
        """Taken of due; None where nothing was due on a recorded day."""
        return Fraction(self.taken, self.due) if self.due else None

    @property
    def reaches_usual_cut(self) -> bool | None:
        """Whether the proportion is at the usual cut or above; None where there is none."""
        return None if self.proportion is None else self.proportion >= USUAL_CUT


@dataclass(frozen=True, slots=True)
class AdherenceReport:
    """Adherence by remedy and by phase, in the course's order, and over all."""

    days: tuple[DayTaken, ...]
    remedies: tuple[tuple[str, Adherence], ...]
    phases: tuple[tuple[str, Adherence], ...]
    overall: Adherence


def adherence(layout: Layout, taken: Sequence[Taken]) -> AdherenceReport:
    """What the diary says about a course."""
    lines: dict[str, list[Stretch]] = defaultdict(list)
    for stretch in layout.stretches:
        lines[stretch.remedy].append(stretch)
    days = tuple(_day_taken(layout, lines[entry.remedy], entry) for entry in sorted(taken))
    due = _days_due(layout, days[-1].day) if days else []

    def over(is_meant: Callable[[DayTaken | _Due], bool]) -> Adherence:
        days_due = sum(entry.days for entry in due if is_meant(entry))
        return _summed(days_due, [day for day in days if is_meant(day)])

    def of(attribute: str, name: str) -> tuple[str, Adherence]:
        return name, over(lambda entry: getattr(entry, attribute) == name)

    course = layout.course
    return AdherenceReport(
        days,
        tuple(of("remedy", remedy.id) for remedy in course.remedies),
        tuple(of("phase", phase.id) for phase in course.protocol.phases),
        over(lambda _: True),
    )


@dataclass(frozen=True, slots=True)
class _Due:
    """On how many days of a stretch timed doses were due."""

    remedy: str
    phase: str
    days: int


def _days_due(layout: Layout, last: date) -> list[_Due]:
    past = Span.of_days(layout.course.start, last)
    return [
        _Due(s.remedy, s.phase, sum(map(s.taken_on, s.span.overlap(past))))
        for s in layout.stretches
        if s.times
    ]


def _day_taken(layout: Layout, line: list[Stretch], entry: Taken) -> DayTaken:
    stretches = [stretch for stretch in line if stretch.taken_on(entry.day)]
    due = sum(len(s.times) for s in stretches)
    ceiling = sum(s.as_needed_max or 0 for s in stretches)
    above = max(0, entry.doses - due)
    as_needed = min(above, ceiling)
    run = None if stretches else layout.phase_on(entry.day)
    phase = stretches[0].phase if stretches else run.phase.id if run else ""
    return DayTaken(
        day=entry.day,
        remedy=entry.remedy,
        phase=phase,
        due=due,
        taken=min(entry.doses, due),
        as_needed=as_needed,
        extra=above - as_needed,
    )


def _summed(days_due: int, days: Iterable[DayTaken]) -> Adherence:
    days = list(days)
    taken_on = [d.day for d in days if d.taken or d.as_needed or d.extra]
    return Adherence(
        days_due=days_due,
        days_recorded=sum(1 for d in days if d.due),
        due=sum(d.due for d in days),
        taken=sum(d.taken for d in days),
        as_needed=sum(d.as_needed for d in days),
        extra=sum(d.extra for d in days),
        first=min(taken_on, default=None),
        last=max(taken_on, default=None),
    )
