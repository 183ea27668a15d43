"""The spine: a course as stretches, runs of days on which one line is taken in one way.

Everything that follows from a course reads these. The cost follows the number of stretches
and revisions, never the number of days.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from sennight.domain.courses.ceilings import within_ceilings
from sennight.domain.courses.courses import Course
from sennight.domain.courses.plan import Freezes, Joining, PhaseRun, Plan
from sennight.domain.courses.protocols import CountFrom, Line
from sennight.domain.courses.revising import plan_course
from sennight.domain.dates import CalendarUnit, Span, joined, without
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Cycle, DayRule, Directions, Unit
from sennight.domain.kept import kept

FAR = date.max


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of days on which one line is taken in exactly one way.

    `times` are minutes from the midnight that begins the client's day, in order; 1440 and more
    carry the next date; empty where all is as needed. With `days.every` above 1 the first
    day is a day taken, and counting starts there. `as_needed_max` is the most doses a day
    beyond the timed ones; None where nothing is taken as needed.
    """

    span: Span
    phase: str
    remedy: str
    amount: Fraction
    unit: Unit
    times: tuple[int, ...]
    days: DayRule
    as_needed_max: int | None
    directions: Directions
    formula: str
    """The remedy whose formula is taken: `remedy`, or the one that took its place."""

    def taken_on(self, day: date) -> bool:
        """Whether the line is taken on a day."""
        if day not in self.span:
            return False
        if self.days.weekdays:
            return day.weekday() in self.days.weekdays
        return (day - self.span.first).days % self.days.every == 0

    def days_taken(self) -> Iterator[date]:
        """The days on which it is taken, in order."""
        return (day for day in self.span if self.taken_on(day))


@dataclass(frozen=True, slots=True)
class Rest:
    """Days off in a line's cycle."""

    span: Span
    phase: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Layout:
    """A course laid out over real days, revisions applied."""

    course: Course
    plan: Plan
    phases: tuple[PhaseRun, ...]
    stretches: tuple[Stretch, ...]
    rests: tuple[Rest, ...]

    @property
    @kept(16)
    def days(self) -> Span:
        """From the course's start to the last day of its phases and flares."""
        ends = [run.span.end for run in (*self.phases, *self.flares)]
        return Span(self.course.start, max(ends, default=self.course.start))

    @property
    @kept(16)
    def flares(self) -> tuple[PhaseRun, ...]:
        """The flares that have a day before the course's end."""
        return tuple(_until(self.plan.flares, self.plan.ends))

    @property
    def pauses(self) -> tuple[Span, ...]:
        """The days without base doses, overlapping pauses made one."""
        return joined((*self.plan.skips, *self.plan.freezes.frozen))

    def line_of(self, stretch: Stretch) -> Line | None:
        """The line that a stretch comes from; None for a remedy that joined a phase."""
        phase = self.course.protocol.phase(stretch.phase)
        lines = phase.lines if phase else ()
        return next((line for line in lines if line.remedy == stretch.remedy), None)

    def phase_on(self, day: date) -> PhaseRun | None:
        """The phase of the sequence that a day belongs to."""
        return next((run for run in self.phases if day in run.span), None)


@kept(4)
def lay_out(course: Course) -> Layout:
    """A course's stretches, in order of their first day and of the remedies in the course.

    Raises LayoutError (RevisionError for a revision), and SameTimeError where two doses of
    a line coincide in this client's day.
    """
    plan = plan_course(course)
    pieces = [
        (run, line.remedy, piece)
        for runs, lay in ((plan.runs(), _base_pieces), (plan.flares, _flare_pieces))
        for run in runs
        for line in run.phase.lines
        for piece in lay(plan, run, line)
    ]
    pieces += [
        (run, joining.remedy, piece)
        for run in plan.runs()
        for joining, window in plan.joined(run)
        for piece in _joined_pieces(plan, joining, window)
    ]
    order = {remedy.id: n for n, remedy in enumerate(course.remedies)}
    stretches = [
        _stretch(course, run, remedy, formula, part)
        for run, remedy, piece in pieces
        if piece.is_on
        for formula, part in _formulated(plan, remedy, piece)
    ]
    rests = [Rest(p.span, run.phase.id, remedy) for run, remedy, p in pieces if not p.is_on]
    return Layout(
        course,
        plan,
        tuple(_until(plan.real_runs(), plan.ends)),
        tuple(sorted(stretches, key=lambda s: (s.span.first, order.get(s.remedy, 0), s.span.end))),
        tuple(sorted(rests, key=lambda r: (r.span, order.get(r.remedy, 0), r.phase))),
    )


def _until(runs: tuple[PhaseRun, ...], end: date | None) -> Iterator[PhaseRun]:
    for run in runs:
        span = Span(run.span.first, min(run.span.end, end or FAR))
        if span:
            yield PhaseRun(run.phase, span)


# From a line's directions to the days on which it is taken


@dataclass(frozen=True, slots=True)
class _Piece:
    """Days on which a line follows one set of directions, counted from their anchor."""

    span: Span
    directions: Directions
    anchor: date
    is_on: bool = True

    def cut_to(self, span: Span) -> _Piece:
        if span == self.span:
            return self
        return _Piece(span, self.directions, self.anchor, self.is_on)


_Pieces = Iterable[_Piece]


def _base_pieces(plan: Plan, run: PhaseRun, line: Line) -> _Pieces:
    """A base line: on treatment days first, then on real ones less those it gives way on."""
    counted_from = plan.course.start if line.count_from is CountFrom.COURSE else None
    pieces = _redirected(_stepped(run, line), plan, line.remedy)
    on_treatment_days = _cycled(pieces, counted_from)
    return _cleared(_on_real_days(on_treatment_days, plan.freezes), _holes(plan, line.remedy))


def _joined_pieces(plan: Plan, joining: Joining, window: Span) -> _Pieces:
    """A remedy that joined a phase, anchored on the day that it joined."""
    own = (_Piece(window, joining.directions, window.first),)
    on_treatment_days = _cycled(_redirected(own, plan, joining.remedy))
    real = _on_real_days(on_treatment_days, plan.freezes)
    return _cleared(real, _holes(plan, joining.remedy))


def _flare_pieces(plan: Plan, flare: PhaseRun, line: Line) -> _Pieces:
    """A line of a flare, on real days from the start."""
    return _cleared(_cycled(_stepped(flare, line)), _over(plan, line.remedy))


def _stepped(run: PhaseRun, line: Line) -> tuple[_Piece, ...]:
    """A line's directions in its phase, step by step."""
    starts = [(run.span.first, line.directions)]
    starts += [(run.span.first + timedelta(days=s.after_days), s.directions) for s in line.steps]
    ends = [first for first, _ in starts[1:]] + [FAR]
    pieces = (
        _Piece(Span(first, min(end, run.span.end)), directions, first)
        for (first, directions), end in zip(starts, ends, strict=True)
    )
    return tuple(piece for piece in pieces if piece.span)


def _redirected(pieces: tuple[_Piece, ...], plan: Plan, remedy: str) -> _Pieces:
    """The same with redirections in place; of overlapping ones the last listed holds."""
    whole = Span(pieces[0].span.first, pieces[-1].span.end)
    for redirection, window in plan.windows():
        inside = window.overlap(whole)
        if redirection.remedy == remedy and inside:
            kept = _cleared(pieces, (inside,))
            pieces = (*kept, _Piece(inside, redirection.directions, window.first))
    return pieces


def _cycled(pieces: _Pieces, counted_from: date | None = None) -> _Pieces:
    """Each piece as its runs of days on and days off, counted from its anchor or from a day."""
    for piece in pieces:
        if piece.directions.cycle is None:
            yield piece
        else:
            first = counted_from or piece.anchor
            for span, is_on in cycle_runs(piece.directions.cycle, first, piece.span):
                yield _Piece(span, piece.directions, piece.anchor, is_on)


def _on_real_days(pieces: _Pieces, freezes: Freezes) -> _Pieces:
    """Pieces on treatment days, moved to the real days they fall on, anchors with them."""
    for piece in pieces:
        for treatment, real in freezes.pieces(piece.span):
            anchor = piece.anchor + (real.first - treatment.first)
            yield _Piece(real, piece.directions, anchor, piece.is_on)


def _cleared(pieces: _Pieces, holes: tuple[Span, ...]) -> _Pieces:
    """What is left of the pieces outside the holes, less what has no day to be taken on."""
    for piece in pieces:
        for left in without(piece.span, holes):
            span = _from_day_taken(left, piece) if piece.is_on else left
            if span:
                yield piece.cut_to(span)


def _from_day_taken(span: Span, piece: _Piece) -> Span:
    """The span from its first day taken where days are counted; empty where none is taken."""
    rule = piece.directions.days
    if rule.every > 1:
        wait = -(span.first - piece.anchor).days % rule.every
        return Span(span.first + timedelta(days=wait), span.end)
    if rule.weekdays:
        week = Span(span.first, min(span.end, span.first + timedelta(days=7)))
        if not any(day.weekday() in rule.weekdays for day in week):
            return Span(span.end, span.end)
    return span


def _formulated(plan: Plan, remedy: str, piece: _Piece) -> Iterator[tuple[str, _Piece]]:
    """A piece on real days, cut where another formula takes the remedy's place."""
    for formula, days in plan.formulas(remedy, piece.span):
        span = _from_day_taken(days, piece)
        if span:
            yield formula, piece.cut_to(span)


def cycle_runs(cycle: Cycle, anchor: date, within: Span) -> Iterator[tuple[Span, bool]]:
    """The runs of a cycle that have days within a span, cut to it; True for a run of days on.

    Runs in days and weeks before the span are stepped over at once. Months are counted from
    each run's own first day, so these are walked.
    """
    first = anchor
    # Whole periods before the span are stepped over, so that a course of years costs what a week
    # does. Months differ in length, and each run of them is counted from its own first day.
    if CalendarUnit.MONTHS not in (cycle.on.unit, cycle.off.unit):
        period = (cycle.off.after(cycle.on.after(anchor)) - anchor).days
        first += timedelta(days=max(0, (within.first - anchor).days // period * period))
    is_on = True
    while first < within.end:
        end = (cycle.on if is_on else cycle.off).after(first)
        part = Span(first, end).overlap(within)
        if part:
            yield part, is_on
        first, is_on = end, not is_on


def _holes(plan: Plan, remedy: str) -> tuple[Span, ...]:
    """The real days on which a base line of a remedy is not taken."""
    flares = (
        flare.span
        for flare in plan.flares
        if flare.phase.stand_in or remedy in {line.remedy for line in flare.phase.lines}
    )
    return (*plan.skips, *flares, *_over(plan, remedy))


def _over(plan: Plan, remedy: str) -> tuple[Span, ...]:
    """The days from which on a remedy is over, for whichever reason."""
    days = [day for stopped, day in plan.stops if stopped == remedy]
    if plan.ends is not None:
        days.append(plan.ends)
    return (Span(min(days), FAR),) if days else ()


def _stretch(course: Course, run: PhaseRun, remedy: str, formula: str, piece: _Piece) -> Stretch:
    day = course.client.day
    directions = piece.directions
    if course.protocol.ceilings:
        directions = within_ceilings(course.protocol, remedy, directions, day)
    times, as_needed_max = _doses(directions, day)
    return Stretch(
        span=piece.span,
        phase=run.phase.id,
        remedy=remedy,
        amount=directions.amount,
        unit=directions.unit,
        times=times,
        days=directions.days,
        as_needed_max=as_needed_max,
        directions=directions,
        formula=formula,
    )


@kept(256)
def _doses(directions: Directions, day: ClientDay) -> tuple[tuple[int, ...], int | None]:
    """When the timed doses fall, and the most doses beyond them; raises SameTimeError."""
    needed = directions.as_needed
    return directions.minutes(day), needed.ceiling(day) if needed else None
