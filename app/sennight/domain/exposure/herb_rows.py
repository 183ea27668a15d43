"""The rows of single herbs: runs of days put together, and kept from one edit to the next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from sennight.domain.dates import Span
from sennight.domain.exposure.rows import Exposure, Ranges, row_of
from sennight.domain.exposure.runs import Intake, State, falling, from_day_taken, period, runs
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.kept import kept

_FORMS = tuple(TakenAs)
_MOST_STATES = 500
"""Of how many states of a herb the rows are kept."""


class HerbRows:
    """The rows of a herb, those of states and intakes that were there before not made again.

    A cycle of weeks on and off repeats the same few states dozens of times, an edit leaves most
    of them as they were, and adding up fractions is what costs. Amounts are told apart by
    identity, which holds as long as they are kept here: a line's are made once, and equal ones of
    other lines would only be worked out twice.
    """

    def __init__(self, ranges: Ranges) -> None:
        self._ranges = ranges
        self._rows: dict[tuple[object, ...], tuple[State, Exposure]] = {}
        self._last: tuple[list[Intake], tuple[Exposure, ...]] = [], ()

    def rows_of(self, taken: list[Intake]) -> tuple[Exposure, ...]:
        """The rows of these intakes, form by form, those over all forms last."""
        if not _are_same(taken, self._last[0]):
            self._last = taken, tuple(self._all_rows(taken))
        return self._last[1]

    def _all_rows(self, taken: list[Intake]) -> Iterator[Exposure]:
        forms = sorted({intake.key.form for intake in taken}, key=_FORMS.index)
        for form in forms:
            of_form = _falling_runs([intake for intake in taken if intake.key.form is form])
            yield from _joined((span, self._row(span, state)) for span, state in of_form)
        if len(forms) > 1:
            several = (
                run for run in _falling_runs(taken) if len({key.form for key in run[1]}) > 1
            )
            yield from _joined((span, self._row(span, state)) for span, state in several)

    def _row(self, span: Span, state: State) -> Exposure:
        """The row of a run, whatever the days that its span says; periods alike made once."""
        amounts = ((key, id(amount)) for key, amount in state.items())
        known = (span if span.days < period(state) else None, *amounts)
        found = self._rows.get(known)
        if found is None:
            found = state, row_of(span, state, self._ranges)
            if len(self._rows) >= _MOST_STATES:
                self._rows.clear()
            self._rows[known] = found
        return found[1]


def _are_same(taken: list[Intake], before: list[Intake]) -> bool:
    """Whether the intakes of a herb are those of before."""
    return len(taken) == len(before) and all(
        intake.amount is known.amount and intake.span == known.span and intake.key == known.key
        for intake, known in zip(taken, before, strict=True)
    )


class Herbs:
    """The rows of all herbs of a materia medica."""

    def __init__(self, materia_medica: MateriaMedica) -> None:
        self._materia_medica = materia_medica
        self._herbs: dict[tuple[str, frozenset[str], int | None], HerbRows] = {}

    def herb(self, herb: str, aims: frozenset[str], child: int | None) -> HerbRows:
        """Those of one herb, taken for these actions, by a child of so many months."""
        key = herb, aims, child
        if key not in self._herbs:
            self._herbs[key] = HerbRows(Ranges(herb, self._materia_medica, aims, child))
        return self._herbs[key]


@kept(4)
def known_herbs(materia_medica: MateriaMedica) -> Herbs:
    """The rows of the herbs of a materia medica, those that were made before kept."""
    return Herbs(materia_medica)


def _joined(rows: Iterable[tuple[Span, Exposure]]) -> Iterator[Exposure]:
    """Rows that meet and say the same as one; days counted from an anchor are not joined."""
    joined_row: Exposure | None = None
    days = Span(date.min, date.min)
    for span, row in rows:
        counted = row.days is not None and row.days.every > 1
        if joined_row and days.end == span.first and not counted and _say_same(joined_row, row):
            days = Span(days.first, span.end)
        else:
            if joined_row:
                yield _on(joined_row, days)
            joined_row, days = row, span
    if joined_row:
        yield _on(joined_row, days)


def _say_same(row: Exposure, other: Exposure) -> bool:
    """Whether two rows differ in their days at most."""
    return row is other or _on(row, other.span) == other


def _on(row: Exposure, days: Span) -> Exposure:
    """The row on other days."""
    return row if row.span == days else replace(row, span=days)


def _falling_runs(taken: list[Intake]) -> Iterator[tuple[Span, State]]:
    """The runs, with what has a day in them; none without."""
    for span, state in runs(taken):
        taken_then = falling(state, span)
        if taken_then:
            yield from_day_taken(taken_then, span), taken_then
