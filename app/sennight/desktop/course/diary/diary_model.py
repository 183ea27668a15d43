"""The diary as a grid of days and remedies, with what is keyed in kept as a draft."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from PySide6.QtCore import QObject, Qt, Signal

from sennight.desktop.course.diary.diary_values import (
    Advised,
    Draft,
    Kept,
    KeyedIn,
    Notes,
    Steps,
    column_to_json,
    counts_of,
    doses_in,
    followed_in,
    short_day,
)
from sennight.desktop.kit.drafts import as_list, leaving_out_what_cannot_be_read
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.domain.courses.advice_days import advice_runs
from sennight.domain.dates import Span, course_week
from sennight.domain.directions.plain_words import plain_day
from sennight.domain.follow_up.diaries import DayNote, Reported, Score, Taken, note_words
from sennight.domain.remedies.letters import letter_of
from sennight.practice.course_reading import CourseReading
from sennight.practice.drafts import Json

DUE = Qt.ItemDataRole.UserRole + 21
COUNT = Qt.ItemDataRole.UserRole + 22


class DiaryModel(GridModel):
    """Days of the course up to today as rows, its remedies as columns.

    `scores` are those that came with a table or a sheet, to be saved with the diary; `rated` are
    those that are saved already. `notes` are what was said of days and is not saved yet, `noted`
    what is.
    """

    note_changed = Signal()

    def __init__(
        self,
        reading: CourseReading,
        saved: Reported,
        draft: Draft,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.reading, self.draft = reading, draft
        self.scores: tuple[Score, ...] = ()
        self.notes: Notes = {}
        self.noted = {note.day: note.words for note in saved.notes}
        self.steps = Steps()
        self.rated = {(score.day, score.measure): score.value for score in saved.scores}
        self.saved: dict[tuple[date, Kept], int] = {**counts_of(saved)}
        days = reading.layout.days
        end = min(days.end, date.fromordinal(reading.today.toordinal() + 1))
        self.days = tuple(Span(days.first, end))
        runs = [run for run in advice_runs(reading.layout) if run.advice.diary]
        advised = dict.fromkeys(Advised(run.advice.text) for run in runs)
        remedies = reading.course.remedies
        self.columns: tuple[Kept, ...] = (*(remedy.id for remedy in remedies), *advised)
        self.names = (*(remedy.name for remedy in remedies), *(line.text for line in advised))
        self._due: dict[tuple[date, Kept], int] = {
            (cell.day, mark.remedy): mark.doses
            for cell in map(reading.weeks.cell, self.days)
            if cell is not None
            for mark in cell.marks
            if mark.stretch is not None
        }
        for day in self.days:
            for run in runs:
                if run.holds_on(day):
                    self._due[day, Advised(run.advice.text)] = max(1, len(run.times))

    def row_count(self) -> int:
        """The days."""
        return len(self.days)

    def column_count(self) -> int:
        """The remedies, and the advice that is ticked off."""
        return len(self.columns)

    def _key(self, row: int, column: int) -> tuple[date, Kept]:
        return self.days[row], self.columns[column]

    def due(self, row: int, column: int) -> int | None:
        """Timed doses due; None where the remedy is not taken on that day."""
        return self._due.get(self._key(row, column))

    def count(self, row: int, column: int) -> int | None:
        """Doses keyed in or saved; None where there is no entry."""
        key = self._key(row, column)
        return self.draft[key] if key in self.draft else self.saved.get(key)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Taken of due, and the same as a sentence."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        reader = {
            DUE: self.due,
            COUNT: self.count,
            Qt.ItemDataRole.DisplayRole: self._figures,
            Qt.ItemDataRole.AccessibleTextRole: self._sentence,
        }.get(role)
        return reader(row, column) if reader else None

    def _figures(self, row: int, column: int) -> str:
        due, count = self.due(row, column), self.count(row, column)
        if due is None and count is None:
            return ""
        return f"{'–' if count is None else count} / {due or 0}"

    def _sentence(self, row: int, column: int) -> str:
        due, count = self.due(row, column), self.count(row, column)
        taken = (
            self.tr("no entry") if count is None else self.tr("{count} taken").format(count=count)
        )
        name = self.names[column]
        said = f"{plain_day(self.days[row])}, {name}: {taken} of {due or 0} due"
        note = self.note(row)
        return self.tr("{said}. Note: {note}").format(said=said, note=note) if note else said

    def column_heading(self, column: int, role: int) -> object:
        """The remedies' letters, in full for tips."""
        if role == Qt.ItemDataRole.DisplayRole:
            return letter_of(column)
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.names[column])
        return None

    def row_heading(self, row: int, role: int) -> object:
        """The days, the week's number on its first day."""
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(self.note(row)) or None
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        day = self.days[row]
        text = short_day(day)
        if (day - self.days[0]).days % 7 == 0:
            week = course_week(self.days[0], day)
            text = f"{self.tr('week')} {week}   {text}"
        return text

    # The draft, kept on disk

    def draft_value(self) -> Json:
        """Each count with its day and its column: a remedy, or a line of advice in its words."""
        counts: list[Json] = [
            [day.isoformat(), *column_to_json(kept), count]
            for (day, kept), count in self.draft.items()
        ]
        rated: list[Json] = [
            [score.day.isoformat(), "score", score.measure, str(score.value)]
            for score in self.scores
        ]
        noted: list[Json] = [
            [day.isoformat(), "note", words, None] for day, words in self.notes.items()
        ]
        return counts + rated + noted

    def put_draft_value(self, value: Json) -> None:
        """Hold the draft again; days and columns that the course has no more are left out."""
        draft: Draft = {}
        scores: list[Score] = []
        notes: Notes = {}
        with leaving_out_what_cannot_be_read():
            for entry in as_list(value):
                day, kind, text, count = as_list(entry)
                on = date.fromisoformat(str(day))
                kept = Advised(str(text)) if kind == "advice" else str(text)
                if kind == "score":
                    scores.append(Score(on, str(text), Fraction(str(count))))
                elif kind == "note":
                    notes[on] = str(text)
                elif kept in self.columns and isinstance(count, int | None):
                    draft[on, kept] = count
        self._put_back(KeyedIn(draft, notes, tuple(scores)))

    def _all_changed(self) -> None:
        if self.days:
            last = self.index(self.row_count() - 1, self.column_count() - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            self._notes_changed()

    # Steps back and forth

    def _now(self) -> KeyedIn:
        return KeyedIn(dict(self.draft), dict(self.notes), self.scores)

    def _put_back(self, keyed: KeyedIn) -> None:
        self.draft, self.notes = dict(keyed.draft), dict(keyed.notes)
        self.scores = keyed.scores
        self._all_changed()

    def undo(self) -> None:
        """Take the last step back, if there was one."""
        if (before := self.steps.back(self._now())) is not None:
            self._put_back(before)

    def redo(self) -> None:
        """Do a step again that was taken back."""
        if (after := self.steps.again(self._now())) is not None:
            self._put_back(after)

    # A table or a sheet that was read

    def differing(self, reported: Reported) -> int:
        """How many of its entries are other than what the diary holds already."""
        counts = counts_of(reported)
        rated = sum(self._differs(score) for score in reported.scores)
        rated += sum(self.noted.get(note.day, note.words) != note.words for note in reported.notes)
        return rated + sum(self.saved.get(key, count) != count for key, count in counts.items())

    def _differs(self, score: Score) -> bool:
        return self.rated.get((score.day, score.measure), score.value) != score.value

    def outside(self, reported: Reported) -> int:
        """How many of its entries are of no day of the grid."""
        counted = sum(key not in self._cells() for key in counts_of(reported))
        return counted + sum(note.day not in self.days for note in reported.notes)

    def take_in(self, reported: Reported, *, over_saved: bool) -> None:
        """Key in what was reported; over what is saved only where that is wanted."""
        self.steps.begin(self._now())
        cells = self._cells()
        for key, count in counts_of(reported).items():
            held = self.saved.get(key)
            if key in cells and count != held and (held is None or over_saved):
                self.draft[key] = count
        scores = {(score.day, score.measure): score for score in self.scores}
        for score in reported.scores:
            key = score.day, score.measure
            if key not in self.rated or (over_saved and self._differs(score)):
                scores[key] = score
        self.scores = tuple(scores.values())
        for note in reported.notes:
            words = self.noted.get(note.day)
            if note.day in self.days and note.words != words and (words is None or over_saved):
                self.notes[note.day] = note.words
        self._all_changed()

    def _cells(self) -> set[tuple[date, Kept]]:
        return {(day, kept) for day in self.days for kept in self.columns}

    # Keying in

    def set_taken(self, rows: Iterable[int], columns: Iterable[int], count: int | None) -> None:
        """Key in a count for cells, however many are due."""
        self._put({(row, column): count for row in rows for column in columns})

    def put_all_taken(self, rows: Iterable[int]) -> None:
        """Key in every due dose of some days as taken."""
        cells = {(row, c): self.due(row, c) for row in rows for c in range(len(self.columns))}
        self._put({cell: due for cell, due in cells.items() if due})

    def cycle(self, row: int, column: int) -> None:
        """From all taken to part, to missed, to no entry, and round again."""
        due, count = self.due(row, column) or 0, self.count(row, column)
        states: list[int | None] = [due, due // 2, 0] if due > 1 else [1, 0]
        if self._key(row, column) not in self.saved:
            states.append(None)
        at = states.index(count) + 1 if count in states else 0
        self._put({(row, column): states[at % len(states)]})

    def forget(self, row: int, column: int) -> None:
        """Take a draft back, so that what was saved holds again; where there is none, the entry.

        An entry of advice can be corrected, and not be taken away.
        """
        key = self._key(row, column)
        self.steps.begin(self._now())
        if key in self.draft:
            del self.draft[key]
        elif key in self.saved and isinstance(key[1], str):
            self.draft[key] = None
        self.dataChanged.emit(self.index(row, column), self.index(row, column))

    def _put(self, cells: dict[tuple[int, int], int | None]) -> None:
        self.steps.begin(self._now())
        for (row, column), count in cells.items():
            self.draft[self._key(row, column)] = count
        if cells:
            rows, columns = {row for row, _ in cells}, {column for _, column in cells}
            first = self.index(min(rows), min(columns))
            self.dataChanged.emit(first, self.index(max(rows), max(columns)))

    def week_of(self, row: int) -> range:
        """The rows of the course week that a row lies in."""
        first = row // 7 * 7
        return range(first, min(first + 7, len(self.days)))

    # Notes

    def note(self, row: int) -> str:
        """What is said of a day, keyed in or saved."""
        day = self.days[row]
        return self.notes.get(day, self.noted.get(day, ""))

    def set_note(self, row: int, typed: str) -> None:
        """Say something of a day; nothing takes a saved note away."""
        day = self.days[row]
        self.steps.begin(self._now(), of=day)
        if note_words(typed) == self.noted.get(day, ""):
            self.notes.pop(day, None)
        else:
            self.notes[day] = typed
        self._notes_changed()

    def _notes_changed(self) -> None:
        self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, len(self.days) - 1)
        self.note_changed.emit()

    # What is to be saved

    def reported(self) -> Reported:
        """All that was keyed in."""
        notes = tuple(
            DayNote(day, words)
            for day, typed in self.notes.items()
            if (words := note_words(typed)) != self.noted.get(day, "")
        )
        return Reported(doses_in(self.draft), followed_in(self.draft), self.scores, notes)

    def withdrawn(self) -> tuple[tuple[date, str], ...]:
        """The saved entries, by day and remedy, that are taken away."""
        return tuple(
            (day, kept)
            for (day, kept), count in self.draft.items()
            if count is None and isinstance(kept, str) and (day, kept) in self.saved
        )

    @property
    def keyed_in(self) -> int:
        """How many entries are to be saved, those that are taken away counted."""
        kept = self.reported()
        parts = (kept.taken, kept.followed, kept.scores, kept.notes, self.withdrawn())
        return sum(map(len, parts))

    def with_draft(self) -> tuple[Taken, ...]:
        """The doses of the diary as it would be, draft included."""
        return doses_in({**self.saved, **self.draft})

    def first_without_entry(self) -> int:
        """The first day behind the last entry on which a dose was due; else the last day."""
        entered = [*self.saved, *self.draft]
        begin = max((day for day, _ in entered), default=date.min)
        for row in (n for n, day in enumerate(self.days) if day > begin):
            for column in range(len(self.columns)):
                if self.due(row, column):
                    return row
        return max(0, len(self.days) - 1)
