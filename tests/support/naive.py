"""A course read day by day, with lists and loops and dateutil: what the closed form must equal.

Nothing here is shared with the program's layout: phases become lists of treatment days, a
freeze is walked through, a cycle is walked from its anchor.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from dateutil.relativedelta import relativedelta

from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    PauseMode,
    Redirect,
    Reformulate,
    Stay,
    Stop,
)
from sennight.domain.courses.protocols import Line, Phase
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Directions

ONE = timedelta(days=1)
Counted = tuple[str, str, int, int | None, Directions]
"""A remedy, a phase, the days of treatment from and until which they hold, and directions."""


def after(first: date, length: Length) -> date:
    word = {CalendarUnit.DAYS: "days", CalendarUnit.WEEKS: "weeks", CalendarUnit.MONTHS: "months"}
    return first + relativedelta(**{word[length.unit]: length.count})  # type: ignore[arg-type]


@dataclass
class Treated:
    """One treatment day: its phase, the treatment day, the phase's first treatment date."""

    phase: Phase
    day: date
    first: date


@dataclass
class Reading:
    course: Course
    stages: list[list[Any]] = field(
        default_factory=list
    )  # [phase, extra days, days it was cut to]
    frozen: set[date] = field(default_factory=set)
    skipped: set[date] = field(default_factory=set)
    flares: list[tuple[Phase, date, date]] = field(default_factory=list)
    redirects: list[Counted] = field(default_factory=list)
    stopped: dict[str, date] = field(default_factory=dict)
    end: date | None = None
    joined: list[Counted] = field(default_factory=list)
    formulas: list[tuple[str, date, str]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.stages = [[p, 0, None] for p in self.course.protocol.phases if p.purpose != "rescue"]
        for revision in self.course.revisions:
            if not revision.void:
                self.apply(revision)
        if self.course.void:
            self.end = self.course.start

    def treated(self) -> list[Treated]:
        found: list[Treated] = []
        first = self.course.start
        for phase, extra, forced in self.stages:
            if forced is not None:
                end = first + (forced + extra) * ONE
            elif phase.length is None:
                end = self.course.open_until + ONE + extra * ONE
            else:
                end = after(first, phase.length) + extra * ONE
            day = first
            while day < end:
                found.append(Treated(phase, day, first))
                day += ONE
            first = max(first, end)
        return found

    def placed(self) -> dict[date, Treated]:
        """Each treatment day on its real day: frozen days are passed over."""
        real = self.course.start
        found = {}
        for treated in self.treated():
            while real in self.frozen:
                real += ONE
            found[real] = treated
            real += ONE
        return found

    def treatment_of(self, real: date) -> Treated:
        placed = self.placed()
        while real not in placed:
            real += ONE
        return placed[real]

    def apply(self, revision: object) -> None:  # noqa: C901, PLR0912 one case a revision
        match revision:
            case Extend():
                for stage in self.stages:
                    if stage[0].id == revision.phase:
                        stage[1] += revision.days
            case Advance():
                at = self.treatment_of(revision.first)
                ids = [stage[0].id for stage in self.stages]
                here, there = ids.index(at.phase.id), ids.index(revision.to)
                self.stages[here][1:] = [0, (at.day - at.first).days]
                self.stages = self.stages[: here + 1] + self.stages[there:]
                late = {day for day in self.frozen if day >= revision.first}
                if revision.first in self.frozen:
                    run = {
                        d
                        for d in late
                        if all(
                            revision.first + n * ONE in late
                            for n in range((d - revision.first).days)
                        )
                    }
                    self.frozen -= run
                    self.skipped |= run
            case Pause():
                days = set(self.days(revision.first, revision.last))
                if revision.mode is PauseMode.FREEZE:
                    self.frozen |= days
                else:
                    self.skipped |= days
            case Flare():
                phase = self.course.protocol.phase(revision.rescue)
                assert phase is not None
                assert phase.length is not None
                last = revision.last or after(revision.first, phase.length) - ONE
                self.flares.append((phase, revision.first, last))
            case Redirect():
                self.redirects.append(self.counted(revision))
            case Join():
                self.joined.append(self.counted(revision))
            case Stop():
                known = self.stopped.get(revision.remedy, date.max)
                self.stopped[revision.remedy] = min(known, revision.first)
            case Reformulate():
                self.formulas.append((revision.remedy, revision.first, revision.formula))
            case Stay():
                pass
            case End():
                self.end = min(self.end or date.max, revision.first)

    def counted(self, revision: Redirect | Join) -> Counted:
        """Directions from a day of the running phase on, in days of treatment."""
        at = self.treatment_of(revision.first)
        start = (at.day - at.first).days
        until = None
        if revision.last is not None:
            placed = self.placed()
            until = start + sum(revision.first <= day <= revision.last for day in placed)
        return revision.remedy, at.phase.id, start, until, revision.directions

    @staticmethod
    def days(first: date, last: date) -> Iterator[date]:
        while first <= last:
            yield first
            first += ONE

    # Reading single days

    def taken(self) -> dict[tuple[date, str], tuple[str, Directions]]:
        """(real day, remedy) → (phase, directions), for each day a remedy is taken on."""
        found: dict[tuple[date, str], tuple[str, Directions]] = {}
        treated = self.treated()
        firsts = {t.phase.id: t.first for t in treated}
        lasts = {t.phase.id: t.day for t in treated}
        for real, at in self.placed().items():
            for line, begun in self.lines_on(at):
                if real in self.skipped or self.gives_way(line.remedy, real):
                    continue
                take, anchor = self.directions(line, begun, firsts, lasts)
                if self.over(line.remedy, real) or not on_day(
                    take, anchor, at.day, real, self.cycle_from(line, anchor)
                ):
                    continue
                found[real, line.remedy] = (at.phase.id, take)
        for phase, first, last in self.flares:
            for real in self.days(first, last):
                for line in phase.lines:
                    take, anchor = stepped(line, first, real)
                    if not self.over(line.remedy, real) and on_day(take, anchor, real, real):
                        found[real, line.remedy] = (phase.id, take)
        return found

    def cycle_from(self, line: Line, anchor: date) -> date:
        return self.course.start if line.count_from == "course" else anchor

    def formula(self, remedy: str, real: date) -> str:
        """Whose formula is taken for a remedy on a day."""
        due = [its for name, first, its in self.formulas if name == remedy and first <= real]
        return due[-1] if due else remedy

    def lines_on(self, at: Treated) -> Iterator[tuple[Line, Treated]]:
        """A phase's lines, and those that joined it, with the day that each is counted from."""
        yield from ((line, at) for line in at.phase.lines)
        since = (at.day - at.first).days
        for remedy, phase, start, until, take in self.joined:
            if phase == at.phase.id and start <= since and (until is None or since < until):
                yield Line(remedy, take), Treated(at.phase, at.day, at.first + start * ONE)

    def gives_way(self, remedy: str, real: date) -> bool:
        return any(
            first <= real <= last and (phase.stand_in or remedy in [x.remedy for x in phase.lines])
            for phase, first, last in self.flares
        )

    def over(self, remedy: str, real: date) -> bool:
        return real >= self.stopped.get(remedy, date.max) or real >= (self.end or date.max)

    def directions(
        self, line: Line, at: Treated, firsts: dict[str, date], lasts: dict[str, date]
    ) -> tuple[Directions, date]:
        for remedy, phase, start, until, take in reversed(self.redirects):
            if remedy != line.remedy or phase not in firsts:
                continue
            first = firsts[phase] + start * ONE
            end = lasts[phase] + ONE if until is None else firsts[phase] + until * ONE
            if first <= at.day < end:
                return take, first
        return stepped(line, at.first, at.day)


def stepped(line: Line, first: date, day: date) -> tuple[Directions, date]:
    take, anchor = line.directions, first
    for step in line.steps:
        if day >= first + timedelta(days=step.after_days):
            take, anchor = step.directions, first + timedelta(days=step.after_days)
    return take, anchor


def on_day(
    take: Directions, anchor: date, treatment: date, real: date, cycle_from: date | None = None
) -> bool:
    if take.days.weekdays and real.weekday() not in take.days.weekdays:
        return False
    if (treatment - anchor).days % take.days.every:
        return False
    if take.cycle is None:
        return True
    first, is_on = cycle_from or anchor, True
    while True:
        end = after(first, take.cycle.on if is_on else take.cycle.off)
        if treatment < end:
            return is_on
        first, is_on = end, not is_on
