"""What a client reports about a course: doses taken, and scores.

A correction is a new entry: what was entered before stays in the file, the last one holds.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sennight.domain.follow_up.diaries import Score, Taken
from sennight.practice.opening import OpenPractice

HIGHEST_SCORE = 10


class DiaryError(ValueError):
    """An entry that cannot be; the message names its day, and nothing was entered."""


def diary(practice: OpenPractice, course_id: str) -> tuple[Taken, ...]:
    """What was taken, by day and remedy; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.diaries.taken(course_id)


def scores(practice: OpenPractice, course_id: str) -> tuple[Score, ...]:
    """The scores, by day and measure; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.diaries.scores(course_id)


def enter_diary(practice: OpenPractice, course_id: str, taken: Iterable[Taken]) -> None:
    """Enter what was taken; it replaces what held for those days and remedies.

    Raises DiaryError for a number below 0, a day and remedy given twice or a remedy that the
    course does not have, MissingRecordError.
    """
    entries = tuple(taken)
    _once((entry.day, entry.remedy) for entry in entries)
    with practice.file.writing() as unit:
        known = {remedy.id for remedy in unit.courses.get(course_id).course.remedies}
        for entry in entries:
            if entry.remedy not in known:
                raise DiaryError(
                    f"{entry.day}: remedy “{entry.remedy}” is not in this course; "
                    f"expected one of {', '.join(sorted(known))}"
                )
            if entry.doses < 0:
                raise DiaryError(f"{entry.day}: {entry.doses} doses; expected 0 or more")
        unit.diaries.enter_taken(course_id, entries, entered=practice.file.clock())


def enter_scores(practice: OpenPractice, course_id: str, scores: Iterable[Score]) -> None:
    """Enter scores; they replace what held for those days and measures.

    Raises DiaryError for a value outside 0 to 10 or a day and measure given twice,
    MissingRecordError.
    """
    entries = tuple(scores)
    _once((score.day, score.measure) for score in entries)
    for score in entries:
        if not 0 <= score.value <= HIGHEST_SCORE:
            raise DiaryError(
                f"{score.day}: a score of {score.value}; expected 0 to {HIGHEST_SCORE}"
            )
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        unit.diaries.enter_scores(course_id, entries, entered=practice.file.clock())


def withdraw_diary(
    practice: OpenPractice, course_id: str, cells: Iterable[tuple[date, str]]
) -> None:
    """Make these days and remedies empty again, as if nothing had been entered."""
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        unit.diaries.withdraw_taken(course_id, cells, entered=practice.file.clock())


def withdraw_scores(
    practice: OpenPractice, course_id: str, cells: Iterable[tuple[date, str]]
) -> None:
    """Make these days and measures empty again, as if nothing had been entered."""
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        unit.diaries.withdraw_scores(course_id, cells, entered=practice.file.clock())


def _once(cells: Iterable[tuple[date, str]]) -> None:
    seen = set()
    for day, what in cells:
        if (day, what) in seen:
            raise DiaryError(f"{day}: “{what}” is given twice; expected it once a day")
        seen.add((day, what))
