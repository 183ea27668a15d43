"""One row of exposure: what a state of a herb's amounts comes to against its ranges."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from sennight.domain.dates import Span
from sennight.domain.directions.directions import DayRule
from sennight.domain.exposure.bands import Band, band_of
from sennight.domain.exposure.runs import State, greatest, patterns
from sennight.domain.herbs.child_doses import child_range
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.herbs.ranges import NoRange, RangeKind, WorkingRange, range_or_reason

ZERO, ONE = Fraction(0), Fraction(1)


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


@dataclass(frozen=True, slots=True)
class Ranges:
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


def row_of(span: Span, state: State, ranges: Ranges) -> Exposure:
    """The row of a herb's state on a run of days: of its one form, or over all of them."""
    limits = _limits(state, ranges)
    make = _form_row if len(limits) == 1 else _total_row
    return make(span, ranges.herb, state, limits)


_Limits = Mapping[TakenAs, WorkingRange | NoRange]


def _limits(state: State, ranges: Ranges) -> _Limits:
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
    high = max(greatest((state[key], ONE) for key in keys) for keys in days)
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
        key: _Part.of(amount.low, ranges[key.form])
        for key, amount in state.items()
        if key.form in ranges
    }
    days = patterns(known, span)
    most = max(greatest((state[k], 1 / ranges[k.form].high) for k in keys) for keys in days)
    low, least = max(_timed([known[key] for key in keys]) for keys in days)
    over = max(greatest((state[k], 1 / ranges[k.form].over_from) for k in keys) for keys in days)
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
    """What is timed of one form, and its range's minimum; both ÷ its maximum."""

    low: Fraction
    least: Fraction

    @classmethod
    def of(cls, low: Fraction, limit: WorkingRange) -> _Part:
        """An amount as parts of a range."""
        return cls(low / limit.high, limit.low / limit.high)


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
