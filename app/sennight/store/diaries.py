"""Diaries and scores: rows and values, and the repository.

Every entry stays in the file. The one that was entered last for a day and remedy (or measure)
holds; one without a figure withdraws it.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from sennight.domain.follow_up.diaries import Score, Taken
from sennight.store.tables.diaries import DiaryEntry, ScoreEntry

Cell = tuple[date, str]
"""A day, and a remedy or a measure."""


def taken_to_row(course_id: str, taken: Taken, *, entered: datetime) -> DiaryEntry:
    """A new entry of the diary."""
    return DiaryEntry(
        course_id=course_id,
        day=taken.day,
        remedy=taken.remedy,
        doses=taken.doses,
        entered=entered,
    )


def taken_from_row(row: DiaryEntry) -> Taken | None:
    """The entry that a row holds, None where it withdraws one."""
    return None if row.doses is None else Taken(row.day, row.remedy, row.doses)


def score_to_row(course_id: str, score: Score, *, entered: datetime) -> ScoreEntry:
    """A new score."""
    return ScoreEntry(
        course_id=course_id,
        day=score.day,
        measure=score.measure,
        value=score.value,
        entered=entered,
    )


def score_from_row(row: ScoreEntry) -> Score | None:
    """The score that a row holds, None where it withdraws one."""
    return None if row.value is None else Score(row.day, row.measure, row.value)


class DiaryRepository:
    """The diaries and scores of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def taken(self, course_id: str) -> tuple[Taken, ...]:
        """The entries that hold, by day and remedy."""
        last = (
            select(func.max(DiaryEntry.id))
            .where(DiaryEntry.course_id == course_id)
            .group_by(DiaryEntry.day, DiaryEntry.remedy)
        )
        rows = self._session.scalars(select(DiaryEntry).where(DiaryEntry.id.in_(last)))
        return tuple(sorted(found for row in rows if (found := taken_from_row(row))))

    def scores(self, course_id: str) -> tuple[Score, ...]:
        """The scores that hold, by day and measure."""
        last = (
            select(func.max(ScoreEntry.id))
            .where(ScoreEntry.course_id == course_id)
            .group_by(ScoreEntry.day, ScoreEntry.measure)
        )
        rows = self._session.scalars(select(ScoreEntry).where(ScoreEntry.id.in_(last)))
        return tuple(sorted(found for row in rows if (found := score_from_row(row))))

    def enter_taken(self, course_id: str, taken: Iterable[Taken], *, entered: datetime) -> None:
        """Add entries, the last one of each day and remedy; those that already hold add none."""
        held = set(self.taken(course_id))
        last = {(one.day, one.remedy): one for one in taken}
        new = [one for one in last.values() if one not in held]
        self._session.add_all(taken_to_row(course_id, one, entered=entered) for one in new)
        self._session.flush()

    def enter_scores(self, course_id: str, scores: Iterable[Score], *, entered: datetime) -> None:
        """Add scores, the last one of each day and measure; those that already hold add none."""
        held = set(self.scores(course_id))
        last = {(one.day, one.measure): one for one in scores}
        new = [one for one in last.values() if one not in held]
        self._session.add_all(score_to_row(course_id, one, entered=entered) for one in new)
        self._session.flush()

    def withdraw_taken(self, course_id: str, cells: Iterable[Cell], *, entered: datetime) -> None:
        """Let the entries of these days and remedies hold no longer."""
        held = {(one.day, one.remedy) for one in self.taken(course_id)}
        self._session.add_all(
            DiaryEntry(course_id=course_id, day=day, remedy=remedy, doses=None, entered=entered)
            for day, remedy in sorted(held.intersection(cells))
        )
        self._session.flush()

    def withdraw_scores(self, course_id: str, cells: Iterable[Cell], *, entered: datetime) -> None:
        """Let the scores of these days and measures hold no longer."""
        held = {(one.day, one.measure) for one in self.scores(course_id)}
        self._session.add_all(
            ScoreEntry(course_id=course_id, day=day, measure=measure, value=None, entered=entered)
            for day, measure in sorted(held.intersection(cells))
        )
        self._session.flush()
