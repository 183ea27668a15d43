"""Working ranges: which of a herb's published daily doses an amount is compared with.

Only rows taken by mouth that give a daily dose and are not doubted count, and of these only
rows whose dose can be told as grams: of dried herb for teas, powders and liquids, of extract for
extracts. So a dose in teaspoons of leaf, or in mg of a marker substance, gives no range; nor does
a liquid whose own ratio is not known, or that is weighed, unless the text gives the dried herb
that it stands for. Never is a range guessed from another
form: juice of the fresh plant is compared with juice alone, in mL, a liquid only with liquids of
at most twice or half its ratio, an extract only with extracts of about its drug-extract ratio.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import assert_never

from sennight.domain.herbs.doses import (
    DoseRange,
    DoseRow,
    DoseUnit,
    Preparation,
    Ratio,
    Route,
    TakenAs,
)
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.sources import Basis, Origin, SourceKind

PREPARATIONS: dict[TakenAs, tuple[Preparation, ...]] = {
    TakenAs.TEA: (Preparation.INFUSION, Preparation.DECOCTION, Preparation.MACERATE),
    TakenAs.LIQUID: (Preparation.TINCTURE, Preparation.LIQUID_EXTRACT),
    TakenAs.JUICE: (Preparation.JUICE,),
    TakenAs.POWDER: (Preparation.POWDER, Preparation.WHOLE_SEED),
    TakenAs.EXTRACT: (Preparation.DRY_EXTRACT,),
    TakenAs.SUBSTANCE: (Preparation.SUBSTANCE,),
}
"""Which published forms each form is compared with."""

FARTHEST_RATIO = 2
"""How many times as strong or weak as an ingredient a liquid may be that it is compared with."""
FARTHEST_EXTRACT = Fraction(5, 4)
"""The same for dry extracts, from the ends of the span that a text gives."""
OVER_A_DOSE = Fraction(3, 2)
"""A single figure is a dose, not a limit: only so many times as much is over it."""

HERB_ITSELF = "herb equivalent"
"""What a dose of a liquid counts where it is told as grams of the dried herb in it."""

_TRUST = (SourceKind.OFFICIAL, SourceKind.TEXTBOOK, SourceKind.SECONDARY)
_ML = {DoseUnit.ML: Fraction(1), DoseUnit.TSP: Fraction(5), DoseUnit.DROP: Fraction(1, 20)}
"""mL of the published measures; a drop is 0.05 mL where no other size is said."""
_GRAMS = {DoseUnit.G: Fraction(1), DoseUnit.MG: Fraction(1, 1000)}
_ANY: frozenset[str] = frozenset()


class RangeKind(StrEnum):
    """What a published daily dose says: from less to more, one figure, or no more than."""

    RANGE = "range"
    DOSE = "dose"
    CEILING = "ceiling"


class Reservation(StrEnum):
    """Why a range is no ground to prescribe by, unless that is said first."""

    NOT_CHECKED = "not yet checked"
    SINGLE_FIGURE = "single figure"
    MORE_MILLILITRES = "more mL than the source gives"


@dataclass(frozen=True, slots=True)
class WorkingRange:
    """A daily range in grams, both ends included, and the row that it was taken from."""

    low: Fraction
    high: Fraction
    row: DoseRow

    @property
    def kind(self) -> RangeKind:
        """Whether it is a range, one figure or a ceiling."""
        if self.low == self.high:
            return RangeKind.DOSE
        return RangeKind.RANGE if self.low else RangeKind.CEILING

    @property
    def over_from(self) -> Fraction:
        """Grams a day above which an amount is over it."""
        return self.high * OVER_A_DOSE if self.kind is RangeKind.DOSE else self.high

    @property
    def most_ml(self) -> Fraction | None:
        """The most mL a day that the row itself gives; None where it is no volume."""
        daily = self.row.daily
        size = _ML.get(daily.unit) if daily else None
        return daily.high * size if daily and size and self.row.ratio else None

    @property
    def from_memory(self) -> bool:
        """Whether the daily dose was remembered, not read; to be shown wherever it is."""
        return self.row.daily_basis is not Basis.READ

    @property
    def is_own(self) -> bool:
        """Whether it is the practice's own, not a published one; to be shown wherever it is."""
        return self.row.dose_from.source.kind is SourceKind.OWN

    @property
    def source(self) -> str:
        """The text that gives it, marked where the daily dose is not yet checked."""
        return str(Origin(self.row.dose_from.source, self.row.daily_basis or Basis.MEMORY))

    def reservations(self, ml_a_day: Fraction | None = None) -> tuple[Reservation, ...]:
        """What is to be said before anything is prescribed by it, so many mL a day with it."""
        reservations = []
        if self.from_memory:
            reservations.append(Reservation.NOT_CHECKED)
        if self.kind is RangeKind.DOSE:
            reservations.append(Reservation.SINGLE_FIGURE)
        if ml_a_day is not None and self.most_ml is not None and ml_a_day > self.most_ml:
            reservations.append(Reservation.MORE_MILLILITRES)
        return tuple(reservations)


@dataclass(frozen=True, slots=True)
class NoRange:
    """Why an amount is compared with nothing, in words that follow a comma or stand alone."""

    reason: str


def working_range(
    herb: Herb, form: TakenAs, ratio: Fraction | None = None, aims: Iterable[str] = _ANY
) -> WorkingRange | None:
    """The range that a herb in one form is compared with; None where no row gives one.

    See `range_or_reason`.
    """
    outcome = range_or_reason(herb, form, ratio, frozenset(aims))
    return outcome if isinstance(outcome, WorkingRange) else None


@lru_cache(maxsize=2048)
def range_or_reason(
    herb: Herb, form: TakenAs, ratio: Fraction | None = None, aims: frozenset[str] = _ANY
) -> WorkingRange | NoRange:
    """The range that a herb in one form is compared with, or why there is none.

    `ratio` is the ingredient's, mL to 1 g of dried herb for liquids (None: any) and g to 1 g for
    extracts; `aims` are the actions that the herb is given for. A range of the practice's own
    goes before all. Of the texts, those that give a dose for one of these aims, where there are
    any; of these the best source wins: official and read, textbook and read, secondary and read,
    then memory, by the basis of the daily dose; among equals the row whose ratio is nearest on a
    log scale; then the lower maximum; then the lower minimum.
    """
    every = list(_ranges(herb, form))
    near = [candidate for candidate in every if _is_near(candidate.row, form, ratio)]
    if not near:
        return NoRange(_why_none(form, ratio, held=bool(every)))
    return min(_for_aims(near, aims), key=lambda candidate: _order(candidate, ratio))


@lru_cache(maxsize=1024)
def widest_range(herb: Herb, form: TakenAs) -> WorkingRange | None:
    """The range of a form that allows most, for whatever purpose and of whatever ratio."""
    return max(_ranges(herb, form), key=lambda candidate: candidate.over_from, default=None)


def form_recorded(herb: Herb, form: TakenAs) -> bool:
    """Whether any text gives the herb by mouth in this form, with a dose or without."""
    return any(row.form in PREPARATIONS[form] and row.route is Route.ORAL for row in herb.doses)


def _for_aims(candidates: list[WorkingRange], aims: frozenset[str]) -> list[WorkingRange]:
    """The rows for one of the aims; without them those for any purpose; else all."""
    named = [candidate for candidate in candidates if aims.intersection(candidate.row.purposes)]
    if not aims or named:
        return named or candidates
    return [candidate for candidate in candidates if not candidate.row.purposes] or candidates


def _ranges(herb: Herb, form: TakenAs) -> Iterator[WorkingRange]:
    for row in herb.doses:
        if row.daily and _counts(row, form):
            grams = _grams_per_unit(row, row.daily, form)
            if grams is not None and row.daily.high > 0:
                yield WorkingRange(row.daily.low * grams, row.daily.high * grams, row)


def _counts(row: DoseRow, form: TakenAs) -> bool:
    return row.form in PREPARATIONS[form] and row.route is Route.ORAL and not row.doubted


def _grams_per_unit(row: DoseRow, daily: DoseRange, form: TakenAs) -> Fraction | None:
    """Grams to one of a row's units; None where that cannot be told."""
    if daily.of == HERB_ITSELF and form is TakenAs.LIQUID:
        return _GRAMS.get(daily.unit)
    if daily.of:
        return None
    ml = _ML.get(daily.unit)
    match form:
        case TakenAs.TEA | TakenAs.POWDER | TakenAs.EXTRACT | TakenAs.SUBSTANCE:
            return _GRAMS.get(daily.unit)
        case TakenAs.JUICE:
            return ml
        case TakenAs.LIQUID:
            return ml / row.ratio.made_per_herb if ml and row.ratio else None
        case _:
            assert_never(form)


def _is_near(row: DoseRow, form: TakenAs, ratio: Fraction | None) -> bool:
    """Whether a row's ratio is near enough to an ingredient's to be compared with it."""
    match form:
        case TakenAs.TEA | TakenAs.POWDER | TakenAs.JUICE | TakenAs.SUBSTANCE:
            return True
        case TakenAs.LIQUID:
            return ratio is None or _distance(row, ratio) <= FARTHEST_RATIO
        case TakenAs.EXTRACT:
            own = row.dose_from.source.kind is SourceKind.OWN
            return own or bool(ratio and row.ratio and _is_like_extract(row.ratio, ratio))
        case _:
            assert_never(form)


def _is_like_extract(span: Ratio, ratio: Fraction) -> bool:
    least, most = span.made[0] / span.herb[1], span.made[1] / span.herb[0]
    return least / FARTHEST_EXTRACT <= ratio <= most * FARTHEST_EXTRACT


def _why_none(form: TakenAs, ratio: Fraction | None, *, held: bool) -> str:
    if not held:
        return f"no range is recorded for it as {form}"
    if form is TakenAs.LIQUID:
        return "no range is recorded for it as a liquid of about this ratio"
    if ratio is None:
        return "the drug-extract ratio is not recorded, so no range of extracts can be compared"
    return "no range is recorded for it as an extract of about this drug-extract ratio"


def _order(
    candidate: WorkingRange, ratio: Fraction | None
) -> tuple[int, Fraction, Fraction, Fraction]:
    return _distrust(candidate.row), _distance(candidate.row, ratio), candidate.high, candidate.low


def _distrust(row: DoseRow) -> int:
    kind = row.dose_from.source.kind
    if kind is SourceKind.OWN:
        return -1
    if row.daily_basis is Basis.READ and kind in _TRUST:
        return _TRUST.index(kind)
    return len(_TRUST)


def _distance(row: DoseRow, ratio: Fraction | None) -> Fraction:
    """How far two ratios are apart, as the greater over the less: the order of their logs."""
    if row.ratio is None and row.daily and row.daily.of == HERB_ITSELF:
        return Fraction(FARTHEST_RATIO)  # of any ratio: a text on one that is near goes before it
    if ratio is None or row.ratio is None:
        return Fraction(1)
    quotient = row.ratio.made_per_herb / ratio
    return max(quotient, 1 / quotient)
