"""Hypothesis strategies for directions, protocols and revisions, and small builders.

Directions are drawn as text in the short form, since that is what a practitioner gives.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import fields, replace
from datetime import date, timedelta
from itertools import combinations
from typing import Any

from hypothesis import strategies as st

from sennight.domain.courses.clients import Client
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
)
from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.protocols import CountFrom, Line, Phase, Protocol, Step
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.directions import Directions, Unit
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy

START = date(2027, 1, 4)
REMEDIES = ("t1", "t2", "t3")


def pick(*words: str) -> st.SearchStrategy[str]:
    return st.sampled_from(words)


_AMOUNTS = pick("1", "2", "2.5", "1/2", "1/3", "½", "20", "1-2", "½-2.5")
_TIMED = (
    "od",
    "bd",
    "tds",
    "qds",
    "mane",
    "nocte",
    "at 08:15",
    "at breakfast,mid-afternoon",
    "at 21:00,rising",
    "every 4 h",
    "every 6 h",
)
_FOOD = pick("", "", "ac", "pc", "with food")
_DAYS = pick("", "", "", "on mon wed fri", "on sun", "alternate days", "every 3 days")
_LENGTHS = pick(*(f"{n} {unit}" for n in range(1, 6) for unit in ("d", "w", "w", "mo", "mo")))
_CYCLES = st.just("") | st.builds(lambda on, off: f"{on} on {off} off", _LENGTHS, _LENGTHS)
_NEEDED = pick("prn max 3/day", "prn gap 4 h", "every 4-6 h prn", "every 2-3 h prn max 5/day")
_ALSO = ("", "", "and prn max 2/day", "and prn gap 6 h")
_RHYTHMS = pick(*(f"{timed} {also}" for timed in _TIMED for also in _ALSO)) | _NEEDED
_UNITS = pick(*map(str, Unit))

DIRECTIONS = st.builds(
    lambda amount, unit, rhythm, rest: " ".join([amount, unit, rhythm, *rest]),
    _AMOUNTS,
    _UNITS,
    _RHYTHMS,
    st.tuples(_FOOD, _DAYS, _CYCLES).flatmap(st.permutations),
)
"""Directions as text, their qualifiers in any order."""

TAKES = (
    st.tuples(_AMOUNTS, _UNITS, _RHYTHMS, _FOOD, _DAYS, _CYCLES)
    .map(" ".join)
    .map(parse_directions)
)
"""Directions as values, drawn cheaply: their order is nothing that a value keeps."""

TIMINGS = TAKES.map(lambda take: take.timing)


def take(text: str) -> Directions:
    return parse_directions(text)


def remedy(remedy_id: str, form: Form = Form.TEA) -> Remedy:
    return Remedy(remedy_id, f"Remedy {remedy_id}", form, (Ingredient("nettle-leaf"),))


def length(text: str) -> Length:
    count, unit = text.split()
    return Length(int(count), CalendarUnit(unit))


def phase(phase_id: str, span: str | None, *lines: Line, stand_in: bool = False) -> Phase:
    return Phase(phase_id, phase_id, length(span) if span else None, lines, None, stand_in)


def line(remedy_id: str, text: str, *steps: tuple[int, str]) -> Line:
    return Line(remedy_id, take(text), tuple(Step(7 * weeks, take(t)) for weeks, t in steps))


def course(
    *phases: Phase,
    start: date = START,
    until: date | None = None,
    revisions: tuple[Revision, ...] = (),
    client: Client | None = None,
) -> Course:
    return Course(
        "c0ffee",
        client or Client("Una Example"),
        tuple(remedy(r) for r in REMEDIES),
        Protocol("Test", phases),
        start,
        until,
        revisions,
    )


def day(number: int) -> date:
    """The course day of that number, from 1, of a course that starts on START."""
    return START + timedelta(days=number - 1)


_STEP_DAYS = st.sampled_from(
    [(), (), (3,), (7,), (14,), (21,), (35,), (42,), (3, 14), (14, 28), (7, 45), (21, 35)]
)
_COUNT_FROM = st.sampled_from(CountFrom)
_LINES_OF = st.sampled_from([some for n in (1, 2, 3) for some in combinations(REMEDIES, n)])


@st.composite
def _lines(draw: st.DrawFn, *, may_count: bool = True) -> tuple[Line, ...]:
    return tuple(
        Line(
            one,
            draw(TAKES),
            tuple(Step(days, draw(TAKES)) for days in draw(_STEP_DAYS)),
            draw(_COUNT_FROM) if may_count else CountFrom.ANCHOR,
        )
        for one in draw(_LINES_OF)
    )


_COUNTED_LINES, _OTHER_LINES = _lines(), _lines(may_count=False)
_EPOCH = date(2000, 1, 1)
PHASE_LENGTHS = (
    st.builds(Length, st.integers(1, 40), st.just(CalendarUnit.DAYS))
    | st.builds(Length, st.integers(1, 8), st.just(CalendarUnit.WEEKS))
    | st.builds(Length, st.integers(1, 3), st.just(CalendarUnit.MONTHS))
)


@st.composite
def courses(draw: st.DrawFn, *, revised: bool = False) -> Course:
    """Courses of one to three phases and a rescue phase; revisions may be impossible."""
    start = draw(st.dates(date(2026, 12, 1), date(2028, 3, 5)))
    names = ["one", "two", "three"][: draw(st.integers(1, 3))]
    phases = [Phase(n, n, draw(PHASE_LENGTHS), draw(_COUNTED_LINES)) for n in names]
    if draw(st.booleans()):
        phases[-1] = Phase(names[-1], names[-1], None, phases[-1].lines)
    phases.append(
        Phase(
            *("flare", "rescue", draw(PHASE_LENGTHS), draw(_OTHER_LINES)),
            stand_in=draw(st.booleans()),
        )
    )
    until = start + timedelta(days=draw(st.integers(190, 280)))
    revisions = draw(_REVISIONS) if revised else []
    moved = tuple(_moved(revision, start - _EPOCH) for revision in revisions)
    return course(*phases, start=start, until=until, revisions=moved)


def _moved(revision: Revision, by: timedelta) -> Revision:
    """The same with all its days so much later."""
    held = ((field.name, getattr(revision, field.name)) for field in fields(revision))
    changed: dict[str, Any] = {name: day + by for name, day in held if isinstance(day, date)}
    return replace(revision, **changed)


@st.composite
def possible_courses(draw: st.DrawFn) -> Course:
    """Revised courses without those revisions that are impossible after the ones before them.

    Of courses as they are drawn seven in ten are impossible; to leave those out altogether would
    cost their drawing, and now and then fail for nothing but that.
    """
    drawn = draw(courses(revised=True))
    kept = replace(drawn, revisions=())
    for revision in drawn.revisions:
        longer = replace(kept, revisions=(*kept.revisions, revision))
        with suppress(LayoutError):
            lay_out(longer)
            kept = longer
    return kept


def _revision() -> st.SearchStrategy[Revision]:
    """Revisions of a course that starts at the epoch: made once, and moved to each course."""
    days = st.integers(0, 130).map(lambda n: _EPOCH + timedelta(days=n))
    early = st.integers(0, 40).map(lambda n: _EPOCH + timedelta(days=n))
    some = st.none() | days

    def pause(on: date, first: date, more: int, mode: PauseMode) -> Pause:
        return Pause(on=on, first=first, last=first + timedelta(days=more), mode=mode)

    phases = pick("one", "two", "three")
    remedies = st.sampled_from(REMEDIES)
    made: st.SearchStrategy[Revision] = st.one_of(
        st.builds(
            Extend, on=early, phase=phases, by=st.integers(-10, 20), in_weeks=st.just(value=False)
        ),
        st.builds(Advance, on=early, to=phases, first=days),
        st.builds(pause, early, days, st.integers(0, 20), st.sampled_from(PauseMode)),
        st.builds(Flare, on=early, first=days, rescue=st.just("flare"), last=some),
        st.builds(Redirect, on=early, remedy=remedies, first=days, directions=TAKES, last=some),
        st.builds(Stop, on=early, remedy=remedies, first=days, reason=st.just("x")),
        st.builds(End, on=early, first=days),
        st.builds(Join, on=early, remedy=remedies, first=days, directions=TAKES, last=some),
        st.builds(Reformulate, on=early, remedy=remedies, first=days, formula=remedies),
        st.builds(Stay, on=early),
    )
    return st.tuples(made, st.integers(0, 9)).map(_struck_out)


def _struck_out(drawn: tuple[Revision, int]) -> Revision:
    """One in ten was entered in error."""
    revision, chance = drawn
    return replace(revision, void="in error", void_on=revision.on) if chance == 0 else revision


_REVISIONS = st.lists(_revision(), min_size=1, max_size=6)
