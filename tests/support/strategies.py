"""Hypothesis strategies for whole domain values, as odd as the types allow.

Texts hold any character that can be written as UTF-8; numbers are exact fractions. Courses here
need not be possible ones; `samples.courses` draws those that can be laid out.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from fractions import Fraction

from hypothesis import strategies as st

import support.formulas as formulas_of_forms
from sennight.domain.amounts import is_decimal
from sennight.domain.courses.accepts import Accept, TakenThen
from sennight.domain.courses.clients import Client, Fact, Harm, Outcome, Reaction, Sex, Topic
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
from sennight.domain.courses.protocols import (
    AdviceLine,
    Ceiling,
    CountFrom,
    Gate,
    Line,
    Phase,
    Protocol,
    Step,
    Threshold,
)
from sennight.domain.day import DAY_MINUTES, ClientDay, Moment
from sennight.domain.directions.directions import Unit
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.red_flags import RedFlagCheck
from support.samples import PHASE_LENGTHS, TAKES, TIMINGS

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
NAMES = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=12)
DAYS = st.dates(date(1900, 1, 1), date(2200, 12, 31))
SOME_DAYS = st.none() | DAYS
TIMES = st.datetimes(datetime(2020, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC))  # noqa: DTZ001
NUMBERS = st.fractions(Fraction(1, 100), 5000, max_denominator=997)
SOME_NUMBERS = st.none() | NUMBERS


@st.composite
def client_days(draw: st.DrawFn) -> ClientDay:
    """Days with their moments in order, bedtime past midnight in some."""
    minutes = sorted(
        draw(st.lists(st.integers(0, DAY_MINUTES - 1), min_size=6, max_size=6, unique=True))
    )
    bedtime = draw(st.integers(minutes[-1] + 1, minutes[0] + DAY_MINUTES - 1 + minutes[-1]))
    a, b, c, d, e, f = minutes
    return ClientDay((a, b, c, d, e, f, bedtime))


FACTS = st.lists(st.builds(Fact, NAMES, SOME_DAYS, SOME_DAYS), max_size=3).map(tuple)
_AT = st.lists(
    st.sampled_from(Moment) | st.times().map(lambda t: t.replace(second=0, microsecond=0)),
    max_size=3,
).map(tuple)
_TAGS = st.lists(st.sampled_from(["statin", "diabetes", "x"]), max_size=2).map(tuple)
MEDICINES = st.lists(
    st.builds(
        Fact,
        st.just("") | NAMES,
        SOME_DAYS,
        SOME_DAYS,
        _AT,
        name=st.just("") | NAMES,
        dose=st.just("") | NAMES,
        classes=st.none() | _TAGS,
        not_for=_TAGS,
    ),
    max_size=3,
).map(tuple)
REACTIONS = st.builds(
    Reaction,
    DAYS,
    NAMES,
    st.lists(NAMES, min_size=1, max_size=3).map(tuple),
    WORDS,
    st.none() | st.sampled_from(Harm),
    st.none() | st.sampled_from(Outcome),
    st.just("") | WORDS,
    SOME_DAYS,
).map(lambda one: one if one.void else replace(one, void_on=None))
CHECKS = st.builds(RedFlagCheck, DAYS, st.lists(NAMES, max_size=3).map(tuple), WORDS)
ACCEPTS = st.builds(
    Accept,
    NAMES,
    WORDS,
    SOME_DAYS,
    st.none()
    | st.lists(
        st.builds(TakenThen, NAMES, NAMES, NUMBERS, st.sampled_from(Unit), NAMES), max_size=2
    ).map(tuple),
    st.none() | st.lists(NAMES, max_size=2).map(tuple),
    st.just("") | WORDS,
    SOME_DAYS,
).map(lambda one: one if one.void else replace(one, void_on=None))
CLIENTS = st.builds(
    Client,
    name=NAMES,
    born=SOME_DAYS,
    zone=st.none() | st.sampled_from(["Europe/London", "Pacific/Chatham"]),
    weight_kg=SOME_NUMBERS,
    conditions=FACTS,
    medicines=MEDICINES,
    allergies=FACTS,
    day=client_days(),
    asked=st.lists(st.sampled_from(Topic), unique=True).map(tuple),
    sex=st.none() | st.sampled_from(Sex),
)

_IDS = st.text("0123456789abcdef", min_size=4, max_size=8)


@st.composite
def remedies(draw: st.DrawFn, remedy_id: str | None = None) -> Remedy:
    """Remedies of all forms, with the fields that each form has."""
    drawn = formulas_of_forms.remedies(remedy_id or draw(_IDS), names=NAMES, herbs=NAMES, least=0)
    return draw(drawn)


_STEPS = st.lists(st.builds(Step, st.integers(1, 30), TAKES), max_size=2).map(tuple)
_ADVICE = st.builds(AdviceLine, NAMES, st.none() | TIMINGS, st.booleans(), st.booleans())


def gates(measures: st.SearchStrategy[str]) -> st.SearchStrategy[Gate]:
    """Gates of every kind, within every measure's scale."""
    percent = st.sampled_from([Threshold.FALL_PERCENT, Threshold.RISE_PERCENT])
    others = st.sampled_from([wants for wants in Threshold if not wants.is_percent])
    points = st.fractions(Fraction(1, 2), 10, max_denominator=10).filter(is_decimal)
    weeks = st.none() | st.integers(1, 20)
    return st.builds(Gate, measures, st.integers(1, 100), percent, weeks) | st.builds(
        Gate, measures, points, others, weeks
    )


_GATES = st.none() | gates(NAMES)


@st.composite
def formulas(draw: st.DrawFn) -> tuple[Protocol, tuple[Remedy, ...]]:
    """A protocol with its remedies, those that no line takes included."""
    ids = draw(st.lists(_IDS, min_size=1, max_size=4, unique=True))
    shelf = tuple(draw(remedies(remedy_id)) for remedy_id in ids)
    names = draw(st.lists(NAMES, min_size=1, max_size=4, unique=True))
    phases = []
    for name in names:
        taken = draw(st.lists(st.sampled_from(ids), unique=True, max_size=len(ids)))
        phases.append(
            Phase(
                name,
                draw(NAMES | st.just("rescue")),
                draw(st.none() | PHASE_LENGTHS),
                tuple(
                    Line(
                        *(one, draw(TAKES), draw(_STEPS), draw(st.sampled_from(CountFrom))),
                        *(draw(st.just("") | NAMES), draw(st.just("") | NAMES)),
                    )
                    for one in taken
                ),
                draw(_GATES),
                draw(st.booleans()),
                tuple(draw(st.lists(_ADVICE, max_size=2))),
                draw(st.none() | st.integers(1, 20)),
            )
        )
    aims = tuple(draw(st.lists(NAMES, max_size=3)))
    bounded = st.lists(st.sampled_from([remedy.id for remedy in shelf]), min_size=1, max_size=3)
    ceilings = st.builds(Ceiling, bounded.map(tuple), st.integers(1, 9)) if shelf else st.nothing()
    bounds = tuple(draw(st.lists(ceilings, max_size=2)))
    return Protocol(draw(NAMES), tuple(phases), aims, bounds), shelf


_REVISED = {"on": DAYS, "reason": WORDS, "void": st.just("") | WORDS, "void_on": SOME_DAYS}
EXTENDS = st.builds(
    Extend, **_REVISED, phase=NAMES, by=st.integers(-99, 99), in_weeks=st.booleans()
)
ADVANCES = st.builds(Advance, **_REVISED, to=NAMES, first=DAYS)
PAUSES = st.builds(Pause, **_REVISED, first=DAYS, last=DAYS, mode=st.sampled_from(PauseMode))
FLARES = st.builds(Flare, **_REVISED, first=DAYS, rescue=NAMES, last=SOME_DAYS)
REDIRECTS = st.builds(
    Redirect, **_REVISED, remedy=NAMES, first=DAYS, directions=TAKES, last=SOME_DAYS
)
JOINS = st.builds(Join, **_REVISED, remedy=NAMES, first=DAYS, directions=TAKES, last=SOME_DAYS)
REFORMULATES = st.builds(Reformulate, **_REVISED, remedy=NAMES, first=DAYS, formula=NAMES)
STAYS = st.builds(Stay, **_REVISED)
STOPS = st.builds(Stop, **_REVISED, remedy=NAMES, first=DAYS)
ENDS = st.builds(End, **_REVISED, first=DAYS)


def _struck_out_or_not(revision: Revision) -> Revision:
    """What was not struck out has no day on which it was."""
    return revision if revision.void else replace(revision, void_on=None)


REVISIONS: st.SearchStrategy[Revision] = st.one_of(
    EXTENDS, ADVANCES, PAUSES, FLARES, REDIRECTS, STOPS, ENDS, JOINS, REFORMULATES, STAYS
).map(_struck_out_or_not)
"""Revisions of all kinds, possible or not."""


@st.composite
def any_courses(draw: st.DrawFn) -> Course:
    """Courses with every field in use, whether or not they can be laid out."""
    protocol, shelf = draw(formulas())
    return Course(
        id=draw(st.uuids()).hex,
        client=draw(CLIENTS),
        remedies=shelf,
        protocol=protocol,
        start=draw(DAYS),
        until=draw(SOME_DAYS),
        revisions=tuple(draw(st.lists(REVISIONS, max_size=4))),
        accepts=tuple(draw(st.lists(ACCEPTS, max_size=2))),
        discussed=tuple(draw(st.lists(ACCEPTS, max_size=1))),
    )


TAKENS = st.builds(Taken, DAYS, NAMES, st.integers(0, 99))
SCORES = st.builds(Score, DAYS, NAMES, st.fractions(0, 10, max_denominator=20))
CARDS = st.builds(
    PracticeCard,
    name=WORDS,
    practitioner=WORDS,
    address=st.lists(WORDS, max_size=3).map(tuple),
    phone=WORDS,
    email=WORDS,
    emergency=WORDS,
)
