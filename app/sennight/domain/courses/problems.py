"""What is wrong with a protocol or a course as a whole: checks shared by file and editors.

Problems are returned, all of them, never raised. A place names a value by the keys that lead
to it, in the course file's words, and positions in lists counted from 0.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import pairwise

from sennight.domain.courses.courses import Course, End, Join, Redirect, Reformulate
from sennight.domain.courses.plan import LayoutError, Plan
from sennight.domain.courses.protocols import CountFrom, Phase, Protocol, Step
from sennight.domain.courses.revising import RevisionError, plan_course
from sennight.domain.dates import CalendarUnit
from sennight.domain.directions.directions import Directions, SameTimeError, Unit
from sennight.domain.remedies.forms import called
from sennight.domain.remedies.portions import UNMEASURED_DROPPER, measured_units, unit_mistake
from sennight.domain.remedies.remedies import Remedy

Place = tuple[str | int, ...]

LAST_YEAR = 2400
"""No course reaches further: more is a slip of the keyboard."""

_TOO_LONG = f"the phases reach past the year {LAST_YEAR}; expected shorter ones"

_LONGEST = 60
"""Letters of a word from a file that are said again."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong, where it is, and what was expected."""

    place: Place
    message: str

    def __str__(self) -> str:
        where = place_name(self.place)
        return f"{where}: {self.message}" if where else self.message


def place_name(place: Place) -> str:
    """A place as people read it, positions counted from 1: `protocol.phase[2].line[1].take`."""
    parts = (f"[{step + 1}]" if isinstance(step, int) else f".{_short(step)}" for step in place)
    return "".join(parts).removeprefix(".")


def _short(word: str) -> str:
    """A word from a file, which may be as long as the file."""
    return word if len(word) <= _LONGEST else f"{word[:_LONGEST]}…"


def nearest(word: str, known: Collection[str]) -> str:
    """“; did you mean “x”?” for the known word most like this one, or nothing."""
    if len(word) > _LONGEST:
        return ""
    lower = {name.lower(): name for name in known}
    close = get_close_matches(word.lower(), lower, n=1, cutoff=0.6)
    return f"; did you mean “{lower[close[0]]}”?" if close else ""


def unknown(what: str, word: str, known: Collection[str]) -> str:
    """The message for a reference to something that is not there."""
    one_of = f"expected one of {', '.join(dict.fromkeys(known))}" if known else "there is none"
    return f"no {what} “{_short(word)}”; {one_of}{nearest(word, known)}"


def protocol_problems(protocol: Protocol, remedies: Collection[str] | None) -> tuple[Problem, ...]:
    """What is wrong with a protocol, given the ids of the remedies that it may use.

    With None the remedies of its lines are not looked up.
    """
    return (
        *_repeated(("protocol", "phase"), [phase.id for phase in protocol.phases], "phase"),
        *_sequence_problems(protocol),
        *_ceiling_problems(protocol, remedies),
        *(
            problem
            for n, phase in enumerate(protocol.phases)
            for problem in _phase_problems(("protocol", "phase", n), phase, remedies)
        ),
    )


def structure_problems(course: Course, ids: Collection[str] | None) -> tuple[Problem, ...]:
    """What is wrong with the remedies' ids and the protocol; `ids` as in protocol_problems."""
    named = [remedy.id for remedy in course.remedies]
    repeated = _repeated(("remedy",), named, "remedy")
    return (*repeated, *protocol_problems(course.protocol, ids))


def course_problems(course: Course) -> tuple[Problem, ...]:
    """What is wrong with a course as a whole; the layout is tried where nothing else is wrong."""
    problems = (
        *structure_problems(course, [remedy.id for remedy in course.remedies]),
        *date_problems(course),
        *same_time_problems(course),
        *unit_problems(course),
    )
    return problems or layout_problems(course)


def date_problems(course: Course) -> Iterator[Problem]:
    """Dates of a course that contradict each other."""
    client, start, until = course.client, course.start, course.until
    if client.born and client.born >= start:
        message = f"{client.born} does not come before the course's start, {start}"
        yield Problem(("client", "born"), f"{message}; expected an earlier day")
    for kind in ("conditions", "medicines", "allergies"):
        for n, fact in enumerate(getattr(client, kind)):
            if fact.since and fact.until and fact.until < fact.since:
                message = f"{fact.until} comes before from, {fact.since}"
                at: Place = ("client", kind, n, "to")
                yield Problem(at, f"{message}; expected that day or a later one")
    if until and until < start:
        message = (
            f"{until} comes before the course's start, {start}; expected that day or a later one"
        )
        yield Problem(("course", "until"), message)


def layout_problems(course: Course) -> tuple[Problem, ...]:
    """Revisions that are impossible, and an open phase that would begin after the last day.

    A refused revision is left out, and the ones after it are tried without it.
    """
    problems = list(_ends_at_once(course))
    ended = {problem.place[2] for problem in problems}
    places = [n for n in range(len(course.revisions)) if n not in ended]
    course = replace(course, revisions=tuple(course.revisions[n] for n in places))
    while True:
        try:
            plan = plan_course(course)
        except RevisionError as error:
            place: Place = ("course", "revision", places.pop(error.index))
            problems.append(Problem((*place, error.field) if error.field else place, str(error)))
            kept = course.revisions[: error.index] + course.revisions[error.index + 1 :]
            course = replace(course, revisions=kept)
        except LayoutError as error:
            return (Problem(_last_day_place(course), str(error)),)
        except (OverflowError, ValueError):
            # No date holds what lies past the year 9999.
            return (Problem(("protocol", "phase"), _TOO_LONG),)
        else:
            too_long = Problem(("protocol", "phase"), _TOO_LONG)
            return (too_long,) if plan.days().last.year > LAST_YEAR else tuple(problems)


def _ends_at_once(course: Course) -> Iterator[Problem]:
    """Ends on the first day, which leave a course no day."""
    for n, revision in enumerate(course.revisions):
        if isinstance(revision, End) and revision.first == course.start and not revision.is_void:
            message = (
                f"end decided on {revision.on}: no day is left of the course; expected a day "
                f"after its first, {course.start}"
            )
            yield Problem(("course", "revision", n, "from"), message)


def directions_of(course: Course) -> Iterator[tuple[Place, str, Directions]]:
    """Every set of directions in a course: its place, the remedy and the directions."""
    for p, phase in enumerate(course.protocol.phases):
        for n, line in enumerate(phase.lines):
            place: Place = ("protocol", "phase", p, "line", n)
            yield (*place, "take"), line.remedy, line.directions
            for s, step in enumerate(line.steps):
                yield (*place, "steps", s, "take"), line.remedy, step.directions
    for n, revision in enumerate(course.revisions):
        if isinstance(revision, Redirect | Join):
            yield ("course", "revision", n, "take"), revision.remedy, revision.directions


def same_time_problems(course: Course) -> Iterator[Problem]:
    """Directions of which two doses coincide in this client's day."""
    for place, _, directions in directions_of(course):
        try:
            directions.minutes(course.client.day)
        except SameTimeError as error:
            yield Problem(place, str(error))


def unit_problems(course: Course) -> Iterator[Problem]:
    """Directions in a unit that the remedy's form is not measured in, such as a capsule of tea.

    A formula that takes another's place must be measured in the units of the directions that it
    takes over.
    """
    remedies = {remedy.id: remedy for remedy in course.remedies}
    units: dict[str, set[Unit]] = {}
    for place, remedy, directions in directions_of(course):
        taken = remedies.get(remedy)
        units.setdefault(remedy, set()).add(directions.unit)
        mistake = unit_mistake(taken, directions.unit) if taken else ""
        if mistake:
            yield Problem(place, f"“{directions}” {mistake}")
    for n, revision in enumerate(course.revisions):
        if isinstance(revision, Reformulate) and not revision.is_void:
            formula = remedies.get(revision.formula)
            taken_in = sorted(units.get(revision.remedy, set()))
            if formula:
                yield from _misfits(("course", "revision", n, "with"), revision, formula, taken_in)


def _misfits(
    place: Place, revision: Reformulate, formula: Remedy, units: Iterable[Unit]
) -> Iterator[Problem]:
    """The units of a remedy in which the formula that takes its place is not measured."""
    for unit in units:
        if unit not in measured_units(formula):
            not_in = f"{called(formula.form)} is not measured in it"
            message = f"“{revision.remedy}” is taken in {unit}, and {not_in}"
            yield Problem(place, f"{message}; expected a formula of the same kind")
        elif unit_mistake(formula, unit):
            message = f"“{revision.remedy}” is taken in dropperfuls"
            yield Problem(place, f"{message}; of “{formula.id}” {UNMEASURED_DROPPER}")


def step_warnings(plan: Plan) -> Iterator[Problem]:
    """Steps in phases of the sequence that have no day before the phase's end."""
    phases = plan.course.protocol.phases
    for run in plan.runs():
        p = phases.index(run.phase)
        for n, line in enumerate(run.phase.lines):
            for s, step in enumerate(line.steps):
                if run.span.days <= step.after_days:
                    place = ("protocol", "phase", p, "line", n, "steps", s, _key_of(step))
                    yield Problem(place, "the phase ends before this step, which never comes")


def join_warnings(plan: Plan) -> Iterator[Problem]:
    """Decisions to join a phase until a day that the phase does not have any more."""
    joined = plan.joined_on()
    for n, revision in enumerate(plan.course.revisions):
        if not isinstance(revision, Join) or revision.is_void or revision.last is None:
            continue
        begun = (revision.remedy, revision.first)
        for days in (days for remedy, days in joined if (remedy, days.first) == begun):
            if days.last < revision.last:
                message = f"the phase ends on {days.last}, and the joining with it"
                yield Problem(("course", "revision", n, "to"), message)


def _last_day_place(course: Course) -> Place:
    if course.until:
        return ("course", "until")
    return ("protocol", "phase", course.protocol.phases.index(course.protocol.sequence[-1]))


def _repeated(place: Place, ids: Iterable[str], what: str) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for n, name in enumerate(ids):
        if name in seen:
            first = place_name((*place, seen[name]))
            message = f"“{name}” is already the id of {first}; expected another id for this {what}"
            yield Problem((*place, n, "id"), message)
        seen.setdefault(name, n)


def _sequence_problems(protocol: Protocol) -> Iterator[Problem]:
    if not protocol.sequence:
        message = "expected at least one phase that is not a flare-up plan"
        yield Problem(("protocol", "phase"), message)
    for n, phase in enumerate(protocol.phases):
        place: Place = ("protocol", "phase", n)
        if phase.is_rescue and phase.length is None:
            message = "a flare-up plan has a length of its own; expected days, weeks or months"
            yield Problem((*place, "open"), message)
        elif phase.length is None and phase is not protocol.sequence[-1]:
            message = "only the last phase of the sequence can be open; expected a length"
            yield Problem((*place, "open"), message)
        if phase.stand_in and not phase.is_rescue:
            message = "only a flare-up plan stands in for the others; leave it out"
            yield Problem((*place, "stand_in"), message)
        if phase.trigger and not phase.is_rescue:
            message = "only a flare-up plan waits for a trigger; leave it out"
            yield Problem((*place, "trigger"), message)
        if phase.is_rescue:
            yield from _rescue_problems(place, phase)


def _rescue_problems(place: Place, phase: Phase) -> Iterator[Problem]:
    """What only a phase of the sequence can have: a flare keeps its own dates."""
    if phase.at_least_weeks is not None:
        message = "a flare-up plan ends with the flare; leave it out"
        yield Problem((*place, "at_least_weeks"), message)
    for n, line in enumerate(phase.lines):
        if line.count_from is CountFrom.COURSE:
            message = "a flare counts from its own first day; leave it out"
            yield Problem((*place, "line", n, "count_from"), message)


def _phase_problems(
    place: Place, phase: Phase, remedies: Collection[str] | None
) -> Iterator[Problem]:
    seen: set[str] = set()
    for n, line in enumerate(phase.lines):
        here: Place = (*place, "line", n)
        if remedies is not None and line.remedy not in remedies:
            yield Problem((*here, "remedy"), unknown("remedy", line.remedy, remedies))
        elif line.remedy in seen:
            message = f"a second line for “{line.remedy}”; expected one line for it in a phase"
            yield Problem((*here, "remedy"), message)
        seen.add(line.remedy)
        for s, (earlier, later) in enumerate(pairwise(line.steps)):
            if later.after_days <= earlier.after_days:
                message = f"{_when(later)} does not come after {_when(earlier)}"
                at: Place = (*here, "steps", s + 1, _key_of(later))
                yield Problem(at, f"{message}; expected steps in order, each on a day of its own")


def _ceiling_problems(protocol: Protocol, remedies: Collection[str] | None) -> Iterator[Problem]:
    for n, ceiling in enumerate(protocol.ceilings):
        place: Place = ("protocol", "ceiling", n, "remedies")
        if not ceiling.remedies:
            yield Problem(place, "expected one remedy at least")
        for m, remedy in enumerate(ceiling.remedies):
            if remedies is not None and remedy not in remedies:
                yield Problem((*place, m), unknown("remedy", remedy, remedies))
            elif remedy in ceiling.remedies[:m]:
                yield Problem((*place, m), f"“{remedy}” is named before; expected each once")


def _key_of(step: Step) -> str:
    """The course file's key for when a step comes."""
    return "after_weeks" if step.after.unit is CalendarUnit.WEEKS else "after_days"


def _when(step: Step) -> str:
    return f"{step.after.count} {'weeks' if step.after.unit is CalendarUnit.WEEKS else 'days'}"
