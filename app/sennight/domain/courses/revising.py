"""Applies a course's revisions, in the order listed, each to the result of those before."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import assert_never

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
    Revision,
    Stay,
    Stop,
    kind_of,
)
from sennight.domain.courses.plan import (
    Joining,
    LayoutError,
    PhaseRun,
    Plan,
    PlannedPhase,
    Redirection,
    Replacement,
)
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.kept import kept


class RevisionError(LayoutError):
    """A revision that is impossible where it stands.

    `index` counts from 0 in the course's list; `field` is the field of it that is at fault.
    """

    def __init__(self, index: int, revision: Revision, refusal: RefusalError) -> None:
        self.index, self.field = index, refusal.field
        super().__init__(f"{kind_of(revision)} decided on {revision.on}: {refusal}")


class RefusalError(ValueError):
    """Why a revision is impossible, and the field of it that is at fault."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        super().__init__(message)


@kept(4)
def plan_course(course: Course) -> Plan:
    """The plan after all revisions; raises LayoutError, for a revision RevisionError.

    A course that was struck out has no day.
    """
    plan = Plan.of(course)
    plan.runs()
    for index, revision in enumerate(course.revisions):
        if revision.is_void:
            continue
        try:
            plan = _revised(plan, revision)
            plan.runs()
        except RefusalError as refusal:
            raise RevisionError(index, revision, refusal) from refusal
        except LayoutError as error:
            raise RevisionError(index, revision, RefusalError("", str(error))) from error
    return replace(plan, ends=course.start) if course.is_void else plan


def _revised(plan: Plan, revision: Revision) -> Plan:
    match revision:
        case Extend():
            return _extend(plan, revision)
        case Advance():
            return _advance(plan, revision)
        case Pause():
            return _pause(plan, revision)
        case Flare():
            return _flare(plan, revision)
        case Redirect():
            return _redirect(plan, revision)
        case Stop():
            return _stop(plan, revision)
        case End():
            return _end(plan, revision)
        case Join():
            return _join(plan, revision)
        case Reformulate():
            return _reformulate(plan, revision)
        case Stay():
            return plan
        case _:
            assert_never(revision)


def _extend(plan: Plan, revision: Extend) -> Plan:
    stages = [stage for stage in plan.stages if stage.phase.id == revision.phase]
    if not stages:
        raise RefusalError("phase", _no_phase(plan, revision.phase))
    stage = stages[0]
    _not_over(plan, stage.phase.id, revision)
    longer = replace(stage, extra=stage.extra + revision.days)
    return replace(plan, stages=tuple(longer if s is stage else s for s in plan.stages))


def _advance(plan: Plan, revision: Advance) -> Plan:
    _inside(plan, "from", revision.first)
    running = plan.run_at(revision.first)
    _not_over(plan, running.phase.id, revision)
    ids = [stage.phase.id for stage in plan.stages]
    if revision.to not in ids:
        raise RefusalError("to", _no_phase(plan, revision.to))
    here, there = ids.index(running.phase.id), ids.index(revision.to)
    if there <= here:
        raise RefusalError(
            "to",
            f"phase “{revision.to}” does not lie ahead: on {revision.first} “{running.phase.id}” "
            "is running; expected a phase after it",
        )
    plan = _wake(plan, revision.first)
    before = (plan.freezes.treatment(revision.first) - running.span.first).days
    ended = (PlannedPhase(running.phase, cut=before),) if before else ()
    return replace(plan, stages=(*plan.stages[:here], *ended, *plan.stages[there:]))


def _wake(plan: Plan, day: date) -> Plan:
    """Let a freeze that holds a real day end before it; its other days only skip doses.

    So a phase that is moved on to within a freeze starts on the day that was said.
    """
    # The days of a freeze that lie ahead were to push the new phase back; but it was said to begin
    # on this day. So the freeze ends here, and what is left of it only leaves doses out.
    freezing = tuple(span for span in plan.freezes.spans if day in span)
    freezes = replace(
        plan.freezes, spans=tuple(s for s in plan.freezes.spans if s not in freezing)
    )
    for span in freezing:
        freezes = freezes.with_span(Span(span.first, day))
    skips = (*plan.skips, *(Span(day, span.end) for span in freezing))
    return replace(plan, freezes=freezes, skips=skips)


def _pause(plan: Plan, revision: Pause) -> Plan:
    span = _span(plan, revision.first, revision.last, "pause")
    if revision.mode is PauseMode.SKIP:
        return replace(plan, skips=(*plan.skips, span))
    return replace(plan, freezes=plan.freezes.with_span(span))


def _flare(plan: Plan, revision: Flare) -> Plan:
    phase = plan.course.protocol.phase(revision.rescue)
    if phase is None or not phase.is_rescue:
        rescues = [p.id for p in plan.course.protocol.phases if p.is_rescue]
        expected = f"one of {', '.join(rescues)}" if rescues else "a protocol that has one"
        raise RefusalError(
            "rescue", f"“{revision.rescue}” is not a flare-up plan; expected {expected}"
        )
    if revision.last is not None:
        span = _span(plan, revision.first, revision.last, "flare")
    else:
        _inside(plan, "from", revision.first)
        if phase.length is None:
            raise RefusalError(
                "to", f"flare-up plan “{phase.id}” has no length of its own; expected to"
            )
        span = Span(revision.first, phase.length.after(revision.first))
    for other in plan.flares:
        if other.span.touches(span):
            raise RefusalError(
                "from",
                f"it overlaps the flare from {other.span.first} to {other.span.last}; "
                "expected days outside it",
            )
    return replace(plan, flares=(*plan.flares, PhaseRun(phase, span)))


def _redirect(plan: Plan, revision: Redirect) -> Plan:
    _inside(plan, "from", revision.first)
    if revision.last is not None:
        _span(plan, revision.first, revision.last, "redirect")
    run = plan.run_at(revision.first)
    _not_over(plan, run.phase.id, revision)
    if revision.remedy not in _taken_in(plan, run, revision.first):
        raise RefusalError(
            "remedy",
            f"“{revision.remedy}” is not taken in phase “{run.phase.id}”, which runs on "
            f"{revision.first}; expected a remedy of that phase",
        )
    redirection = Redirection(
        revision.remedy, run.phase.id, *_counted(plan, run, revision), revision.directions
    )
    return replace(plan, redirections=(*plan.redirections, redirection))


def _counted(plan: Plan, run: PhaseRun, revision: Redirect | Join) -> tuple[int, int | None]:
    """Its first day, and the first after it, as days of treatment in a phase."""
    treatment = plan.freezes.treatment
    start = (treatment(revision.first) - run.span.first).days
    if revision.last is None:
        return start, None
    return start, (treatment(revision.last + ONE_DAY) - run.span.first).days


def _taken_in(plan: Plan, run: PhaseRun, real: date) -> set[str]:
    """The remedies that are in a phase on a day: those of its lines, and those that joined it."""
    day = plan.freezes.treatment(real)
    joined = {joining.remedy for joining, window in plan.joined(run) if day in window}
    return joined | {line.remedy for line in run.phase.lines}


def _join(plan: Plan, revision: Join) -> Plan:
    _inside(plan, "from", revision.first)
    if revision.last is not None:
        _span(plan, revision.first, revision.last, "joining")
    run = plan.run_at(revision.first)
    _not_over(plan, run.phase.id, revision)
    joining = Joining(
        revision.remedy, run.phase.id, *_counted(plan, run, revision), revision.directions
    )
    after = replace(plan, joinings=(*plan.joinings, joining))
    spans = [window for other, window in after.joined(run) if other.remedy == revision.remedy]
    overlap = any(span.touches(other) for n, span in enumerate(spans) for other in spans[n + 1 :])
    if overlap or revision.remedy in {line.remedy for line in run.phase.lines}:
        raise RefusalError(
            "remedy",
            f"“{revision.remedy}” is taken in phase “{run.phase.id}” already; expected another "
            "remedy, or a redirect",
        )
    return after


def _reformulate(plan: Plan, revision: Reformulate) -> Plan:
    _inside(plan, "from", revision.first)
    replaced = {replacement.remedy for replacement in plan.replacements}
    if revision.formula == revision.remedy and revision.remedy not in replaced:
        raise RefusalError(
            "with", f"“{revision.formula}” cannot take its own place; expected another remedy"
        )
    replacement = Replacement(revision.remedy, revision.first, revision.formula)
    return replace(plan, replacements=(*plan.replacements, replacement))


def _stop(plan: Plan, revision: Stop) -> Plan:
    _inside(plan, "from", revision.first)
    return replace(plan, stops=(*plan.stops, (revision.remedy, revision.first)))


def _end(plan: Plan, revision: End) -> Plan:
    _inside(plan, "from", revision.first)
    return replace(plan, ends=revision.first)


# Refusals


def _inside(plan: Plan, field: str, day: date) -> None:
    days = plan.days()
    if day not in days:
        raise RefusalError(
            field,
            f"{day} lies outside the course; expected a day from {days.first} to {days.last}",
        )


def _span(plan: Plan, first: date, last: date, what: str) -> Span:
    """Both ends included; refused where it ends before it begins or leaves the course."""
    _inside(plan, "from", first)
    if last < first:
        raise RefusalError("to", f"the {what} ends on {last}, before it begins on {first}")
    _inside(plan, "to", last)
    return Span.of_days(first, last)


def _not_over(plan: Plan, phase: str, revision: Revision) -> None:
    """A phase that ended before the day of the decision cannot be changed any more."""
    run = next(run for run in plan.real_runs() if run.phase.id == phase)
    if run.span.last < revision.on:
        raise RefusalError(
            "phase" if isinstance(revision, Extend) else "from",
            f"phase “{phase}” ended on {run.span.last}; expected a phase that had not ended",
        )


def _no_phase(plan: Plan, phase: str) -> str:
    ids = ", ".join(stage.phase.id for stage in plan.stages)
    return f"no phase “{phase}” is in the course's sequence; expected one of {ids}"
