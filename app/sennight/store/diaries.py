"""Diaries and scores: rows and values, and the repository.

Every entry stays in the file. The one that was entered last for a day and remedy (or measure)
holds; one without a figure withdraws it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from sennight.domain.dates import Span
from sennight.domain.follow_up.diaries import Followed, Score, Taken
from sennight.domain.follow_up.measures import Better, Measure, Measures
from sennight.store.tables.diaries import (
    AdviceEntry,
    DiaryEntry,
    DiaryLine,
    DiarySaving,
    MeasureEntry,
    ScoreEntry,
)
from sennight.store.touched import touched

Cell = tuple[date, str]
"""A day, and a remedy or a measure."""


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


def measure_to_row(course_id: str, measure: Measure, *, entered: datetime) -> MeasureEntry:
    """A new description of a measure."""
    return MeasureEntry(
        course_id=course_id,
        measure=measure.id,
        name=measure.name,
        better=measure.better,
        low=measure.low,
        high=measure.high,
        unit=measure.unit,
        matters=measure.matters,
        matters_percent=measure.matters_percent,
        source=measure.source,
        entered=entered,
    )


def measure_from_row(row: MeasureEntry) -> Measure:
    """The measure that a row describes."""
    return Measure(
        row.measure,
        row.name,
        Better(row.better),
        low=row.low,
        high=row.high,
        unit=row.unit,
        matters=row.matters,
        matters_percent=row.matters_percent,
        source=row.source,
    )


class DiaryRepository:
    """The diaries and scores of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def taken(self, course_id: str) -> tuple[Taken, ...]:
        """The entries that hold, by day and remedy."""
        return tuple(
            sorted(
                Taken(day, remedy, doses)
                for (day, remedy), doses in self._marks(course_id).items()
                if doses is not None
            )
        )

    def _marks(self, course_id: str) -> dict[Cell, int | None]:
        """The latest mark of each day and remedy, None where it withdraws one."""
        rows = self._session.execute(
            select(DiaryEntry.day, DiaryLine.remedy, DiaryEntry.doses)
            .join(DiaryLine, DiaryLine.id == DiaryEntry.line_id)
            .where(DiaryLine.course_id == course_id)
            .order_by(DiaryEntry.line_id, DiaryEntry.day, DiaryEntry.saving_id)
        )
        return {(day, remedy): doses for day, remedy, doses in rows}

    def savings(self, course_id: str) -> tuple[tuple[datetime, Span], ...]:
        """When marks were entered, and from which day to which, oldest first."""
        rows = self._session.execute(
            select(DiarySaving.entered, func.min(DiaryEntry.day), func.max(DiaryEntry.day))
            .join(DiaryEntry, DiaryEntry.saving_id == DiarySaving.id)
            .join(DiaryLine, DiaryLine.id == DiaryEntry.line_id)
            .where(DiaryLine.course_id == course_id, DiaryEntry.doses.is_not(None))
            .group_by(DiarySaving.id)
            .order_by(DiarySaving.id)
        )
        return tuple((entered, Span.of_days(first, last)) for entered, first, last in rows)

    def scores(self, course_id: str) -> tuple[Score, ...]:
        """The scores that hold, by day and measure."""
        last = (
            select(func.max(ScoreEntry.id))
            .where(ScoreEntry.course_id == course_id)
            .group_by(ScoreEntry.day, ScoreEntry.measure)
        )
        rows = self._session.scalars(select(ScoreEntry).where(ScoreEntry.id.in_(last)))
        return tuple(sorted(score for row in rows if (score := score_from_row(row))))

    def scores_of(self, course_ids: Sequence[str]) -> dict[str, tuple[Score, ...]]:
        """The same of several courses at once, without those that have none."""
        last = (
            select(func.max(ScoreEntry.id))
            .where(ScoreEntry.course_id.in_(course_ids))
            .group_by(ScoreEntry.course_id, ScoreEntry.day, ScoreEntry.measure)
        )
        found: dict[str, list[Score]] = {}
        for row in self._session.scalars(select(ScoreEntry).where(ScoreEntry.id.in_(last))):
            score = score_from_row(row)
            if score is not None:
                found.setdefault(row.course_id, []).append(score)
        return {course_id: tuple(sorted(scores)) for course_id, scores in found.items()}

    def followed(self, course_id: str) -> tuple[Followed, ...]:
        """The entries of advice that hold, by day and words."""
        last = (
            select(func.max(AdviceEntry.id))
            .where(AdviceEntry.course_id == course_id)
            .group_by(AdviceEntry.day, AdviceEntry.advice)
        )
        rows = self._session.scalars(select(AdviceEntry).where(AdviceEntry.id.in_(last)))
        return tuple(sorted(Followed(row.day, row.advice, row.times) for row in rows))

    def measures(self, course_id: str) -> Measures:
        """The course's own measures as last described, in the order in which they came."""
        query = select(MeasureEntry).where(MeasureEntry.course_id == course_id)
        rows = self._session.scalars(query.order_by(MeasureEntry.id))
        return Measures(tuple({row.measure: measure_from_row(row) for row in rows}.values()))

    def describe_measures(
        self, course_id: str, measures: Iterable[Measure], *, entered: datetime
    ) -> None:
        """Describe measures of the course's own; those that are so already add nothing."""
        held = self.measures(course_id).own
        new = [measure for measure in dict.fromkeys(measures) if measure not in held]
        self._session.add_all(
            measure_to_row(course_id, measure, entered=entered) for measure in new
        )
        self._session.flush()

    def enter_followed(
        self, course_id: str, followed: Iterable[Followed], *, entered: datetime
    ) -> None:
        """Add entries, the last one of each day and advice; those that already hold add none."""
        held = set(self.followed(course_id))
        last = {(entry.day, entry.advice): entry for entry in followed}
        self._session.add_all(
            AdviceEntry(
                course_id=course_id,
                day=entry.day,
                advice=entry.advice,
                times=entry.times,
                entered=entered,
            )
            for entry in last.values()
            if entry not in held
        )
        self._session.flush()

    def enter_taken(self, course_id: str, taken: Iterable[Taken], *, entered: datetime) -> None:
        """Add entries, the last one of each day and remedy; those that already hold add none."""
        held = self._marks(course_id)
        last = {(entry.day, entry.remedy): entry.doses for entry in taken}
        new = {cell: doses for cell, doses in last.items() if held.get(cell) != doses}
        self._add_marks(course_id, new, entered)

    def enter_scores(self, course_id: str, scores: Iterable[Score], *, entered: datetime) -> None:
        """Add scores, the last one of each day and measure; those that already hold add none."""
        held = set(self.scores(course_id))
        last = {(score.day, score.measure): score for score in scores}
        new = [score for score in last.values() if score not in held]
        self._session.add_all(score_to_row(course_id, score, entered=entered) for score in new)
        self._session.flush()

    def withdraw_taken(self, course_id: str, cells: Iterable[Cell], *, entered: datetime) -> None:
        """Let the entries of these days and remedies hold no longer."""
        held = {cell for cell, doses in self._marks(course_id).items() if doses is not None}
        self._add_marks(course_id, dict.fromkeys(sorted(held.intersection(cells))), entered)

    def _add_marks(
        self, course_id: str, marks: Mapping[Cell, int | None], entered: datetime
    ) -> None:
        """Add marks as one saving; none where there are none."""
        if not marks:
            return
        touched(self._session).diaries.add(course_id)
        lines = self._lines(course_id, {remedy for _, remedy in marks})
        saving = DiarySaving(entered=entered)
        self._session.add(saving)
        self._session.flush()
        self._session.execute(
            insert(DiaryEntry),
            [
                {"line_id": lines[remedy], "day": day, "saving_id": saving.id, "doses": doses}
                for (day, remedy), doses in marks.items()
            ],
        )

    def _lines(self, course_id: str, remedies: set[str]) -> dict[str, int]:
        """The numbers of a course's remedies, with those that had none yet."""
        query = select(DiaryLine.remedy, DiaryLine.id).where(DiaryLine.course_id == course_id)
        known = {row.remedy: row.id for row in self._session.execute(query)}
        new = sorted(remedies - known.keys())
        added = [DiaryLine(course_id=course_id, remedy=remedy) for remedy in new]
        self._session.add_all(added)
        self._session.flush()
        return known | {line.remedy: line.id for line in added}

    def withdraw_scores(self, course_id: str, cells: Iterable[Cell], *, entered: datetime) -> None:
        """Let the scores of these days and measures hold no longer."""
        held = {(score.day, score.measure) for score in self.scores(course_id)}
        self._session.add_all(
            ScoreEntry(course_id=course_id, day=day, measure=measure, value=None, entered=entered)
            for day, measure in sorted(held.intersection(cells))
        )
        self._session.flush()
