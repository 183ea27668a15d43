"""What can be done about a finding in the course itself, and the course as it then is.

An hour is moved and a herb left out at once; stopping, pausing and other directions are decisions,
which are asked for with their fields filled in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Reformulate
from sennight.domain.courses.protocols import Line
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import ClientDay, Moment, as_time
from sennight.domain.directions.directions import AtTimes, Directions
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.finding_rules import HoursBetween
from sennight.domain.safety.findings import Finding, Severity
from sennight.domain.safety.hours_apart import apart, are_apart, free_moments, gap_of_doses
from sennight.domain.safety.statements import (
    TooNear,
)
from sennight.domain.safety.steps import (
    GiveLess,
    LastDoseBefore,
    LastDoseOn,
    LessInOneDose,
    MoveDose,
)

OFFERED = 2
"""How many moments are offered for one dose, the nearest first."""


@dataclass(frozen=True, slots=True)
class MoveHour:
    """A dose of a remedy at another moment of the client's day; in minutes of that day."""

    remedy: str
    minute: int
    moment: Moment
    to_minute: int


@dataclass(frozen=True, slots=True)
class LeaveHerbOut:
    """A remedy without a herb, which is one of several in it."""

    remedy: str
    herb: str


@dataclass(frozen=True, slots=True)
class SwapHerb:
    """A remedy with another herb in the place of one; which is still to be chosen."""

    remedy: str
    herb: str


@dataclass(frozen=True, slots=True)
class StopFrom:
    """A remedy stopped, the first day without it filled in."""

    remedy: str
    first: date


@dataclass(frozen=True, slots=True)
class PauseOver:
    """No doses from the first to the last day of an operation's time."""

    first: date
    last: date


@dataclass(frozen=True, slots=True)
class GiveOtherwise:
    """Other directions for a remedy: less, or less at once."""

    remedy: str


Act = MoveHour | LeaveHerbOut | SwapHerb | StopFrom | PauseOver | GiveOtherwise


def acts(findings: Iterable[Finding], course: Course) -> tuple[Act, ...]:
    """What can be done about findings that are told as one, the least change first."""
    each = tuple(findings)
    found = [*_hours(each, course.client)]
    for finding in each:
        found += _days(finding)
    for finding in each:
        if not isinstance(finding.rule, HoursBetween):
            found += _formulas(finding, course)
    return tuple(dict.fromkeys(found))


def _hours(findings: Sequence[Finding], client: Client) -> Iterator[Act]:
    """For each dose that comes too near the nearest moments that are far enough from all.

    Far enough from every medicine, and from the other doses of the remedy.
    """
    near = [s for finding in findings for s in finding.statements if isinstance(s, TooNear)]
    moves = [s for finding in findings for s in finding.steps if isinstance(s, MoveDose)]
    for finding in findings:
        mine = [s for s in finding.statements if isinstance(s, TooNear)]
        hours = max((statement.hours for statement in mine), default=0)
        doses = {dose.remedy: dose.times for statement in mine for dose in statement.doses}
        far = free_moments(client, hours)
        free = [moment for moment in far if _is_free(far[moment], near)]
        for step in finding.steps:
            if isinstance(step, MoveDose):
                fits = [
                    to
                    for to in free
                    if _fits(far[to], step, doses[step.remedy], hours)
                    and not _is_given_away(far[to], step, moves)
                ]
                for moment in _nearest(fits, step.minute, client.day):
                    yield MoveHour(step.remedy, step.minute, moment, far[moment])


def _fits(minute: int, step: MoveDose, times: Sequence[int], hours: int) -> bool:
    """Whether a dose can be at a time beside the others, or is to be, which move too."""
    others = [other for other in times if other != step.minute]
    return minute == step.to_minute or are_apart(minute, others, gap_of_doses(times, hours))


def _is_given_away(minute: int, step: MoveDose, moves: Iterable[MoveDose]) -> bool:
    """Whether another dose of the remedy is to go to a time."""
    return any(
        (move.remedy, move.to_minute) == (step.remedy, minute) and move.minute != step.minute
        for move in moves
    )


def _is_free(minute: int, near: Iterable[TooNear]) -> bool:
    return all(are_apart(minute, kept.medicine_times, kept.hours * 60) for kept in near)


def _nearest(free: Sequence[Moment], minute: int, day: ClientDay) -> Sequence[Moment]:
    return sorted(free, key=lambda moment: apart(day.minute(moment), minute))[:OFFERED]


def _days(finding: Finding) -> Iterator[Act]:
    before = [step for step in finding.steps if isinstance(step, LastDoseBefore)]
    if before:
        whole = Span(min(step.day for step in before), finding.days[-1].end)
        yield PauseOver(whole.first, whole.last)
    for step in finding.steps:
        if isinstance(step, LastDoseOn):
            for remedy in finding.remedies:
                yield StopFrom(remedy, step.day + ONE_DAY)


def _formulas(finding: Finding, course: Course) -> Iterator[Act]:
    """The herbs of a finding out of its remedies, or others for them; less where that helps."""
    for remedy_id in finding.remedies:
        if any(isinstance(step, GiveLess | LessInOneDose) for step in finding.steps):
            yield GiveOtherwise(remedy_id)
        held = [ingredient.herb for ingredient in course.remedy(remedy_id).ingredients]
        for herb in finding.herbs if finding.severity is not Severity.NOTE else ():
            if herb in held:
                if len(held) > 1:
                    yield LeaveHerbOut(remedy_id, herb)
                yield SwapHerb(remedy_id, herb)


# The course as it then is


def with_hour_moved(course: Course, act: MoveHour) -> Course:
    """The course with a dose at another moment, in every phase where it falls at that minute."""
    phases = tuple(
        replace(phase, lines=tuple(_moved(line, act, course.client.day) for line in phase.lines))
        for phase in course.protocol.phases
    )
    return replace(course, protocol=replace(course.protocol, phases=phases))


def _moved(line: Line, act: MoveHour, day: ClientDay) -> Line:
    if line.remedy != act.remedy:
        return line
    steps = tuple(
        replace(step, directions=moved(step.directions, act, day)) for step in line.steps
    )
    return replace(line, directions=moved(line.directions, act, day), steps=steps)


def moved(directions: Directions, act: MoveHour, day: ClientDay) -> Directions:
    """Directions with the dose at one minute at another; as they were where none falls there.

    A clock time is written where a meal's moment would be moved by before or after food.
    """
    if not isinstance(directions.rhythm, AtTimes):
        return directions
    to = act.moment if directions.food is None else as_time(act.to_minute)
    each = [replace(directions, rhythm=AtTimes((when,))) for when in directions.rhythm.times]
    times = [
        to if alone.minutes(day) == (act.minute,) else when
        for alone, when in zip(each, directions.rhythm.times, strict=True)
    ]
    return replace(directions, rhythm=AtTimes(tuple(times)))


def without_herb(remedy: Remedy, herb: str) -> Remedy:
    """A remedy without a herb; the shares of the others stay to each other as they are."""
    kept = tuple(part for part in remedy.ingredients if part.herb != herb)
    return replace(remedy, ingredients=kept)


def with_other_herb(remedy: Remedy, herb: str, other: str) -> Remedy:
    """A remedy with another herb in the place of one, in the same amount."""
    parts = tuple(
        replace(part, herb=other) if part.herb == herb else part for part in remedy.ingredients
    )
    return replace(remedy, ingredients=parts)


def with_formula(course: Course, changed: Remedy, *, today: date, reason: str) -> Course:
    """The course with another formula of one of its remedies.

    A course that was not begun has it all along; in a running one it takes the old one's place
    from the next day on, as a decision, and the old one stays on record.
    """
    if today < course.start:
        own = tuple(changed if old.id == changed.id else old for old in course.remedies)
        return replace(course, remedies=own)
    known = {remedy.id for remedy in course.remedies}
    number = next(n for n in range(2, len(known) + 3) if f"{changed.id}-{n}" not in known)
    new = replace(changed, id=f"{changed.id}-{number}")
    revision = Reformulate(
        on=today,
        reason=reason,
        remedy=changed.id,
        first=today + timedelta(days=1),
        formula=new.id,
    )
    return replace(
        course, remedies=(*course.remedies, new), revisions=(*course.revisions, revision)
    )
