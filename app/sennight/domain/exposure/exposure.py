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
- *fraction_of_max* is of `daily_high`, so that it passes 1 exactly where the band is `over`.
- *Liquids of several ratios* in one run are compared with the lowest of their ranges.
- *Unknown.* An amount that cannot be told, or a form with no range, makes the band unknown, and
  that of the row over all forms too; `why` says so. But what is known to be over stays over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import DayRule, Directions
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
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.ranges import WorkingRange, working_range
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
    return exposures_of(intakes(layout), materia_medica)


def exposures_of(taken: Iterable[Intake], materia_medica: MateriaMedica) -> tuple[Exposure, ...]:
    """The rows of these intakes."""
    by_herb: dict[str, list[Intake]] = {}
    for one in taken:
        by_herb.setdefault(one.herb, []).append(one)
    rows = [row for herb in by_herb for row in _herb_rows(herb, by_herb[herb], materia_medica)]
    order = (*_FORMS, None)
    return tuple(sorted(rows, key=lambda r: (r.span, r.herb, order.index(r.form))))


def remedy_exposures(
    remedy: Remedy, directions: Directions, day: ClientDay, materia_medica: MateriaMedica
) -> tuple[Exposure, ...]:
    """The rows of one remedy by itself, on a day on which it is taken so."""
    return exposures_of(intakes_of_a_day(remedy, directions, day), materia_medica)


def _herb_rows(
    herb: str, taken: list[Intake], materia_medica: MateriaMedica
) -> Iterator[Exposure]:
    made: _Made = {}
    forms = sorted({one.key.form for one in taken}, key=_FORMS.index)
    for form in forms:
        one_form = _falling_runs([one for one in taken if one.key.form is form])
        yield from _joined(_row(run, herb, materia_medica, made) for run in one_form)
    if len(forms) > 1:
        several = (run for run in _falling_runs(taken) if len({key.form for key in run[1]}) > 1)
        yield from _joined(_row(run, herb, materia_medica, made) for run in several)


_Made = dict[tuple[object, ...], tuple[State, Exposure]]


def _row(
    run: tuple[Span, State], herb: str, materia_medica: MateriaMedica, made: _Made
) -> Exposure:
    """The row of a run; periods on that are alike are worked out once.

    Amounts are told apart by identity, which holds as long as their states are kept here.
    """
    span, state = run
    amounts = ((key, id(amount)) for key, amount in state.items())
    known = (span if span.days < period(state) else None, *amounts)
    if known not in made:
        limits = _limits(herb, state, materia_medica)
        make = _form_row if len(limits) == 1 else _total_row
        made[known] = state, make(span, herb, state, limits)
    row = made[known][1]
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


_Limits = Mapping[TakenAs, WorkingRange | None]


def _limits(herb: str, state: State, materia_medica: MateriaMedica) -> _Limits:
    """The range of each form; with several ratios, the lowest of theirs."""
    known = materia_medica.herb(herb)
    found: dict[TakenAs, WorkingRange | None] = {}
    for form in {key.form for key in state}:
        ratios = {r for key, amount in state.items() if key.form is form for r in amount.ratios}
        each: Iterable[Fraction | None] = ratios or {None}
        given = (one for r in each if known and (one := working_range(known, form, r)))
        found[form] = min(given, key=lambda one: (one.high, one.low), default=None)
    return found


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
    if limit:
        fraction = high / limit.high
        band = band_of(low / limit.high, fraction, limit.low / limit.high)
    if reasons and band is not Band.OVER:
        band = Band.UNKNOWN
    why = "; ".join(reasons if limit else [*reasons, _no_range(form)])
    return Exposure(
        span=span,
        herb=herb,
        form=form,
        days=_rule(state),
        daily_low=None if reasons else low,
        daily_high=None if reasons else high,
        low=limit.low if limit else None,
        high=limit.high if limit else None,
        fraction_of_max=None if reasons else fraction,
        band=band,
        source=limit.source if limit else "",
        why=why,
        from_memory=bool(limit and limit.from_memory),
    )


def _total_row(span: Span, herb: str, state: State, limits: _Limits) -> Exposure:
    """The row over all forms, from sums of fractions."""
    ranges = {form: limit for form, limit in limits.items() if limit}
    known = {
        key: _Part(one.low / limit.high, one.high / limit.high, limit.low / limit.high)
        for key, one in state.items()
        if (limit := limits[key.form])
    }
    days = [[known[key] for key in keys] for keys in patterns(known, span)]
    most = max(_total(part.high for part in parts) for parts in days)
    low, least = max(_timed(parts) for parts in days)
    missing = [_no_range(form) for form in TakenAs if form in limits and not limits[form]]
    why = "; ".join([*_reasons(state), *missing])
    complete = not why
    band = band_of(low, most, -least) if complete else Band.UNKNOWN
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
        band=Band.OVER if most > 1 else band,
        source="; ".join(f"{form}: {ranges[form].source}" for form in TakenAs if form in ranges),
        why=why,
        from_memory=any(limit.from_memory for limit in ranges.values()),
    )


class _Part(NamedTuple):
    """An amount in one form, timed and at most, and its range's minimum; all ÷ its maximum."""

    low: Fraction
    high: Fraction
    least: Fraction


def _timed(parts: list[_Part]) -> tuple[Fraction, Fraction]:
    """The sum f of the timed fractions, and −m: m is their weighted minimum.

    m is told as its negative, so that of days equally full the one with the least m is the
    greatest. Where nothing is timed every form weighs the same.
    """
    whole = _total(part.low for part in parts)
    if whole:
        return whole, -_total(part.low * part.least for part in parts) / whole
    return ZERO, -_total(part.least for part in parts) / (len(parts) or 1)


def _total(values: Iterable[Fraction]) -> Fraction:
    return sum(values, ZERO)


def _reasons(state: State) -> list[str]:
    return sorted({reason for one in state.values() for reason in one.unknown})


def _no_range(form: TakenAs) -> str:
    return f"no range is recorded for it as {form}"
