"""Says a revision in a sentence: what was decided, on which day, and why."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sennight.domain.courses.compare_words import days_words
from sennight.domain.courses.courses import (
    Advance,
    Course,
    End,
    Extend,
    Flare,
    Pause,
    PauseMode,
    Redirect,
    Revision,
    Stop,
)
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import counted, plain_date


def revision_sentence(revision: Revision, course: Course) -> str:
    """`1 February 2027: loading gets 2 weeks longer (slow to respond).`"""
    said = _SAY[type(revision)](revision, course)
    why = f" ({revision.reason})" if revision.reason else ""
    return f"{plain_date(revision.on)}: {said}{why}."


def _extend(revision: Extend, _course: Course) -> str:
    by = counted(abs(revision.by), "week" if revision.in_weeks else "day")
    return f"{revision.phase} gets {by} {'longer' if revision.by >= 0 else 'shorter'}"


def _advance(revision: Advance, _course: Course) -> str:
    return f"{revision.to} begins on {plain_date(revision.first)}"


def _pause(revision: Pause, _course: Course) -> str:
    days = days_words(Span.of_days(revision.first, revision.last))
    rest = "all after it moves" if revision.mode is PauseMode.FREEZE else "nothing moves"
    return f"no doses {days}; {rest}"


def _flare(revision: Flare, _course: Course) -> str:
    if revision.last is None:
        return f"flare-up plan {revision.rescue} from {plain_date(revision.first)}"
    return (
        f"flare-up plan {revision.rescue} "
        f"{days_words(Span.of_days(revision.first, revision.last))}"
    )


def _redirect(revision: Redirect, course: Course) -> str:
    name = course.remedy(revision.remedy).name
    if revision.last is None:
        return f"{name} {revision.directions} from {plain_date(revision.first)}"
    return (
        f"{name} {revision.directions} {days_words(Span.of_days(revision.first, revision.last))}"
    )


def _stop(revision: Stop, course: Course) -> str:
    return f"{course.remedy(revision.remedy).name} stops on {plain_date(revision.first)}"


def _end(revision: End, _course: Course) -> str:
    return f"the course ends; nothing from {plain_date(revision.first)} on"


_SAY: dict[type, Callable[[Any, Course], str]] = {
    Extend: _extend,
    Advance: _advance,
    Pause: _pause,
    Flare: _flare,
    Redirect: _redirect,
    Stop: _stop,
    End: _end,
}
