"""Phases that end before the time that they are given at least."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.plan import Plan
from sennight.domain.dates import days_or_weeks
from sennight.domain.directions.plain_words import counted, plain_length


@dataclass(frozen=True, slots=True)
class EarlyEnd:
    """A phase that has fewer days than its least time; days of treatment, pauses left out."""

    phase: str
    days: int
    at_least_weeks: int


def early_ends(plan: Plan) -> tuple[EarlyEnd, ...]:
    """The phases of the sequence that end too early, in order."""
    return tuple(_early_ends(plan))


def _early_ends(plan: Plan) -> Iterator[EarlyEnd]:
    for run in plan.runs():
        least = run.phase.at_least_weeks
        if least is not None and run.span.days < least * 7:
            yield EarlyEnd(run.phase.id, run.span.days, least)


def early_end_words(early: EarlyEnd) -> str:
    """It in a sentence, for whoever decides."""
    had = plain_length(days_or_weeks(early.days))
    least = counted(early.at_least_weeks, "week")
    return f"{phase_title(early.phase)} lasts {had}; it should last at least {least}."
