"""Says what differs between two layouts in sentences for the practitioner."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import groupby

from sennight.domain.courses.compare import Comparison, DoseChange, LineChange, PhaseMove
from sennight.domain.courses.courses import Course
from sennight.domain.courses.phase_names import phase_title, plan_title
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import (
    counted,
    plain_amount,
    plain_date,
    plain_dates,
    plain_dose,
)

MOST_RUNS = 2
"""A remedy that changes on more runs of days than this is told by its doses alone."""

_NOT_TAKEN = "not taken"


@dataclass(frozen=True, slots=True)
class DoseRow:
    """One row of a table of doses: a remedy's name, its days, what was and what is to be."""

    remedy: str
    days: str
    before: str
    after: str


def days_words(span: Span) -> str:
    """A run of days within a sentence, both ends included."""
    dates = plain_dates(span)
    return f"on {dates}" if span.days == 1 else f"from {dates}"


def length_words(days: int) -> str:
    """So many days as it is said, in weeks where they are whole ones."""
    weeks, rest = divmod(days, 7)
    return counted(days, "day") if rest or not weeks else counted(weeks, "week")


def sentences(comparison: Comparison, course: Course) -> tuple[str, ...]:
    """What differs, each in a sentence: phases first, then pauses, remedies and doses.

    `course` names the remedies. Empty where nothing differs.
    """
    clauses = [
        *_phase_clauses(comparison.phases),
        *_pause_clauses(comparison),
        *_line_clauses(comparison.lines, course),
        *(_dose_clause(change, course) for change in comparison.doses),
        *_last_day(comparison),
    ]
    return tuple(f"{clause[0].upper()}{clause[1:]}." for clause in clauses)


def sentence(comparison: Comparison, course: Course) -> str:
    """What matters of it in one sentence; says so where nothing differs.

    Phases, pauses and the doses in all; how remedies are taken only where neither phases nor
    pauses say it.
    """
    clauses = [*_phase_clauses(comparison.phases), *_pause_clauses(comparison)]
    if not clauses:
        clauses = list(_line_clauses(comparison.lines, course))
    clauses += _doses_in_all(comparison.doses)
    if not comparison.phases:
        clauses += _last_day(comparison)
    if not clauses:
        return "Nothing changes."
    text = "; ".join(clauses)
    return f"{text[0].upper()}{text[1:]}."


def dose_rows(comparison: Comparison, course: Course) -> tuple[DoseRow, ...]:
    """What changes in doses, by remedy: on which days, how it was taken, how it is to be.

    `course` names the remedies. One that changes on more than MOST_RUNS runs of days has its
    doses in all instead.
    """
    rows: list[DoseRow] = []
    for remedy, run in groupby(comparison.lines, key=lambda change: change.remedy):
        group = tuple(run)
        if _is_formula_alone(group):
            whole = Span(group[0].span.first, group[-1].span.end)
            row = _line_row(replace(group[0], span=whole), course)
            ways = dict.fromkeys(_line_row(change, course).before for change in group)
            rows.append(replace(row, before=", then ".join(ways)))
        elif len(group) <= MOST_RUNS:
            rows += (_line_row(change, course) for change in group)
        else:
            rows += (_dose_row(d, course) for d in comparison.doses if d.remedy == remedy)
    return tuple(rows)


def _line_row(change: LineChange, course: Course) -> DoseRow:
    before = _taken(change.before) if change.before else _NOT_TAKEN
    after = _taken(change.after) if change.after else _NOT_TAKEN
    if change.formula is not None or before == after:
        after = _way(change, course).rstrip(",")
    days = plain_dates(change.span)
    return DoseRow(course.remedy(change.remedy).name, days, before, after)


def _dose_row(change: DoseChange, course: Course) -> DoseRow:
    before, after = counted(change.doses_before, "dose"), counted(change.doses_after, "dose")
    if before == after:
        before, after = (
            plain_amount(amount, change.unit)
            for amount in (change.amount_before, change.amount_after)
        )
    return DoseRow(course.remedy(change.remedy).name, "in all", before, after)


def _doses_in_all(changes: tuple[DoseChange, ...]) -> list[str]:
    more = sum(change.doses_after - change.doses_before for change in changes)
    if more:
        return [f"{_counted_doses(more)} in all"]
    return ["the same number of doses in all"] if changes else []


def _pause_clauses(comparison: Comparison) -> Iterable[str]:
    yield from (f"no doses {days_words(span)}" for span in comparison.pauses_new)
    yield from (f"doses resume {days_words(span)}" for span in comparison.pauses_gone)


# Phases


def _phase_clauses(moves: tuple[PhaseMove, ...]) -> Iterable[str]:
    for shift, run in groupby(moves, key=_shift):
        group = tuple(run)
        if shift is None or len(group) == 1:
            yield from (_phase_clause(move) for move in group)
        else:
            names = [phase_title(move.phase) for move in group]
            yield f"{', '.join(names[:-1])} and {names[-1]} move {_later(shift)}"


def _shift(move: PhaseMove) -> int | None:
    """By how many days a phase moves whole; None where it does not."""
    if move.before is None or move.after is None or move.before.days != move.after.days:
        return None
    return (move.after.first - move.before.first).days


def _later(days: int) -> str:
    return f"{length_words(abs(days))} {'later' if days > 0 else 'earlier'}"


def _phase_clause(move: PhaseMove) -> str:
    before, after, name = move.before, move.after, phase_title(move.phase)
    if before is None or after is None:
        return _there_or_not(move)
    shift = _shift(move)
    if shift is not None:
        return f"{name} moves {_later(shift)}, and runs {days_words(after)}"
    if before.first == after.first:
        return f"{name} ends {plain_date(after.last)} instead of {plain_date(before.last)}"
    if before.end == after.end:
        first, was = plain_date(after.first), plain_date(before.first)
        return f"{name} begins {first} instead of {was}"
    return f"{name} runs {days_words(after)} instead of {days_words(before)}"


def _there_or_not(move: PhaseMove) -> str:
    if move.after:
        days = days_words(move.after)
        flare = f"the {plan_title(move.phase)} runs {days}"
        return flare if move.is_flare else f"{phase_title(move.phase)} is added {days}"
    days = days_words(move.before) if move.before else ""
    if move.is_flare:
        return f"the {plan_title(move.phase)} no longer runs {days}"
    return f"{phase_title(move.phase)}, which was to run {days}, is dropped"


# Remedies


def _line_clauses(changes: tuple[LineChange, ...], course: Course) -> Iterable[str]:
    for remedy, run in groupby(changes, key=lambda change: change.remedy):
        group = tuple(run)
        name = course.remedy(remedy).name
        if _is_formula_alone(group):
            whole = Span(group[0].span.first, group[-1].span.end)
            yield f"{name}: {_way(group[0], course)} {days_words(whole)}"
        elif len(group) <= MOST_RUNS:
            yield from (
                f"{name}: {_way(change, course)} {days_words(change.span)}" for change in group
            )


def _is_formula_alone(group: tuple[LineChange, ...]) -> bool:
    """Whether one formula takes a remedy's place on many runs of days, and that is all."""
    formulas = {change.formula for change in group}
    return len(group) > MOST_RUNS and len(formulas) == 1 and None not in formulas


def _way(change: LineChange, course: Course) -> str:
    if change.formula is not None:
        return f"made like {course.remedy(change.formula).name}"
    if not change.after:
        return _NOT_TAKEN
    if not change.before:
        return _taken(change.after)
    if _taken(change.before) == _taken(change.after):
        return f"{_taken(change.after)}, counted from a different day,"
    return f"{_taken(change.after)} instead of {_taken(change.before)}"


def _taken(directions: tuple[Directions, ...]) -> str:
    return " and ".join(f"{plain_dose(taken)} {taken.timing}" for taken in directions)


def _dose_clause(change: DoseChange, course: Course) -> str:
    name = course.remedy(change.remedy).name
    more = change.doses_after - change.doses_before
    amount = abs(change.amount_after - change.amount_before)
    if not more:
        kind = "more" if change.amount_after > change.amount_before else "less"
        return (
            f"{name}: the same number of doses, {plain_amount(amount, change.unit)} {kind} in all"
        )
    return f"{name}: {_counted_doses(more)}, {change.doses_after} in all"


def _last_day(comparison: Comparison) -> tuple[str, ...]:
    before, after = comparison.days_before, comparison.days_after
    if before.end == after.end or not after or not before:
        return ()
    if before.first != after.first:
        return (f"the course runs {days_words(after)} instead of {days_words(before)}",)
    return (
        f"the course's last day is {plain_date(after.last)} instead of {plain_date(before.last)}",
    )


def _counted_doses(more: int) -> str:
    """`3 more doses`, `1 fewer dose`."""
    kind = "more" if more > 0 else "fewer"
    return f"{abs(more)} {kind} {'dose' if abs(more) == 1 else 'doses'}"
