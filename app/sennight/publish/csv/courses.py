"""The tables of a course as CSV: UTF-8, a header row, a line feed at the end of each row.

Numbers are exact (`1/3` where there is no finite decimal form), dates ISO 8601, days both ends
included. Cells are quoted as in RFC 4180 where they need it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from fractions import Fraction

from sennight.domain.amounts import plain_number, rounded
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import course_week
from sennight.domain.day import clock
from sennight.domain.follow_up.adherence import Adherence, AdherenceReport
from sennight.domain.follow_up.gates import GateReading, GateState
from sennight.domain.follow_up.outcomes import Outcome
from sennight.domain.schedule.doses import doses

STRETCHES = (
    "first_day",
    "last_day",
    "phase",
    "remedy",
    "amount",
    "unit",
    "times",
    "days",
    "as_needed_max",
)
DOSES = ("date", "time", "phase", "remedy", "amount", "unit", "week")
ADHERENCE = (
    "scope",
    "name",
    "days_due",
    "days_recorded",
    "days_unrecorded",
    "doses_due",
    "doses_taken",
    "doses_missed",
    "as_needed",
    "extra",
    "proportion",
    "first_taken",
    "last_taken",
    "lowest",
    "highest",
    "implementation",
    "days_asked",
    "days_kept_up",
    "persistence",
)
OUTCOMES = (
    "measure",
    "scope",
    "name",
    "ratings",
    "first_day",
    "first",
    "last_day",
    "last",
    "change",
    "percent",
    "fell_2_points",
    "fell_30_percent",
    "band",
    "gate",
    "better",
    "verdict",
)

_FORMULA = re.compile(r"[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?")

YES_NO = {True: "yes", False: "no", None: None}


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[object]]) -> bytes:
    """A table as CSV; None becomes an empty cell.

    A spreadsheet takes a text that begins with one of = + - @ for a formula and works it out,
    so an apostrophe goes before one that is no number.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows([_inert(cell) for cell in row] for row in rows)
    return out.getvalue().encode()


def _inert(cell: object) -> object:
    is_formula = isinstance(cell, str) and _FORMULA.match(cell) and not _NUMBER.fullmatch(cell)
    return f"'{cell}" if is_formula else cell


def without_guard(cell: str) -> str:
    """A cell as it was before `csv_bytes` put an apostrophe before what looks like a formula."""
    return cell[1:] if cell[:1] == "'" and _FORMULA.match(cell, 1) else cell


def stretches_csv(layout: Layout) -> bytes:
    """Every run of days on which a line is taken one way, in order."""
    return csv_bytes(STRETCHES, (_stretch_row(stretch) for stretch in layout.stretches))


def _stretch_row(stretch: Stretch) -> tuple[object, ...]:
    return (
        stretch.span.first,
        stretch.span.last,
        stretch.phase,
        stretch.remedy,
        plain_number(stretch.amount),
        stretch.unit,
        " ".join(clock(minute) for minute in stretch.times),
        stretch.days,
        stretch.as_needed_max,
    )


def doses_csv(layout: Layout) -> bytes:
    """Every timed dose, in order; the week is the course week of the date in its row."""
    start = layout.course.start
    rows = (
        (
            dose.date,
            dose.time.strftime("%H:%M"),
            dose.phase,
            dose.remedy,
            plain_number(dose.amount),
            dose.unit,
            course_week(start, dose.date),
        )
        for dose in doses(layout)
    )
    return csv_bytes(DOSES, rows)


def adherence_csv(report: AdherenceReport) -> bytes:
    """Adherence by remedy, by phase and over all; what each number counts is in `adherence`."""
    rows = [
        *(_adherence_row("remedy", name, figures) for name, figures in report.remedies),
        *(_adherence_row("phase", name, figures) for name, figures in report.phases),
        _adherence_row("all", "", report.overall),
    ]
    return csv_bytes(ADHERENCE, rows)


def _adherence_row(scope: str, name: str, figures: Adherence) -> tuple[object, ...]:
    share = figures.proportion
    return (
        scope,
        name,
        figures.days_due,
        figures.days_recorded,
        figures.days_due - figures.days_recorded,
        figures.due,
        figures.taken,
        figures.due - figures.taken,
        figures.as_needed,
        figures.extra,
        _share(share),
        figures.first,
        figures.last,
        *(map(_share, figures.bounds) if figures.bounds else (None, None)),
        _share(figures.implementation),
        figures.days_asked,
        figures.days_kept,
        _share(figures.persistence),
    )


def _share(share: Fraction | None) -> str | None:
    return None if share is None else rounded(share, 4)


def outcomes_csv(results: Iterable[Outcome], gates: Iterable[GateReading] = ()) -> bytes:
    """Changes of ratings by measure, by phase and over all; see `outcomes` for thresholds.

    A phase's gate is told beside the measure that it waits for, of several flares the last.
    """
    states = {(gate.run.phase.id, gate.gate.measure): gate.state for gate in gates}
    return csv_bytes(
        OUTCOMES,
        (_outcome_row(row, states.get((row.phase, row.measure))) for row in results),
    )


def _outcome_row(outcome: Outcome, gate: GateState | None) -> tuple[object, ...]:
    return (
        outcome.measure,
        "phase" if outcome.phase else "all",
        outcome.phase,
        outcome.ratings,
        outcome.first_day,
        plain_number(outcome.first),
        outcome.last_day,
        plain_number(outcome.last),
        plain_number(outcome.change),
        None if outcome.percent is None else rounded(outcome.percent, 1),
        YES_NO[outcome.fell_by_points],
        YES_NO[outcome.fell_by_percent],
        outcome.band,
        gate,
        outcome.of.better if outcome.of else None,
        outcome.verdict,
    )
