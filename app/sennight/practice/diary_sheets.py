"""The diary sheet of a course, and the grid by which a photo of it is read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sennight.domain.follow_up.diaries import Score
from sennight.domain.papers import PaperKind
from sennight.domain.practices import PracticeCard
from sennight.domain.take_home.choices import USUAL, SheetChoices
from sennight.practice.course_reading import CourseReading
from sennight.practice.papers import Paper

if TYPE_CHECKING:
    from sennight.publish.diary.document import Diary


def diary_of(
    reading: CourseReading,
    card: PracticeCard,
    scores: Sequence[Score],
    choices: SheetChoices = USUAL,
) -> Diary | None:
    """The sheet from today to the next visit; None where the course has no day left.

    `scores` are those that are known, whose measures are asked for again.
    """
    from sennight.publish.diary.content import diary_days
    from sennight.publish.diary.document import diary_sheet

    days = diary_days(reading.layout, reading.today)
    if not days:
        return None
    rated = tuple(dict.fromkeys(score.measure for score in scores))
    return diary_sheet(
        reading.layout, card, days, choices, recorded=rated, measures=reading.measures
    )


def has_diary(reading: CourseReading) -> bool:
    """Whether the course has a day left that a diary can be for."""
    from sennight.publish.diary.content import diary_days

    return bool(diary_days(reading.layout, reading.today))


def diary_papers(diary: Diary | None) -> tuple[Paper, ...]:
    """The sheet and its grid, to be kept and written."""
    if diary is None:
        return ()
    return (
        Paper(PaperKind.DIARY, diary.pdf),
        Paper(PaperKind.DIARY_GRID, diary.grid, suffix=".json"),
    )
