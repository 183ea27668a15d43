"""Exposure: how much of each herb a client takes in a day, against the herb's working ranges.

Reads a layout's stretches; the cost follows their number, never the number of days. Rubs are
not counted. How the open points are read here:

- *Runs.* A row holds for the longest run of days on which nothing that it says changes,
  whichever lines the amounts come from. Days between, on which none of the herb is taken by any
  line, such as a cycle's days off, have no row.
- *Days.* Where all amounts fall on the same days, `days` is that rule. Where they differ it is
  None (told as `mixed`), and the figures are those of the fullest day in the run: `daily_low`
  the most that timed doses give on any one day, `daily_high` the most that any one day allows.
  Rules of the same words that count from days of different parity do differ.
- *Over several forms.* Grams of different forms do not add up, so the row over all forms, which
  stands where a herb comes in several on the same days, has no unit: `daily_low` and
  `daily_high` are the sums of fractions of the maxima (f), `low` is the weighted minimum (m) of
  the fullest day, and `high` is 1.
- *fraction_of_max* is of `daily_high`. It passes 1 exactly where the band is `over`, but for a
  single figure, which is a dose and no limit: there `over` begins at half as much again.
- *Purpose.* Where the course has aims, rows for these aims are compared with, see `ranges`.
- *Liquids of several ratios* in one run are compared with the lowest of their ranges; where one
  of them has none, nothing is compared.
- *Unknown.* An amount that cannot be told, or a form with no range, makes the band unknown, and
  that of the row over all forms too; `why` says so. But what is known to be over stays over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import DayRule, Directions
from sennight.domain.exposure.ages import by_age
from sennight.domain.exposure.bands import Band, band_of
from sennight.domain.exposure.intakes import intakes, intakes_of_a_day
from sennight.domain.exposure.runs import (
    Intake,
    State,
    falling,
    from_day_taken,
    patterns,
    period,
    runs,
)
from sennight.domain.herbs.child_doses import child_range
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.ranges import NoRange, RangeKind, WorkingRange, range_or_reason
from sennight.domain.remedies.remedies import Remedy

ZERO, ONE = Fraction(0), Fraction(1)
_FORMS = tuple(TakenAs)


@dataclass(frozen=True, slots=True)
class Exposure:
    """A herb in one form, or over all its forms (`form` None), on a run of days.

    Amounts and range are grams a day; over all forms they are fractions, see the module. None
    where they are not known, and `why` then says why. `source` cites the ranges. `if_flare` is
    the rescue phase that the row stands for, where no flare has called that yet: it may be any
    day of the span.
    """

    span: Span
    herb: str
    form: TakenAs | None
    days: DayRule | None
    daily_low: Fraction | None
    daily_high: Fraction | None
    low: Fraction | None
    high: Fraction | None
    fraction_of_max: Fraction | None
    band: Band
    source: str = ""
    why: str = ""
    from_memory: bool = False
    if_flare: str = ""


def exposures(layout: Layout, materia_medica: MateriaMedica) -> tuple[Exposure, ...]:
    """All rows, in order of first day, herb and form, the row over all forms last."""
    aims = frozenset(layout.course.protocol.aims)
    return exposures_of(intakes(layout), materia_medica, aims, layout.course.client.born)


def exposures_of(
    taken: Iterable[Intake],
    materia_medica: MateriaMedica,
    aims: frozenset[str] = frozenset(),
    born: date | None = None,
) -> tuple[Exposure, ...]:
    """The rows of these intakes, taken for these actions by somebody born on a day.

    What a child takes is compared with what is published for its age alone.
    """
    rows: list[Exposure] = []
    for months, taken_then in by_age(taken, materia_medica, born):
        by_herb: dict[str, list[Intake]] = {}
        for intake in taken_then:
            by_herb.setdefault(intake.herb, []).append(intake)
        kinds = ((by_herb[herb], _Ranges(herb, materia_medica, aims, months)) for herb in by_herb)
        rows += (row for taken_of, ranges in kinds for row in _herb_rows(taken_of, ranges))
    order = (*_FORMS, None)
    return tuple(sorted(rows, key=lambda r: (r.span, r.herb, order.index(r.form))))


def remedy_exposures(
    remedy: Remedy, directions: Directions, day: ClientDay, materia_medica: MateriaMedica
) -> tuple[Exposure, ...]:
    """The rows of one remedy by itself, on a day on which it is taken so."""
    return exposures_of(intakes_of_a_day(remedy, directions, day), materia_medica)


@dataclass(frozen=True, slots=True)
class _Ranges:
    """A herb, and where its ranges come from; `child` is a child's age in completed months."""

    herb: str
    materia_medica: MateriaMedica
    aims: frozenset[str]
    child: int | None = None

    def of(self, form: TakenAs, ratio: Fraction | None) -> WorkingRange | NoRange:
        """The range of a form, or why there is none."""
        known = self.materia_medica.herb(self.herb)
        if known is None:
            return NoRange(f"no range is recorded for it as {form}")
        if self.child is not None:
            published = self.materia_medica.child_doses.get(self.herb, ())
            return child_range(published, form, self.child)
        return range_or_reason(known, form, ratio, self.aims)


def _herb_rows(taken: list[Intake], ranges: _Ranges) -> Iterator[Exposure]:
    known_rows: _KnownRows = {}
    forms = sorted({intake.key.form for intake in taken}, key=_FORMS.index)
    for form in forms:
        one_form = _falling_runs([intake for intake in taken if intake.key.form is form])
        yield from _joined(_row(run, ranges, known_rows) for run in one_form)
    if len(forms) > 1:
        several = (run for run in _falling_runs(taken) if len({key.form for key in run[1]}) > 1)
        yield from _joined(_row(run, ranges, known_rows) for run in several)


_KnownRows = dict[tuple[object, ...], tuple[State, Exposure]]


def _row(run: tuple[Span, State], ranges: _Ranges, known_rows: _KnownRows) -> Exposure:
    """The row of a run; periods on that are alike are worked out once.

    Amounts are told apart by identity, which holds as long as their states are kept here.
    """
    span, state = run
    # A cycle of weeks on and off repeats the same few states dozens of times, and adding up
    # fractions is what costs. Identity is enough to know them again: a line's amounts are made
    # once, and equal amounts of other lines would only be worked out twice.
    amounts = ((key, id(amount)) for key, amount in state.items())
    known = (span if span.days < period(state) else None, *amounts)
    if known not in known_rows:
        limits = _limits(state, ranges)
        make = _form_row if len(limits) == 1 else _total_row
        known_rows[known] = state, make(span, ranges.herb, state, limits)
    row = known_rows[known][1]
    return row if row.span == span else replace(row, span=span)


def _joined(rows: Iterable[Exposure]) -> Iterator[Exposure]:
    """Rows that meet and say the same as one; days counted from an anchor are not joined."""
    joined_row: Exposure | None = None
    for row in rows:
        meets = joined_row is not None and joined_row.span.end == row.span.first
        counted = row.days is not None and row.days.every > 1
        if joined_row and meets and not counted and replace(joined_row, span=row.span) == row:
            joined_row = replace(joined_row, span=Span(joined_row.span.first, row.span.end))
        else:
            if joined_row:
                yield joined_row
            joined_row = row
    if joined_row:
        yield joined_row


def _falling_runs(taken: list[Intake]) -> Iterator[tuple[Span, State]]:
    """The runs, with what has a day in them; none without."""
    for span, state in runs(taken):
        taken_then = falling(state, span)
        if taken_then:
            yield from_day_taken(taken_then, span), taken_then


_Limits = Mapping[TakenAs, WorkingRange | NoRange]


def _limits(state: State, ranges: _Ranges) -> _Limits:
    """The range of each form; with several ratios the lowest of theirs, if each has one."""
    of_forms: dict[TakenAs, WorkingRange | NoRange] = {}
    for form in {key.form for key in state}:
        ratios = {r for key, amount in state.items() if key.form is form for r in amount.ratios}
        each = [ranges.of(form, ratio) for ratio in sorted(ratios, key=lambda r: r or 0)]
        missing = next((limit for limit in each if isinstance(limit, NoRange)), None)
        given = [limit for limit in each if isinstance(limit, WorkingRange)]
        of_forms[form] = missing or min(given, key=lambda limit: (limit.high, limit.low))
    return of_forms


def _rule(state: State) -> DayRule | None:
    """The rule that all of it follows; None where it differs."""
    filters = {key.days for key in state}
    return next(iter(filters)).rule if len(filters) == 1 else None


def _form_row(span: Span, herb: str, state: State, limits: _Limits) -> Exposure:
    (form, limit), *_ = limits.items()
    days = patterns(state, span)
    low = max(_total(state[key].low for key in keys) for keys in days)
    high = max(_total(state[key].high for key in keys) for keys in days)
    reasons = _reasons(state)
    band, fraction = Band.UNKNOWN, None
    held = limit if isinstance(limit, WorkingRange) else None
    if held:
        fraction = high / held.high
        band = band_of(
            low / held.high,
            fraction,
            held.low / held.high,
            over=high / held.over_from,
            ceiling=held.kind is RangeKind.CEILING,
        )
    if reasons and band is not Band.OVER:
        band = Band.UNKNOWN
    why = "; ".join([*reasons, limit.reason] if isinstance(limit, NoRange) else reasons)
    return Exposure(
        span=span,
        herb=herb,
        form=form,
        days=_rule(state),
        daily_low=None if reasons else low,
        daily_high=None if reasons else high,
        low=held.low if held else None,
        high=held.high if held else None,
        fraction_of_max=None if reasons else fraction,
        band=band,
        source=held.source if held else "",
        why=why,
        from_memory=bool(held and held.from_memory),
    )


def _total_row(span: Span, herb: str, state: State, limits: _Limits) -> Exposure:
    """The row over all forms, from sums of fractions."""
    ranges = {f: limit for f, limit in limits.items() if isinstance(limit, WorkingRange)}
    known = {
        key: _Part.of(amount.low, amount.high, ranges[key.form])
        for key, amount in state.items()
        if key.form in ranges
    }
    days = [[known[key] for key in keys] for keys in patterns(known, span)]
    most = max(_total(part.high for part in parts) for parts in days)
    low, least = max(_timed(parts) for parts in days)
    over = max(_total(part.over for part in parts) for parts in days)
    none = (limit for form in TakenAs if isinstance(limit := limits.get(form), NoRange))
    why = "; ".join([*_reasons(state), *dict.fromkeys(limit.reason for limit in none)])
    complete = not why
    ceiling = all(limit.kind is RangeKind.CEILING for limit in ranges.values())
    band = band_of(low, most, -least, over=over, ceiling=ceiling) if complete else Band.UNKNOWN
    return Exposure(
        span=span,
        herb=herb,
        form=None,
        days=_rule(state),
        daily_low=low if complete else None,
        daily_high=most if complete else None,
        low=-least if complete else None,
        high=ONE if complete else None,
        fraction_of_max=most if complete else None,
        band=Band.OVER if over > 1 else band,
        source="; ".join(f"{form}: {ranges[form].source}" for form in TakenAs if form in ranges),
        why=why,
        from_memory=any(limit.from_memory for limit in ranges.values()),
    )


class _Part(NamedTuple):
    """An amount in one form, timed and at most, and its range's minimum; all ÷ its maximum.

    `over` is the most ÷ what it is over from.
    """

    low: Fraction
    high: Fraction
    least: Fraction
    over: Fraction

    @classmethod
    def of(cls, low: Fraction, high: Fraction, limit: WorkingRange) -> _Part:
        """An amount as parts of a range."""
        most = limit.high
        return cls(low / most, high / most, limit.low / most, high / limit.over_from)


def _timed(parts: list[_Part]) -> tuple[Fraction, Fraction]:
    """The sum f of the timed fractions, and −m: m is their weighted minimum.

    m is told as its negative, so that of days equally full the one with the least m is the
    greatest. Where nothing is timed every form weighs the same.
    """
    # max() over the days takes the largest f and, among equals, the largest −m: the day that lies
    # highest in the range, since the position (f − m) ÷ (1 − m) grows as m falls.
    whole = _total(part.low for part in parts)
    if whole:
        return whole, -_total(part.low * part.least for part in parts) / whole
    return ZERO, -_total(part.least for part in parts) / (len(parts) or 1)


def _total(values: Iterable[Fraction]) -> Fraction:
    return sum(values, ZERO)


def _reasons(state: State) -> list[str]:
    return sorted({reason for amount in state.values() for reason in amount.unknown})
