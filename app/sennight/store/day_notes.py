"""Notes of single days: rows and values, and the repository; every wording is kept.

The last note of a course's day holds; an empty one withdraws it. The index of words has those
that hold, under the ids of their rows.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from sqlalchemy import func, select, text
from sqlalchemy.orm import Session

from sennight.domain.follow_up.diaries import DayNote
from sennight.store.consultations import MOST_FOUND, search_query
from sennight.store.entries import DayNoteFound
from sennight.store.rows import plain_rows
from sennight.store.tables.diaries import DayNoteEntry

_FIND = text(
    """
    SELECT note.course_id, course.client_id, note.day,
           snippet(day_note_index, 0, '', '', '…', 12)
    FROM day_note_index
    JOIN day_note AS note ON note.id = day_note_index.rowid
    JOIN course ON course.id = note.course_id
    WHERE day_note_index MATCH :query
    ORDER BY bm25(day_note_index), note.id DESC
    LIMIT :most
    """
)

_FORGET = text(
    """
    DELETE FROM day_note_index WHERE rowid IN (
        SELECT id FROM day_note WHERE course_id = :course AND day = :day)
    """
)


def note_to_row(course_id: str, note: DayNote, *, entered: datetime) -> DayNoteEntry:
    """A new wording."""
    return DayNoteEntry(course_id=course_id, day=note.day, words=note.words, entered=entered)


def note_from_row(row: DayNoteEntry) -> DayNote:
    """The note that a row holds; one without words withdraws what was there."""
    return DayNote(row.day, row.words)


class DayNoteRepository:
    """The notes of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def of_course(self, course_id: str) -> tuple[DayNote, ...]:
        """The notes that hold, by day."""
        last = (
            select(func.max(DayNoteEntry.id))
            .where(DayNoteEntry.course_id == course_id)
            .group_by(DayNoteEntry.day)
        )
        query = select(DayNoteEntry).where(DayNoteEntry.id.in_(last), DayNoteEntry.words != "")
        rows = plain_rows(self._session, DayNoteEntry, query)
        return tuple(sorted(note_from_row(row) for row in rows))

    def enter(self, course_id: str, notes: Iterable[DayNote], *, entered: datetime) -> None:
        """Add notes, the last one of each day; those that already hold add none."""
        held = {note.day: note.words for note in self.of_course(course_id)}
        for note in {note.day: note for note in notes}.values():
            if note.words == held.get(note.day, ""):
                continue
            of_day = {"course": course_id, "day": note.day.isoformat()}
            self._session.execute(_FORGET, of_day)
            row = note_to_row(course_id, note, entered=entered)
            self._session.add(row)
            self._session.flush()
            if note.words:
                self._session.execute(
                    text("INSERT INTO day_note_index (rowid, words) VALUES (:id, :words)"),
                    {"id": row.id, "words": note.words},
                )

    def find(self, typed: str) -> tuple[DayNoteFound, ...]:
        """The notes that hold all the words typed, or words that begin so, best first."""
        query = search_query(typed)
        if not query:
            return ()
        rows = self._session.execute(_FIND, {"query": query, "most": MOST_FOUND})
        return tuple(DayNoteFound(*row) for row in rows)
