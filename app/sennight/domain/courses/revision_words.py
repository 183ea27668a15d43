"""Says a revision in a sentence: what was decided, on which day, and why."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.courses.compare_words import days_words
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
from sennight.domain.courses.phase_names import phase_title, plan_title
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, plain_date


def revision_sentence(revision: Revision, course: Course) -> str:
    """`1 February 2027: Loading is 2 weeks longer (slow to respond).`"""
    sentence = f"{plain_date(revision.on)}: {decided_words(revision, course)}"
    if not revision.is_void:
        return sentence
    day = f" on {plain_date(revision.void_on)}" if revision.void_on else ""
    return f"{sentence} Entered in error, struck out{day}: {revision.void}."


def decided_words(revision: Revision, course: Course) -> str:
    """The same without its day, and without that it was struck out."""
    why = f" ({revision.reason.rstrip(' .')})" if revision.reason else ""
    return f"{_what_changes(revision, course)}{why}."


def _what_changes(revision: Revision, course: Course) -> str:
    match revision:
        case Extend():
            return _extend(revision)
        case Advance():
            return f"{phase_title(revision.to)} begins on {plain_date(revision.first)}"
        case Pause():
            return _pause(revision)
        case Flare():
            return _flare(revision)
        case Redirect():
            return _redirect(revision, course)
        case Stop():
            name = course.remedy(revision.remedy).name
            return f"{name} stops on {plain_date(revision.first)}"
        case End():
            return f"the course ends; nothing is taken from {plain_date(revision.first)}"
        case Join():
            return _join(revision, course)
        case Reformulate():
            names = course.remedy(revision.remedy).name, course.remedy(revision.formula).name
            return f"{names[0]} is made like {names[1]} from {plain_date(revision.first)}"
        case Stay():
            return "the course stays as it is"
        case _:
            assert_never(revision)


def _extend(revision: Extend) -> str:
    by = counted(abs(revision.by), "week" if revision.in_weeks else "day")
    return f"{phase_title(revision.phase)} is {by} {'longer' if revision.by >= 0 else 'shorter'}"


def _pause(revision: Pause) -> str:
    days = days_words(Span.of_days(revision.first, revision.last))
    rest = (
        "everything after it moves later" if revision.mode is PauseMode.FREEZE else "no dates move"
    )
    return f"no doses {days}; {rest}"


def _flare(revision: Flare) -> str:
    if revision.last is None:
        return f"the {plan_title(revision.rescue)} starts on {plain_date(revision.first)}"
    days = days_words(Span.of_days(revision.first, revision.last))
    return f"the {plan_title(revision.rescue)} runs {days}"


def _join(revision: Join, course: Course) -> str:
    return f"{course.remedy(revision.remedy).name} is added: {_taken(revision)}"


def _redirect(revision: Redirect, course: Course) -> str:
    return f"{course.remedy(revision.remedy).name} {_taken(revision)}"


def _taken(revision: Redirect | Join) -> str:
    if revision.last is None:
        return f"{revision.directions} from {plain_date(revision.first)}"
    return f"{revision.directions} {days_words(Span.of_days(revision.first, revision.last))}"
