"""A diary as a table: what was taken, done, rated and said; read with any column order, written.

Two shapes are known by their heads:

- An entry a row: `date`, `of` (or `remedy`, `advice`, `measure`), `value` (or `taken`, `done`,
  `score`); a `kind` column, as `sennight diary` writes it, may tell what `of` is of.
- A day a row: `date`, then a column for each remedy (name, id or letter), line of advice or
  measure. An empty cell is no entry.

A `note` column holds what was said of the row's day; in the first shape a row of the kind `note`
does too. A day has one note.

What is written is of the first shape. Days are read as people write them, day before month. All
that is wrong is told by its row and column, and then nothing is read.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction

from sennight.domain.amounts import plain_number
from sennight.domain.courses.courses import Course
from sennight.domain.courses.problems import nearest
from sennight.domain.directions.typed_dates import TypedDateError, typed_date
from sennight.domain.follow_up.diaries import (
    LONGEST_NOTE,
    DayNote,
    Followed,
    Reported,
    Score,
    Taken,
    note_words,
)
from sennight.domain.follow_up.measures import KNOWN, Measures, is_activity
from sennight.domain.remedies.letters import letter_of
from sennight.publish.csv.courses import csv_bytes, without_guard

MOST_PROBLEMS = 20
MOST_A_DAY = 99
"""Doses, or times that advice was followed."""
HEADS = ("kind", "date", "of", "value")
"""Of the table that is written."""
_DATE, _KIND = "date", "kind"
_OF = ("of", "remedy", "advice", "measure")
_VALUE = ("value", "taken", "done", "score", "doses", "count")
_NOTE = ("note", "notes")


class Kind(StrEnum):
    """What an entry is of."""

    TAKEN = "taken"
    DONE = "done"
    SCORE = "score"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class _Subject:
    """What a column, or a row, is of."""

    kind: Kind
    id: str


class DiaryTableError(ValueError):
    """A table that cannot be read; `problems` has every one, with its row and column."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        self.problems = problems
        super().__init__("\n".join(problems))


class _Reading:
    """One table on its way: what was read, and what is wrong."""

    def __init__(self, course: Course, measures: Measures) -> None:
        self.measures, self.problems = measures, list[str]()
        self.subjects = _subjects(course, measures)
        self.values: dict[tuple[date, _Subject], Fraction] = {}
        self.notes: dict[date, str] = {}

    def wrong(self, row: int, column: str, message: str) -> None:
        self.problems.append(f"row {row}, “{column}”: {message}")

    def subject(self, name: str, kind: str, row: int, column: str) -> _Subject | None:
        """What is so called; a measure need not be known."""
        found = self.subjects.get(_plain(name))
        if kind == Kind.SCORE or (found is None and is_activity(name)):
            return found if found and found.kind is Kind.SCORE else _Subject(Kind.SCORE, name)
        if found is None:
            known = [subject for subject in self.subjects if len(subject) > 1]
            message = f"no remedy, advice or measure “{name}”{nearest(name, known)}"
            self.wrong(row, column, message)
        elif kind and found.kind != kind:
            self.wrong(row, column, f"“{name}” is entered as {found.kind}, not as {kind}")
            return None
        return found

    def put(self, day: date, subject: _Subject, typed: str, row: int, column: str) -> None:
        """Hold a value that can be one of its subject."""
        value = _number(typed)
        low, high = (
            self.measures.scale(subject.id) if subject.kind is Kind.SCORE else (0, MOST_A_DAY)
        )
        is_whole = subject.kind is Kind.SCORE or (value is not None and value.denominator == 1)
        if value is None or not is_whole or not low <= value <= high:
            kind = "number" if subject.kind is Kind.SCORE else "whole number"
            self.wrong(row, column, f"expected a {kind} from {low} to {high}; found “{typed}”")
        elif (day, subject) in self.values:
            self.wrong(row, column, f"a second entry of “{subject.id}” for {day}")
        else:
            self.values[day, subject] = value

    def put_note(self, day: date, typed: str, row: int, column: str) -> None:
        """Hold what was said of a day; the same said twice is one note."""
        words = note_words(typed)
        if len(words) > LONGEST_NOTE:
            expected = f"expected at most {LONGEST_NOTE:,} letters"
            self.wrong(row, column, f"{expected}; found {len(words):,}")
        elif self.notes.get(day, words) != words:
            self.wrong(row, column, f"a second note for {day}; expected one for a day")
        elif words:
            self.notes[day] = words


def diary_rows(reported: Reported) -> Iterator[tuple[object, ...]]:
    """What was reported, an entry a row, under HEADS."""
    yield from ((Kind.TAKEN, entry.day, entry.remedy, entry.doses) for entry in reported.taken)
    yield from ((Kind.DONE, entry.day, entry.advice, entry.times) for entry in reported.followed)
    for score in reported.scores:
        yield Kind.SCORE, score.day, score.measure, plain_number(score.value)
    yield from ((Kind.NOTE, note.day, None, note.words) for note in reported.notes)


def diary_csv(reported: Reported) -> bytes:
    """A diary as a table, which `read_diary_table` reads as the same."""
    return csv_bytes(HEADS, diary_rows(reported))


def read_diary_table(text: str, course: Course, measures: Measures) -> Reported:
    """What a table reports of a course; raises DiaryTableError."""
    rows = _rows(text)
    heads = next(rows, (0, []))[1]
    reading = _Reading(course, measures)
    places = {_plain(head): n for n, head in enumerate(heads)}
    if _DATE not in places:
        raise DiaryTableError((f"row 1: expected a column “{_DATE}” among the heads",))
    of, value = _first(places, _OF), _first(places, _VALUE)
    read = _read_days if of is None or value is None else _read_entries
    read(reading, heads, places, rows)
    if reading.problems:
        more = len(reading.problems) - MOST_PROBLEMS
        told = reading.problems[:MOST_PROBLEMS]
        raise DiaryTableError((*told, *([f"and {more} more"] if more > 0 else [])))
    return _reported(reading)


Rows = Iterator[tuple[int, list[str]]]


def _read_entries(
    reading: _Reading, heads: list[str], places: Mapping[str, int], rows: Rows
) -> None:
    of, value = heads[_first(places, _OF) or 0], heads[_first(places, _VALUE) or 0]
    kinds = {"remedy": Kind.TAKEN, "advice": Kind.DONE, "measure": Kind.SCORE}
    usual, noted = kinds.get(_plain(of), ""), _first(places, _NOTE)
    for number, row in rows:
        cells = dict(zip(map(_plain, heads), row, strict=False))
        kind, typed = cells.get(_KIND, usual), cells.get(_plain(value), "")
        note = "" if noted is None else cells.get(_plain(heads[noted]), "")
        is_entry = bool(cells.get(_plain(of)) or typed)
        if not is_entry and not note:
            continue
        if kind not in ("", *Kind):
            reading.wrong(number, _KIND, f"expected one of {', '.join(Kind)}; found “{kind}”")
            continue
        day = _day(reading, number, cells.get(_DATE, ""))
        if day and note and noted is not None:
            reading.put_note(day, note, number, heads[noted])
        if kind == Kind.NOTE and day:
            reading.put_note(day, typed, number, value)
        elif is_entry and kind != Kind.NOTE:
            subject = reading.subject(cells.get(_plain(of), ""), kind, number, of)
            if day and subject:
                reading.put(day, subject, typed, number, value)


def _read_days(reading: _Reading, heads: list[str], places: Mapping[str, int], rows: Rows) -> None:
    at = places[_DATE]
    others = {n: head for n, head in enumerate(heads) if n != at and head}
    notes = {
        n
        for n, head in others.items()
        if _plain(head) in _NOTE and _plain(head) not in reading.subjects
    }
    named = {n: reading.subject(head, "", 1, head) for n, head in others.items() if n not in notes}
    for number, row in rows:
        day = _day(reading, number, row[at] if at < len(row) else "")
        for n, subject in named.items():
            if day and subject and n < len(row) and row[n]:
                reading.put(day, subject, row[n], number, heads[n])
        for n in notes:
            if day and n < len(row) and row[n]:
                reading.put_note(day, row[n], number, heads[n])


def _day(reading: _Reading, row: int, typed: str) -> date | None:
    try:
        return typed_date(typed)
    except TypedDateError:
        expected = "expected a day such as 2027-01-04 or 4/1/2027"
        reading.wrong(row, _DATE, f"{expected}; found “{typed}”")
        return None


def _rows(text: str) -> Rows:
    """The rows that hold anything, with their numbers, cells without blanks about them."""
    head = text.partition("\n")[0]
    mark = max(",;\t", key=head.count)
    try:
        for number, row in enumerate(csv.reader(io.StringIO(text), delimiter=mark), 1):
            cells = [without_guard(cell.strip()) for cell in row]
            if any(cells):
                yield number, cells
    except csv.Error as error:
        message = "this is not a table separated by commas, semicolons or tabs"
        raise DiaryTableError((message,)) from error


def _subjects(course: Course, measures: Measures) -> dict[str, _Subject]:
    """What can be named, by its names; a remedy's id goes before a name, that before a letter."""
    known: dict[str, _Subject] = {}
    for n, remedy in enumerate(course.remedies):
        known[_plain(letter_of(n))] = _Subject(Kind.TAKEN, remedy.id)
    for measure in (*KNOWN, *measures.own):
        known[_plain(measure.name)] = known[_plain(measure.id)] = _Subject(Kind.SCORE, measure.id)
    for phase in course.protocol.phases:
        known |= {_plain(line.text): _Subject(Kind.DONE, line.text) for line in phase.advice}
    known |= {_plain(r.name): _Subject(Kind.TAKEN, r.id) for r in course.remedies}
    return known | {_plain(r.id): _Subject(Kind.TAKEN, r.id) for r in course.remedies}


def _reported(reading: _Reading) -> Reported:
    values = reading.values

    def of(kind: Kind) -> list[tuple[date, str, Fraction]]:
        found = ((day, s.id, value) for (day, s), value in values.items() if s.kind is kind)
        return sorted(found)

    return Reported(
        tuple(Taken(day, name, int(value)) for day, name, value in of(Kind.TAKEN)),
        tuple(Followed(day, name, int(value)) for day, name, value in of(Kind.DONE)),
        tuple(Score(day, name, value) for day, name, value in of(Kind.SCORE)),
        tuple(DayNote(day, words) for day, words in sorted(reading.notes.items())),
    )


def _first(places: Mapping[str, int], names: tuple[str, ...]) -> int | None:
    return next((places[name] for name in names if name in places), None)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _number(text: str) -> Fraction | None:
    plain = text.replace(",", ".", 1)
    return Fraction(plain) if plain.replace(".", "", 1).isdecimal() else None
