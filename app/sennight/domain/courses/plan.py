"""Where the phases of a course stand, and where pauses and flares lie.

Two axes. *Treatment days* are the days of the course laid out as if it were never frozen;
phases, steps, cycles and redirects stand on them. *Real days* are the calendar's; pauses,
flares, stops and the end stand on these. `Freezes` maps one to the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Phase
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.directions import Directions
from sennight.domain.kept import kept


class LayoutError(ValueError):
    """A course whose phases cannot be laid out; the message says why and what was expected."""


@dataclass(frozen=True, slots=True)
class Freezes:
    """The frozen pauses, as real days, in order; each moves what comes after it later."""

    spans: tuple[Span, ...] = ()

    def real(self, treatment: date) -> date:
        """The real day on which a treatment day falls."""
        for span in self.spans:
            if treatment >= span.first:
                treatment += timedelta(days=span.days)
        return treatment

    def treatment(self, real: date) -> date:
        """The treatment day of a real day; within a freeze, the first day that it moved."""
        for span in reversed(self.spans):
            if real >= span.end:
                real -= timedelta(days=span.days)
            elif real >= span.first:
                real = span.first
        return real

    @property
    def frozen(self) -> tuple[Span, ...]:
        """The real days without a treatment day; where freezes overlap, both lengths count."""
        return tuple(
            Span(self.real(cut - ONE_DAY) + ONE_DAY, self.real(cut)) for cut in self._cuts()
        )

    @kept(8)
    def _cuts(self) -> tuple[date, ...]:
        """The treatment days that a freeze lies before, in order."""
        return tuple(sorted({self.treatment(span.first) for span in self.spans}))

    def pieces(self, treatment: Span) -> tuple[tuple[Span, Span], ...]:
        """Runs of treatment days that stay together, each with the real days they become."""
        inner = [cut for cut in self._cuts() if treatment.first < cut < treatment.end]
        edges = [treatment.first, *inner, treatment.end] if treatment else []
        parts = [Span(a, b) for a, b in pairwise(edges)]
        return tuple((p, Span.of_days(self.real(p.first), self.real(p.last))) for p in parts)

    def with_span(self, span: Span) -> Freezes:
        """With one more freeze; an empty one changes nothing."""
        return Freezes(tuple(sorted((*self.spans, span)))) if span else self


@dataclass(frozen=True, slots=True)
class PlannedPhase:
    """A phase of the sequence and what revisions did to its length.

    `cut` (days) replaces its own length where the course moved on early; `extra` days are
    added to whichever holds.
    """

    phase: Phase
    extra: int = 0
    cut: int | None = None

    def end(self, first: date, open_until: date) -> date:
        """The first treatment day after it, when it begins on `first`."""
        if self.cut is not None:
            end = first + timedelta(days=self.cut)
        elif self.phase.length is not None:
            end = self.phase.length.after(first)
        else:
            end = open_until + ONE_DAY
        return end + timedelta(days=self.extra)


@dataclass(frozen=True, slots=True)
class PhaseRun:
    """A phase and the days on which it runs."""

    phase: Phase
    span: Span


@dataclass(frozen=True, slots=True)
class Redirection:
    """Other directions for a remedy, counted in days from the start of a phase.

    `until` is the first day after it; None is the end of that phase.
    """

    remedy: str
    phase: str
    start: int
    until: int | None
    directions: Directions


@dataclass(frozen=True, slots=True)
class Joining(Redirection):
    """A remedy that a phase has no line for, from a day of the phase on."""


@dataclass(frozen=True, slots=True)
class Replacement:
    """A formula that is taken in a remedy's place, from a real day on."""

    remedy: str
    first: date
    formula: str


@dataclass(frozen=True, slots=True)
class Plan:
    """A course with some or all of its revisions applied."""

    course: Course
    stages: tuple[PlannedPhase, ...]
    freezes: Freezes = Freezes()
    skips: tuple[Span, ...] = ()
    flares: tuple[PhaseRun, ...] = ()
    redirections: tuple[Redirection, ...] = ()
    joinings: tuple[Joining, ...] = ()
    replacements: tuple[Replacement, ...] = ()
    stops: tuple[tuple[str, date], ...] = ()
    ends: date | None = None

    @classmethod
    def of(cls, course: Course) -> Plan:
        """A course as the protocol has it, no revision applied."""
        return cls(course, tuple(PlannedPhase(phase) for phase in course.protocol.sequence))

    @kept(32)
    def runs(self) -> tuple[PhaseRun, ...]:
        """The phases with their treatment days; raises LayoutError where one has none."""
        runs = []
        first = self.course.start
        for stage in self.stages:
            end = stage.end(first, self.course.open_until)
            if end <= first:
                raise LayoutError(self._no_days(stage.phase, first))
            runs.append(PhaseRun(stage.phase, Span(first, end)))
            first = end
        return tuple(runs)

    def _no_days(self, phase: Phase, first: date) -> str:
        if phase.length is None:
            return (
                f"the open phase “{phase.id}” would begin on {first}, after the course's last day "
                f"{self.course.open_until}; expected a later last day"
            )
        return f"phase “{phase.id}” would have no day left; expected a length of 1 day or more"

    def real_runs(self) -> tuple[PhaseRun, ...]:
        """The phases with their real days, from their first to their last."""
        real = self.freezes.real
        return tuple(
            PhaseRun(run.phase, Span.of_days(real(run.span.first), real(run.span.last)))
            for run in self.runs()
        )

    def days(self) -> Span:
        """The course's real days: from its start to its last phase's end, or to its end."""
        runs = self.real_runs()
        end = runs[-1].span.end if runs else self.course.start
        return Span(self.course.start, min(end, self.ends) if self.ends else end)

    def run_at(self, real: date) -> PhaseRun:
        """The phase that a day of the course belongs to, with its treatment days."""
        treatment = self.freezes.treatment(real)
        return next(run for run in self.runs() if treatment in run.span)

    @kept(8)
    def windows(self) -> tuple[tuple[Redirection, Span], ...]:
        """The redirections that still have a phase, with their treatment days."""
        spans = {run.phase.id: run.span for run in self.runs()}
        return tuple(
            (redirection, _window(redirection, spans[redirection.phase]))
            for redirection in self.redirections
            if redirection.phase in spans
        )

    def formulas(self, remedy: str, days: Span) -> tuple[tuple[str, Span], ...]:
        """Whose formula is taken for a remedy on real days, and on which of them."""
        due = [other for other in self.replacements if other.remedy == remedy]
        cuts = {other.first for other in due if days.first < other.first < days.end}
        periods: list[tuple[str, Span]] = []
        for first, end in pairwise(sorted({days.first, *cuts, days.end})):
            latest = [other.formula for other in due if other.first <= first]
            formula = latest[-1] if latest else remedy
            same = periods.pop()[1] if periods and periods[-1][0] == formula else None
            periods.append((formula, Span(same.first if same else first, end)))
        return tuple(periods)

    def joined_on(self) -> tuple[tuple[str, Span], ...]:
        """The remedies that joined a phase, and the real days from their first to their last."""
        real = self.freezes.real
        return tuple(
            (joining.remedy, Span.of_days(real(window.first), real(window.last)))
            for run in self.runs()
            for joining, window in self.joined(run)
        )

    def joined(self, run: PhaseRun) -> tuple[tuple[Joining, Span], ...]:
        """What joined a phase, with its treatment days there."""
        windows = (
            (joining, _window(joining, run.span).overlap(run.span))
            for joining in self.joinings
            if joining.phase == run.phase.id
        )
        return tuple((joining, window) for joining, window in windows if window)


def _window(redirection: Redirection, home: Span) -> Span:
    """The treatment days of a redirection, counted from its phase's first."""
    first, until = home.first + timedelta(days=redirection.start), redirection.until
    return Span(first, home.end if until is None else home.first + timedelta(days=until))
