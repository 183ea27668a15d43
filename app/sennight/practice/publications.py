"""What was given to a client, kept for good."""

from __future__ import annotations

from datetime import datetime
from uuid import uuid4

from sennight.practice.opening import OpenPractice
from sennight.store.entries import Publication

__all__ = ["Publication", "last_publication", "list_publications", "record_publication"]


def record_publication(
    practice: OpenPractice, course_id: str, *, kind: str, content: bytes, now: datetime
) -> None:
    """Keep what was given: `kind` is `reminders`, `handout` …; raises MissingRecordError."""
    with practice.file.writing() as unit:
        unit.courses.require(course_id)
        unit.publications.add(Publication(uuid4().hex, course_id, now, kind, content))


def last_publication(practice: OpenPractice, course_id: str, kind: str) -> Publication | None:
    """The latest of a kind for a course, None where there is none; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.publications.last(course_id, kind)


def list_publications(practice: OpenPractice, course_id: str) -> tuple[Publication, ...]:
    """All that was given for a course, oldest first; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.courses.require(course_id)
        return unit.publications.all(course_id)
