"""What became of a practice's courses of one protocol: counted, and as a table to pass on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from sennight.domain.courses.plan import LayoutError
from sennight.domain.courses.stretches import lay_out
from sennight.domain.directions.directions import SameTimeError
from sennight.domain.follow_up.over_clients import (
    CourseRecord,
    ProtocolRecord,
    protocol_record,
)
from sennight.domain.follow_up.over_clients_words import CAUTION, passed_on_counts, record_rows
from sennight.practice.opening import DamagedCourseError, OpenPractice
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths
from sennight.store.unit import UnitOfWork

HEADS = ("topic", "name", "courses", "figures")


def protocols_given(practice: OpenPractice) -> tuple[tuple[str, int], ...]:
    """The names of the protocols that courses were given of, by the alphabet, with how many."""
    with practice.file.reading() as unit:
        names = Counter(title.protocol_name for title in unit.courses.titles())
    return tuple(sorted(names.items(), key=lambda counted: counted[0].casefold()))


def record_of_protocol(practice: OpenPractice, name: str, today: date) -> ProtocolRecord:
    """What became of the courses of a protocol; those that cannot be read are left out."""
    with practice.file.reading() as unit:
        return protocol_record(name, tuple(_records(unit, name)), today)


def _records(unit: UnitOfWork, name: str) -> Iterator[CourseRecord]:
    for title in unit.courses.titles():
        if title.protocol_name != name:
            continue
        try:
            entry = unit.courses.get(title.id)
            layout = lay_out(entry.course)
        except (DamagedCourseError, LayoutError, SameTimeError):
            continue
        diaries = unit.diaries
        yield CourseRecord(
            entry.client_id,
            layout,
            diaries.taken(entry.id),
            diaries.scores(entry.id),
            diaries.measures(entry.id),
        )


def write_record(practice: OpenPractice, record: ProtocolRecord, path: Path) -> Path:
    """Write what can be passed on as CSV: no names, no dates, no counts of few; returns where.

    Raises FolderError; a file that was there is replaced whole or not.
    """
    from sennight.publish.csv.courses import csv_bytes

    told = record_rows(record)
    rows = [
        (row.topic, row.name, count, row.passed_on.figures)
        for row, count in zip(told, passed_on_counts(told), strict=True)
    ]
    content = csv_bytes(HEADS, [*rows, ("note", CAUTION, "", "")])
    (written,) = write_paths({path: content}, plans=work_folder(practice.path))
    return written
