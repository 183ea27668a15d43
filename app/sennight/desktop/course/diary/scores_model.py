"""Scores as a grid of days and measures, with what is keyed in kept as a draft."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction

from PySide6.QtCore import QObject, Qt

from sennight.desktop.course.diary.diary_values import short_day
from sennight.desktop.kit.drafts import as_list, as_object, leaving_out_what_cannot_be_read
from sennight.desktop.kit.grid_model import GridModel, Index
from sennight.desktop.kit.plain_text import plain_tip
from sennight.domain.amounts import plain_number
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_day
from sennight.domain.follow_up.diaries import Score
from sennight.domain.follow_up.measures import (
    KNOWN,
    MOST_ACTIVITIES,
    Better,
    Measure,
    Measures,
    activity,
    is_activity,
)
from sennight.domain.follow_up.progress_words import threshold_words
from sennight.domain.tag_words import upper_first
from sennight.practice.course_reading import CourseReading
from sennight.practice.drafts import Json

Cell = tuple[date, str]
WRONG = Qt.ItemDataRole.UserRole + 31
IS_DRAFT = Qt.ItemDataRole.UserRole + 32

_NUMBER = re.compile(r"\d+([.,]\d+)?")


def number_in(text: str) -> Fraction | None:
    """The number that was typed, with a point or a comma; None where it is none."""
    return Fraction(text.replace(",", ".")) if _NUMBER.fullmatch(text) else None


class ScoresModel(GridModel):
    """Days up to today as rows, measures as columns; what is typed is text until it is saved.

    What was rated comes first, then what a gate waits for and what was described for the course.
    In `draft` an empty text takes a saved score away; `own` are measures that were described here.
    """

    def __init__(
        self, reading: CourseReading, saved: Iterable[Score], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.reading = reading
        self.saved: Mapping[Cell, Fraction] = {(s.day, s.measure): s.value for s in saved}
        self.draft: dict[Cell, str] = {}
        self.own: dict[str, Measure] = {}
        self.start = reading.course.start
        began = min((self.start, reading.today, *(day for day, _ in self.saved)))
        self.days = tuple(Span.of_days(began, reading.today))
        known = [measure.id for measure in KNOWN]
        rated = {measure for _, measure in self.saved}
        first = (*(measure for measure in known if measure in rated), *sorted(rated))
        gates = [phase.gate for phase in reading.course.protocol.phases]
        waited = (gate.measure for gate in gates if gate is not None)
        own = (measure.id for measure in reading.measures.own)
        self.measures = list(dict.fromkeys((*first, *waited, *own, *known)))

    def row_count(self) -> int:
        """The days."""
        return len(self.days)

    def column_count(self) -> int:
        """The measures."""
        return len(self.measures)

    @property
    def known(self) -> Measures:
        """What the course's scores are of, with what was described here."""
        held = {measure.id: measure for measure in self.reading.measures.own} | self.own
        return Measures(tuple(held.values()))

    def name(self, column: int) -> str:
        """What a column is called."""
        measure = self.known.of(self.measures[column])
        return measure.name if measure else self.measures[column]

    def scale(self, column: int) -> str:
        """The unit, or the ends of the scale."""
        measure = self.known.of(self.measures[column])
        low, high = self.known.scale(self.measures[column])
        return measure.unit if measure and measure.unit else f"{low} – {high}"

    def meaning(self, column: int) -> str:
        """What the ends of a column's scale mean, for whoever asks the client."""
        name, measure = self.name(column), self.known.of(self.measures[column])
        if measure is None:
            return self.tr("{name}: {scale}").format(name=name, scale=self.scale(column))
        if is_activity(measure.id):
            told = self.tr("{name}: 0 unable to do it, 10 as before the trouble began")
        elif measure.unit:
            told = self.tr("{name}, in {unit}: lower is better")
            if measure.better is Better.MORE:
                told = self.tr("{name}, in {unit}: higher is better")
        elif measure.better is Better.LESS:
            told = self.tr("{name}: {low} none, {high} the worst")
        else:
            told = self.tr("{name}: {low} the worst, {high} the best")
        told = told.format(name=name, unit=measure.unit, low=measure.low, high=measure.high)
        return f"{told}. {upper_first(threshold_words(measure))}."

    def _key(self, row: int, column: int) -> Cell:
        return self.days[row], self.measures[column]

    def text(self, row: int, column: int) -> str:
        """What is typed, else the saved score; empty where there is none."""
        key = self._key(row, column)
        held = self.saved.get(key)
        return self.draft.get(key, "" if held is None else plain_number(held))

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The score, and the same as a sentence."""
        if not index.isValid():
            return None
        row, column = index.row(), index.column()
        key = self._key(row, column)
        if role == Qt.ItemDataRole.DisplayRole:
            return self.text(row, column)
        if role == WRONG:
            return key in self.draft and not self._is_right(key)
        if role == IS_DRAFT:
            return key in self.draft
        if role == Qt.ItemDataRole.AccessibleTextRole:
            told = self.text(row, column) or self.tr("no entry")
            return f"{plain_day(self.days[row])}, {self.name(column)}: {told}"
        return None

    def column_heading(self, column: int, role: int) -> object:
        """The measure and its scale."""
        told = f"{self.name(column)}\n{self.scale(column)}"
        if role == Qt.ItemDataRole.ToolTipRole:
            return plain_tip(told)
        return told if role == Qt.ItemDataRole.DisplayRole else None

    def row_heading(self, row: int, role: int) -> object:
        """The days."""
        return short_day(self.days[row]) if role == Qt.ItemDataRole.DisplayRole else None

    def week_end_after(self, row: int) -> int:
        """The row of the next last day of a course week, or the last row."""
        until_end = 6 - (self.days[row] - self.start).days % 7 or 7
        return min(row + until_end, len(self.days) - 1)

    # Keying in

    def put(self, row: int, column: int, text: str) -> None:
        """Key in a score; what equals the saved one is no draft."""
        key = self._key(row, column)
        self.draft.pop(key, None)
        if text != self.text(row, column):
            self.draft[key] = text
        self.dataChanged.emit(self.index(row, column), self.index(row, column))

    def clear(self, row: int, column: int) -> None:
        """Take a draft back, or where there is none, a saved score away."""
        key = self._key(row, column)
        self.put(row, column, self._saved_text(key) if key in self.draft else "")

    def _saved_text(self, key: Cell) -> str:
        return plain_number(self.saved[key]) if key in self.saved else ""

    def add_activity(self, name: str) -> str:
        """Add a column of an activity; says why where it cannot be, else nothing."""
        if sum(map(is_activity, self.measures)) >= MOST_ACTIVITIES:
            return self.tr("There are {most} activities already.").format(most=MOST_ACTIVITIES)
        return self._refused(activity(name).id, name) or self._add_column(activity(name).id)

    def add_own(self, measure: Measure) -> str:
        """Add a column of a measure of the course's own; says why where it cannot be."""
        refused = self._refused(measure.id, measure.name)
        if not refused:
            self.own[measure.id] = measure
            self._add_column(measure.id)
        return refused

    def _refused(self, measure: str, name: str) -> str:
        if not name:
            return self.tr("Give it a name first.")
        if measure.casefold() in (known.casefold() for known in self.measures):
            return self.tr("“{name}” has a column already.").format(name=name)
        return ""

    def _add_column(self, measure: str) -> str:
        self.beginResetModel()
        self.measures.append(measure)
        self.endResetModel()
        return ""

    # What is to be saved

    def _is_right(self, key: Cell) -> bool:
        text = self.draft[key]
        return not text or self._value(text, key[1]) is not None

    def wrong_cells(self) -> tuple[tuple[int, int], ...]:
        """The rows and columns of what is not on its scale, by day."""
        wrong = sorted(key for key in self.draft if not self._is_right(key))
        return tuple((self.days.index(day), self.measures.index(name)) for day, name in wrong)

    def entered(self) -> tuple[Score, ...]:
        """The scores that were keyed in and are on their scales."""
        read = ((key, self._value(text, key[1])) for key, text in self.draft.items())
        return tuple(sorted(Score(*key, value) for key, value in read if value is not None))

    def withdrawn(self) -> tuple[Cell, ...]:
        """The days and measures whose saved score is taken away."""
        return tuple(sorted(key for key, text in self.draft.items() if not text))

    def _value(self, text: str, measure: str) -> Fraction | None:
        """The number that was typed; None where it is none, or off its measure's scale."""
        value = number_in(text)
        low, high = self.known.scale(measure)
        return value if value is not None and low <= value <= high else None

    # The draft, kept on disk

    def draft_value(self) -> Json:
        """The columns that were added, and each text with its day and measure."""
        cells: list[Json] = [
            [day.isoformat(), measure, text] for (day, measure), text in self.draft.items()
        ]
        own: list[Json] = [_as_json(measure) for measure in self.own.values()]
        return {"measures": list(self.measures), "own": own, "cells": cells}

    def put_draft_value(self, value: Json) -> None:
        """Hold the draft again; days that are out of reach are left out."""
        self.beginResetModel()
        self.draft = {}
        with leaving_out_what_cannot_be_read():
            kept = as_object(value)
            named = (str(name) for name in as_list(kept["measures"]))
            self.measures = list(dict.fromkeys((*self.measures, *named)))
            described = (_from_json(as_object(entry)) for entry in as_list(kept["own"]))
            self.own = {measure.id: measure for measure in described}
            for entry in as_list(kept["cells"]):
                day, measure, text = (str(part) for part in as_list(entry))
                key = date.fromisoformat(day), measure
                if key[0] in self.days and measure in self.measures:
                    self.draft[key] = text
        self.endResetModel()


def _as_json(measure: Measure) -> Json:
    matters = None if measure.matters is None else str(measure.matters)
    return {
        "id": measure.id,
        "better": str(measure.better),
        "high": str(measure.high),
        "unit": measure.unit,
        "matters": matters,
        "source": measure.source,
    }


def _from_json(kept: Mapping[str, Json]) -> Measure:
    matters = kept["matters"]
    return Measure(
        str(kept["id"]),
        str(kept["id"]),
        Better(str(kept["better"])),
        high=Fraction(str(kept["high"])),
        unit=str(kept["unit"]),
        matters=None if matters is None else Fraction(str(matters)),
        source=str(kept.get("source", "")),  # drafts of an earlier version have none
    )
