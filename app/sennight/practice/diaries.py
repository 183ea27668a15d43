"""What a client reports about a course: doses taken, and scores.

A correction is a new entry: what was entered before stays in the file, the last one holds.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sennight.domain.courses.courses import Course
from sennight.domain.follow_up.diaries import (
    LONGEST_NOTE,
    DayNote,
    Followed,
    Reported,
    Score,
    Taken,
)
from sennight.domain.follow_up.measures import Measure, Measures, is_published
from sennight.practice.opening import OpenPractice
from sennight.store.entries import DayNoteFound
from sennight.store.unit import UnitOfWork


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


def measures(practice: OpenPractice, course_id: str) -> Measures:
    """What the scores of a course are of; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.diaries.measures(course_id)


def enter_diary(practice: OpenPractice, course_id: str, taken: Iterable[Taken]) -> None:
    """Enter what was taken; it replaces what held for those days and remedies.

    Raises DiaryError for a number below 0, a day and remedy given twice or a remedy that the
    course does not have, MissingRecordError.
    """
    enter_whole_diary(practice, course_id, Reported(tuple(taken)))


def followed_advice(practice: OpenPractice, course_id: str) -> tuple[Followed, ...]:
    """How often advice was followed, by day and its words; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.diaries.followed(course_id)


def day_notes(practice: OpenPractice, course_id: str) -> tuple[DayNote, ...]:
    """What was said of single days, by day; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.day_notes.of_course(course_id)


def whole_diary(practice: OpenPractice, course_id: str) -> Reported:
    """All that the client reported of a course; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return reported_in(unit, course_id)


def reported_in(unit: UnitOfWork, course_id: str) -> Reported:
    """The same in a transaction that is open."""
    return Reported(
        unit.diaries.taken(course_id),
        unit.diaries.followed(course_id),
        unit.diaries.scores(course_id),
        unit.day_notes.of_course(course_id),
    )


def find_day_notes(practice: OpenPractice, typed: str) -> tuple[DayNoteFound, ...]:
    """The notes of days that hold all the words typed, or words that begin so, best first."""
    with practice.file.reading() as unit:
        return unit.day_notes.find(typed)


def enter_whole_diary(
    practice: OpenPractice,
    course_id: str,
    reported: Reported,
    *,
    withdrawn: Iterable[tuple[date, str]] = (),
) -> None:
    """Enter what was taken, which advice was followed, scores and notes; all or nothing.

    The entries of the days and remedies in `withdrawn` hold no longer. Raises DiaryError as
    `enter_diary` and `enter_scores` do, also for advice that the course does not have and for a
    note that is too long.
    """
    emptied = tuple(withdrawn)
    _once((score.day, score.measure) for score in reported.scores)
    _once((*((entry.day, entry.remedy) for entry in reported.taken), *emptied))
    _once((entry.day, entry.advice) for entry in reported.followed)
    _once((note.day, "note") for note in reported.notes)
    with practice.file.writing() as unit:
        course = unit.courses.get(course_id).course
        _check_doses(course, reported.taken)
        _check_advice(course, reported.followed)
        _check_notes(reported.notes)
        _check_scores(unit.diaries.measures(course_id), reported.scores)
        entered = practice.file.clock()
        unit.diaries.enter_scores(course_id, reported.scores, entered=entered)
        unit.diaries.enter_taken(course_id, reported.taken, entered=entered)
        unit.diaries.withdraw_taken(course_id, emptied, entered=entered)
        unit.diaries.enter_followed(course_id, reported.followed, entered=entered)
        unit.day_notes.enter(course_id, reported.notes, entered=entered)


def _check_advice(course: Course, followed: Iterable[Followed]) -> None:
    known = {line.text for phase in course.protocol.phases for line in phase.advice}
    for entry in followed:
        if entry.advice not in known or entry.times < 0:
            raise DiaryError(f"{entry.day}: “{entry.advice}” is not advice of this course")


def _check_notes(notes: Iterable[DayNote]) -> None:
    for note in notes:
        if len(note.words) > LONGEST_NOTE:
            raise DiaryError(
                f"{note.day}: a note of {len(note.words):,} letters; expected at most "
                f"{LONGEST_NOTE:,}"
            )


def _check_doses(course: Course, entries: Iterable[Taken]) -> None:
    known = {remedy.id for remedy in course.remedies}
    for entry in entries:
        if entry.remedy not in known:
            raise DiaryError(
                f"{entry.day}: remedy “{entry.remedy}” is not in this course; "
                f"expected one of {', '.join(sorted(known))}"
            )
        if entry.doses < 0:
            raise DiaryError(f"{entry.day}: {entry.doses} doses; expected 0 or more")


def enter_scores(
    practice: OpenPractice,
    course_id: str,
    scores: Iterable[Score],
    *,
    withdrawn: Iterable[tuple[date, str]] = (),
    own: Iterable[Measure] = (),
) -> None:
    """Enter scores; they replace what held for those days and measures.

    Those of the days and measures in `withdrawn` hold no longer; `own` are measures of the
    course's own that are new, or described anew. Raises DiaryError for a value off the measure's
    scale, a day and measure given twice or an own measure with a name that is taken,
    MissingRecordError.
    """
    entries, emptied, described = tuple(scores), tuple(withdrawn), tuple(own)
    _once((*((score.day, score.measure) for score in entries), *emptied))
    for measure in described:
        if is_published(measure.id):
            raise DiaryError(f"“{measure.id}” is already in use; expected another name")
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        entered = practice.file.clock()
        unit.diaries.describe_measures(course_id, described, entered=entered)
        _check_scores(unit.diaries.measures(course_id), entries)
        unit.diaries.enter_scores(course_id, entries, entered=entered)
        unit.diaries.withdraw_scores(course_id, emptied, entered=entered)


def _check_scores(measures: Measures, scores: Iterable[Score]) -> None:
    for score in scores:
        low, high = measures.scale(score.measure)
        if not low <= score.value <= high:
            raise DiaryError(f"{score.day}: a score of {score.value}; expected {low} to {high}")


def withdraw_diary(
    practice: OpenPractice, course_id: str, cells: Iterable[tuple[date, str]]
) -> None:
    """Make these days and remedies empty again, as if nothing had been entered."""
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        unit.diaries.withdraw_taken(course_id, cells, entered=practice.file.clock())


def _once(cells: Iterable[tuple[date, str]]) -> None:
    seen = set()
    for day, what in cells:
        if (day, what) in seen:
            raise DiaryError(f"{day}: “{what}” is given twice; expected it once a day")
        seen.add((day, what))
