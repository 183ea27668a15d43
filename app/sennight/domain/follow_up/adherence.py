"""Adherence: how much of what was due was taken, from the client's diary.

Three things are told apart (Vrijens et al., Br J Clin Pharmacol 2012;73:691-705): initiation, the
first dose; implementation, the proportion of due timed doses that were taken up to the last dose
taken; and persistence, how long the client went on. How days are counted is this project's own
decision, since no published rule covers cycles and doses as needed:

- A day is the client's day: a bedtime dose past midnight belongs to the day before.
- Only days with a diary entry for the remedy count. Days due without an entry are reported apart:
  the bounds say what the proportion would be if all their doses were missed, or all taken. Where
  fewer than half of the due days have an entry, no proportion is told.
- Off-days of a cycle, and days of a pause, are not due.
- Doses above those due on a day do not make up for others missed. Up to the day's ceiling they
  were taken as needed and are outside the proportion; the rest are reported as extra.
- Persistence looks beyond the diary's last entry, to the day that it is read on: who stops on day
  14 of 84 and writes nothing more went on for 14 days of 84.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, course_week
from sennight.domain.follow_up.diaries import Taken

USUAL_CUT = Fraction(4, 5)
"""From this proportion on a course counts as followed: the usual cut in published adherence
measures (Pharmacy Quality Alliance, for statins, blood pressure and diabetes medicines). None
is published for herbs."""

LEAST_RECORDED = Fraction(1, 2)
"""Below this share of due days with an entry no proportion is told (project's decision)."""


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

    `days_due` are days with timed doses up to the diary's last day, `all_due` their doses; where
    several remedies are taken together, each counts its own. `first` and `last` are the first
    and last day on which any dose was taken; `kept_due` and `kept_taken` are doses up to the last.
    `days_asked` are days with timed doses up to the day that the diary is read on, `days_kept`
    those of them up to the last day taken.
    """

    days_due: int
    days_recorded: int
    due: int
    taken: int
    as_needed: int
    extra: int
    first: date | None
    last: date | None
    all_due: int
    kept_due: int
    kept_taken: int
    days_asked: int
    days_kept: int

    @property
    def is_recorded(self) -> bool:
        """Whether enough due days have an entry for a proportion to be told."""
        return self.days_recorded >= LEAST_RECORDED * self.days_due

    @property
    def proportion(self) -> Fraction | None:
        """Taken of due; None where nothing was due on a recorded day, or too few are recorded."""
        return Fraction(self.taken, self.due) if self.due and self.is_recorded else None

    @property
    def bounds(self) -> tuple[Fraction, Fraction] | None:
        """The proportion if every unrecorded dose was missed, and if every one was taken."""
        if not self.all_due:
            return None
        unrecorded = self.all_due - self.due
        return Fraction(self.taken, self.all_due), Fraction(self.taken + unrecorded, self.all_due)

    @property
    def implementation(self) -> Fraction | None:
        """Taken of due on recorded days up to the last dose taken; None without one."""
        return Fraction(self.kept_taken, self.kept_due) if self.kept_due else None

    @property
    def persistence(self) -> Fraction | None:
        """The share of days asked for on which the client still went on; None without any."""
        return Fraction(self.days_kept, self.days_asked) if self.days_asked else None

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


def adherence(
    layout: Layout, taken: Sequence[Taken], *, today: date | None = None
) -> AdherenceReport:
    """What the diary says about a course, read on a day; without one, on its own last day."""
    lines: dict[str, list[Stretch]] = defaultdict(list)
    for stretch in layout.stretches:
        lines[stretch.remedy].append(stretch)
    days = tuple(_day_taken(layout, lines[entry.remedy], entry) for entry in sorted(taken))
    return _Reading(layout, days, today).report()


class _Reading:
    """A diary beside what was due up to its last day, and up to the day that it is read on."""

    def __init__(self, layout: Layout, days: tuple[DayTaken, ...], today: date | None) -> None:
        self._layout, self._days = layout, days
        self._last_taken = {day.remedy: day.day for day in days if _is_any(day)}
        last = days[-1].day if days else None
        self._due = list(_due_until(layout, last, self._last_taken))
        read_on = max(last, today) if last and today else last
        self._asked = list(_due_until(layout, read_on, self._last_taken))

    def report(self) -> AdherenceReport:
        """By remedy, by phase and over all."""
        course = self._layout.course
        return AdherenceReport(
            self._days,
            tuple((remedy.id, self._of("remedy", remedy.id)) for remedy in course.remedies),
            tuple((phase.id, self._of("phase", phase.id)) for phase in course.protocol.phases),
            self._over(lambda _: True),
        )

    def _of(self, attribute: str, name: str) -> Adherence:
        return self._over(lambda entry: getattr(entry, attribute) == name)

    def _over(self, is_meant: Callable[[DayTaken | _Due], bool]) -> Adherence:
        days = [day for day in self._days if is_meant(day)]
        due = [entry for entry in self._due if is_meant(entry)]
        asked = [entry for entry in self._asked if is_meant(entry)]
        kept = [day for day in days if day.day <= self._last_taken.get(day.remedy, date.min)]
        taken_on = [day.day for day in days if _is_any(day)]
        return Adherence(
            days_due=sum(entry.days for entry in due),
            days_recorded=sum(1 for day in days if day.due),
            due=sum(day.due for day in days),
            taken=sum(day.taken for day in days),
            as_needed=sum(day.as_needed for day in days),
            extra=sum(day.extra for day in days),
            first=min(taken_on, default=None),
            last=max(taken_on, default=None),
            all_due=sum(entry.doses for entry in due),
            kept_due=sum(day.due for day in kept),
            kept_taken=sum(day.taken for day in kept),
            days_asked=sum(entry.days for entry in asked),
            days_kept=sum(entry.kept for entry in asked),
        )


@dataclass(frozen=True, slots=True)
class _Due:
    """Days of a stretch with timed doses, their doses, and the days up to the last dose taken."""

    remedy: str
    phase: str
    days: int
    doses: int
    kept: int


def _due_until(
    layout: Layout, last: date | None, last_taken: Mapping[str, date]
) -> Iterator[_Due]:
    if last is None:
        return
    past = Span.of_days(layout.course.start, last)
    for stretch in layout.stretches:
        if stretch.times:
            days = [day for day in stretch.span.overlap(past) if stretch.taken_on(day)]
            until = last_taken.get(stretch.remedy, date.min)
            kept = sum(day <= until for day in days)
            doses = len(days) * len(stretch.times)
            yield _Due(stretch.remedy, stretch.phase, len(days), doses, kept)


def _is_any(day: DayTaken) -> bool:
    """Whether any dose was taken, as needed or above what was due too."""
    return bool(day.taken or day.as_needed or day.extra)


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


@dataclass(frozen=True, slots=True)
class Share:
    """Doses due and taken on the recorded days of a week or a weekday."""

    due: int
    taken: int

    @property
    def proportion(self) -> Fraction | None:
        """Taken of due; None where nothing was due."""
        return Fraction(self.taken, self.due) if self.due else None


def by_weekday(days: Iterable[DayTaken]) -> tuple[Share, ...]:
    """Monday to Sunday."""
    return tuple(_share(day for day in days if day.day.weekday() == n) for n in range(7))


def by_week(days: Iterable[DayTaken], start: date) -> tuple[tuple[int, Share], ...]:
    """The course weeks that have an entry, from 1, in order; `start` is the course's first day."""
    weeks: dict[int, list[DayTaken]] = defaultdict(list)
    for day in days:
        weeks[course_week(start, day.day)].append(day)
    return tuple((week, _share(weeks[week])) for week in sorted(weeks))


def _share(days: Iterable[DayTaken]) -> Share:
    entries = list(days)
    return Share(sum(day.due for day in entries), sum(day.taken for day in entries))
