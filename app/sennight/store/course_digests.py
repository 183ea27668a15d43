"""The checksum of a course: of all that a version of it is, as its columns hold it.

It is made of the texts in the file, not of values read from them, so that it stays the same
however a later program reads or writes them. The formulas have a checksum of their own, which is
part of this one.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.courses.courses import Course, Revision
from sennight.store.accepts import grounds_texts
from sennight.store.tables.courses import CourseRevision

Texts = list[str | int | None]
"""What the columns of a row hold."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What a version of a course says beside its revisions and accepts."""

    course_id: str
    version: int
    client_id: str
    client_version_id: int
    snapshot_digest: str
    start: date
    until: date | None


def course_digest(kept: Kept, revisions: Sequence[Texts], course: Course) -> str:
    """The SHA-256 of a version of a course, in hexadecimal.

    What an earlier schema could not hold is part of it only where there is any, so that the
    checksums of earlier versions stay as they are.
    """
    whole = [
        kept.course_id,
        kept.version,
        kept.client_id,
        kept.client_version_id,
        kept.snapshot_digest,
        kept.start.isoformat(),
        None if kept.until is None else kept.until.isoformat(),
        revisions,
        [[accept.finding, accept.reason] for accept in (*course.accepts, *course.discussed)],
        *_later(course),
    ]
    text = json.dumps(whole, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def _later(course: Course) -> Iterator[list[Texts] | dict[str, list[Texts]]]:
    """What schema 0006 and those after it can hold, each part under its name from 0012 on."""
    voids = _void_texts(course.revisions)
    if voids:
        yield voids
    if grounds := grounds_texts(course):
        yield {"grounds": grounds}
    if course.is_void:
        yield {"void": [[course.void, course.void_on.isoformat() if course.void_on else None]]}


def _void_texts(revisions: Iterable[Revision]) -> list[Texts]:
    """The places of the revisions that are struck out, why and since when."""
    return [
        [place, revision.void, revision.void_on.isoformat() if revision.void_on else None]
        for place, revision in enumerate(revisions)
        if revision.is_void
    ]


def revision_texts(row: CourseRevision, directions: str | None) -> Texts:
    """What a revision's columns hold; `directions` is their text."""
    return [
        row.change,
        row.decided.isoformat(),
        row.reason,
        row.phase,
        row.remedy,
        None if row.first_day is None else row.first_day.isoformat(),
        None if row.last_day is None else row.last_day.isoformat(),
        row.amount,
        None if row.in_weeks is None else int(row.in_weeks),
        row.mode,
        directions,
        *([] if row.formula is None else [row.formula]),
    ]
