"""Edits of a protocol's phases and lines: each takes a value and gives a new one.

The course page and the shelf of protocols both edit through these, so that one rule holds in
both. What cannot be done is an EditError, whose message says why and what was expected.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import assert_never

from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Join,
    Pause,
    Redirect,
    Reformulate,
    Revision,
    Stay,
    Stop,
)
from sennight.domain.courses.protocols import Line, Phase, Protocol, Step
from sennight.domain.dates import CalendarUnit, Length, days_or_weeks
from sennight.domain.directions.directions import Directions
from sennight.domain.remedies.remedies import Remedy

WEEKS_OF_NEW_PHASE = 4
"""A phase added by hand starts with this length; it is edited at once."""


class EditError(ValueError):
    """An edit that cannot be made; the message says why and what was expected."""


def phase_of(protocol: Protocol, phase_id: str) -> Phase:
    """The phase of that id; EditError where the protocol has none."""
    phase = protocol.phase(phase_id)
    if phase is None:
        raise EditError(f"there is no phase “{phase_id}”; expected a phase of this protocol")
    return phase


def with_phase(protocol: Protocol, phase_id: str, phase: Phase) -> Protocol:
    """The protocol with another phase in the place of one."""
    phase_of(protocol, phase_id)
    phases = tuple(phase if p.id == phase_id else p for p in protocol.phases)
    return replace(protocol, phases=phases)


# Lines


def _with_lines(
    protocol: Protocol, phase_id: str, change: Callable[[tuple[Line, ...]], tuple[Line, ...]]
) -> Protocol:
    phase = phase_of(protocol, phase_id)
    return with_phase(protocol, phase_id, replace(phase, lines=change(phase.lines)))


def _line_of(protocol: Protocol, phase_id: str, remedy: str) -> Line:
    for line in phase_of(protocol, phase_id).lines:
        if line.remedy == remedy:
            return line
    raise EditError(f"“{remedy}” has no line in phase “{phase_id}”; expected one of its remedies")


def with_line(protocol: Protocol, phase_id: str, remedy: str, line: Line) -> Protocol:
    """The line of a remedy replaced; EditError where another line has the new remedy."""
    _line_of(protocol, phase_id, remedy)
    if line.remedy != remedy:
        _free_for(protocol, phase_id, line.remedy)
    return _with_lines(
        protocol,
        phase_id,
        lambda lines: tuple(line if old.remedy == remedy else old for old in lines),
    )


def with_directions(
    protocol: Protocol, phase_id: str, remedy: str, directions: Directions
) -> Protocol:
    """A line with other directions; its steps stay."""
    line = _line_of(protocol, phase_id, remedy)
    return with_line(protocol, phase_id, remedy, replace(line, directions=directions))


def with_steps(
    protocol: Protocol, phase_id: str, remedy: str, steps: tuple[Step, ...]
) -> Protocol:
    """A line with other steps."""
    line = _line_of(protocol, phase_id, remedy)
    return with_line(protocol, phase_id, remedy, replace(line, steps=steps))


def add_line(protocol: Protocol, phase_id: str, line: Line) -> Protocol:
    """One more line at the end; EditError where the phase has one for that remedy."""
    _free_for(protocol, phase_id, line.remedy)
    return _with_lines(protocol, phase_id, lambda lines: (*lines, line))


def remove_line(protocol: Protocol, phase_id: str, remedy: str) -> Protocol:
    """The phase without that remedy's line."""
    _line_of(protocol, phase_id, remedy)
    return _with_lines(
        protocol, phase_id, lambda lines: tuple(line for line in lines if line.remedy != remedy)
    )


def _free_for(protocol: Protocol, phase_id: str, remedy: str) -> None:
    if remedy in {line.remedy for line in phase_of(protocol, phase_id).lines}:
        raise EditError(
            f"“{remedy}” has a line in phase “{phase_id}” already; expected another remedy, "
            "since a phase has at most one line for each"
        )


# Phases


def free_id(protocol: Protocol, wanted: str) -> str:
    """The wanted id, or the first of “wanted 2”, “wanted 3” … that no phase has."""
    taken = {phase.id for phase in protocol.phases}
    number = 2
    free = wanted
    while free in taken:
        free, number = f"{wanted} {number}", number + 1
    return free


def add_phase(protocol: Protocol, after: str | None, purpose: str) -> tuple[Protocol, str]:
    """A new phase without lines, and its id.

    It stands after that phase, or before an open one, which has to stay the last.
    """
    new_id = free_id(protocol, purpose)
    new = Phase(new_id, purpose, Length(WEEKS_OF_NEW_PHASE, CalendarUnit.WEEKS))
    return _placed(protocol, after, new), new_id


def copy_phase(protocol: Protocol, phase_id: str) -> tuple[Protocol, str]:
    """A phase once more, right after itself, and the copy's id."""
    phase = phase_of(protocol, phase_id)
    new_id = free_id(protocol, phase.id)
    length = phase.length or Length(WEEKS_OF_NEW_PHASE, CalendarUnit.WEEKS)
    return _placed(protocol, phase_id, replace(phase, id=new_id, length=length)), new_id


def _placed(protocol: Protocol, after: str | None, new: Phase) -> Protocol:
    phases = list(protocol.phases)
    ids = [phase.id for phase in phases]
    at = ids.index(after) + 1 if after in ids else len(phases)
    is_last = new.is_rescue or not phases
    if not is_last and phases[at - 1].length is None and not phases[at - 1].is_rescue:
        at -= 1
    return replace(protocol, phases=(*phases[:at], new, *phases[at:]))


def remove_phase(protocol: Protocol, phase_id: str) -> Protocol:
    """Without that phase; EditError where it is the only one of the sequence."""
    phase = phase_of(protocol, phase_id)
    if not phase.is_rescue and len(protocol.sequence) == 1:
        raise EditError(f"“{phase_id}” is the only phase; expected one that stays")
    return replace(protocol, phases=tuple(p for p in protocol.phases if p.id != phase_id))


def move_phase(protocol: Protocol, phase_id: str, by: int) -> Protocol:
    """A phase of the sequence so many places later (earlier where negative).

    EditError where it would leave the sequence, or an open phase would not be the last.
    """
    ids = [phase.id for phase in protocol.sequence]
    if phase_id not in ids:
        raise EditError(f"“{phase_id}” waits for a flare and has no place in the sequence")
    at = ids.index(phase_id)
    to = at + by
    if not 0 <= to < len(ids):
        raise EditError(f"“{phase_id}” stands at that end already; expected the other direction")
    ordered = list(protocol.sequence)
    ordered.insert(to, ordered.pop(at))
    if any(phase.length is None for phase in ordered[:-1]):
        raise EditError(
            "an open phase runs to the course's last day; expected it to stay the last"
        )
    rescues = tuple(phase for phase in protocol.phases if phase.is_rescue)
    return replace(protocol, phases=(*ordered, *rescues))


def with_length(protocol: Protocol, phase_id: str, length: Length | None) -> Protocol:
    """A phase with another length; None opens it, which only the sequence's last may be."""
    phase = phase_of(protocol, phase_id)
    if length is None and not phase.is_rescue and protocol.sequence[-1].id != phase_id:
        raise EditError(f"only the last phase may be open; expected a length for “{phase_id}”")
    return with_phase(protocol, phase_id, replace(phase, length=length))


def split_phase(protocol: Protocol, phase_id: str, after_weeks: int) -> tuple[Protocol, str]:
    """A phase as two, the second from so many weeks on, and the second's id.

    Each line goes on in the second with the directions that it has by then; its later steps
    move along. Cycles and counted days begin again in the second: the anchor is its first day.
    What is left of its least time is the second's.
    Only a phase counted in weeks or days, or an open one, can be split.
    """
    phase = phase_of(protocol, phase_id)
    first, rest = _split_length(phase, after_weeks)
    new_id = free_id(protocol, phase.id)
    earlier = replace(
        phase,
        length=first,
        lines=tuple(_before(x, after_weeks) for x in phase.lines),
        at_least_weeks=None,
    )
    least = (phase.at_least_weeks or 0) - after_weeks
    later = replace(
        phase,
        id=new_id,
        length=rest,
        lines=tuple(_from(x, after_weeks) for x in phase.lines),
        at_least_weeks=least if least > 0 else None,
    )
    phases = tuple(
        part for p in protocol.phases for part in ((earlier, later) if p is phase else (p,))
    )
    return replace(protocol, phases=phases), new_id


def _split_length(phase: Phase, after_weeks: int) -> tuple[Length, Length | None]:
    first = Length(after_weeks, CalendarUnit.WEEKS)
    if phase.length is None:
        return first, None
    if phase.length.unit is CalendarUnit.MONTHS:
        raise EditError(f"“{phase.id}” is counted in months; expected weeks or days, to split it")
    days = phase.length.count * (7 if phase.length.unit is CalendarUnit.WEEKS else 1)
    left = days - after_weeks * 7
    if after_weeks < 1 or left < 1:
        raise EditError(f"“{phase.id}” has {phase.length}; expected a week inside it")
    return first, days_or_weeks(left)


def _before(line: Line, weeks: int) -> Line:
    return replace(line, steps=tuple(s for s in line.steps if s.after_days < weeks * 7))


def _from(line: Line, weeks: int) -> Line:
    done = [step for step in line.steps if step.after_days <= weeks * 7]
    later = tuple(
        replace(step, after_days=step.after_days - weeks * 7)
        for step in line.steps
        if step.after_days > weeks * 7
    )
    return replace(line, directions=done[-1].directions if done else line.directions, steps=later)


def with_remedy(course: Course, remedy: Remedy) -> Course:
    """The course with a remedy among its own, at the end unless it is there already."""
    known = {own.id for own in course.remedies}
    return course if remedy.id in known else replace(course, remedies=(*course.remedies, remedy))


def rename_phase(course: Course, phase_id: str, name: str) -> Course:
    """A phase under another name; EditError where it is empty, taken, or a revision says it."""
    name = " ".join(name.split())
    phase = phase_of(course.protocol, phase_id)
    if name == phase_id:
        return course
    if not name:
        raise EditError("the phase has no name; expected a word such as loading")
    if course.protocol.phase(name) is not None:
        raise EditError(f"another phase is called “{name}”; expected a name of its own")
    for revision in course.revisions:
        if phase_id in _phases_named(revision):
            raise EditError(
                f"the decision of {revision.on} names “{phase_id}”, and decisions are kept for "
                "good; expected a phase that no decision names"
            )
    protocol = with_phase(course.protocol, phase_id, replace(phase, id=name))
    return replace(course, protocol=protocol)


def _phases_named(revision: Revision) -> tuple[str, ...]:
    match revision:
        case Extend():
            return (revision.phase,)
        case Advance():
            return (revision.to,)
        case Flare():
            return (revision.rescue,)
        case Pause() | Redirect() | Stop() | End() | Join() | Reformulate() | Stay():
            return ()
        case _:
            assert_never(revision)
