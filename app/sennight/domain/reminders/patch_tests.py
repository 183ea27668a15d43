"""Patch tests of rubs: on which day each is due, and which uses come too soon after it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
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
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.remedies.remedies import Remedy

WAIT = timedelta(days=2)
"""A test is left for 24 to 48 hours before the rub is used: secondary pages (read)."""


@dataclass(frozen=True, slots=True)
class PatchTest:
    """A rub, the formula that it is made of, the day of its test, and that of its first use.

    `remedy` is what the client knows it by, `formula` the id of the remedy that is in it.

    The test comes two days before the first use; or on the day on which the client hears of the
    rub, where that is later. Uses before `clear_from` come too soon to know what it shows.
    """

    remedy: Remedy
    formula: str
    day: date
    first_use: date

    @property
    def clear_from(self) -> date:
        """The first day by which the test has had its time."""
        return self.day + WAIT


def patch_tests(layout: Layout, given: date | None = None) -> tuple[PatchTest, ...]:
    """The test of each formula of a rub that is used.

    `given` is the day on which the client got the course.

    Without it that is taken for the course's first day.
    """
    course = layout.course
    known = min(course.start, given or course.start)
    tests = []
    for formula in course.remedies:
        uses = [stretch for stretch in layout.stretches if stretch.formula == formula.id]
        if uses and formula.form.facts.patch_test:
            stretch = min(uses, key=lambda use: next(use.days_taken()))
            first = next(stretch.days_taken())
            tests.append(
                PatchTest(
                    course.remedy(stretch.remedy),
                    formula.id,
                    max(first - WAIT, _told_on(course, stretch, known)),
                    first,
                )
            )
    return tuple(tests)


def _told_on(course: Course, use: Stretch, known: date) -> date:
    """When the client hears of a use: with the course, or with the decision that brings it."""
    first = next(use.days_taken())
    decided = (
        revision.on
        for revision in course.revisions
        if revision.on <= first and _brings(revision, use)
    )
    return max(decided, default=known)


def _brings(revision: Revision, use: Stretch) -> bool:
    """Whether the phase that a use belongs to begins by this revision."""
    match revision:
        case Flare():
            return use.phase == revision.rescue
        case Advance():
            return use.phase == revision.to
        case Join():
            return use.remedy == revision.remedy
        case Reformulate():
            return use.formula == revision.formula
        case Extend() | Pause() | Redirect() | Stop() | End() | Stay():
            return False
        case _:
            assert_never(revision)
