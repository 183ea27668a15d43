"""Working ranges: which of a herb's published daily doses an amount is compared with.

Only rows taken by mouth that give a daily dose and are not doubted count, and of these only
rows whose dose can be told as grams: of dried herb for teas, powders and liquids, of extract for
extracts. So a dose in teaspoons of leaf, or in mg of a marker substance, gives no range; nor does
a liquid whose own ratio is not known, or that is weighed. Never is a range guessed from another
form.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from sennight.domain.herbs.doses import DoseRange, DoseRow, DoseUnit, Preparation, Route, TakenAs
from sennight.domain.herbs.herbs import Herb
from sennight.domain.herbs.sources import Basis, Origin, SourceKind

PREPARATIONS: dict[TakenAs, tuple[Preparation, ...]] = {
    TakenAs.TEA: (Preparation.INFUSION, Preparation.DECOCTION, Preparation.MACERATE),
    TakenAs.LIQUID: (Preparation.TINCTURE, Preparation.LIQUID_EXTRACT, Preparation.JUICE),
    TakenAs.POWDER: (Preparation.POWDER,),
    TakenAs.EXTRACT: (Preparation.DRY_EXTRACT,),
}
"""Which published forms each form is compared with."""

_TRUST = (SourceKind.OFFICIAL, SourceKind.TEXTBOOK, SourceKind.SECONDARY)
_ML = {DoseUnit.ML: Fraction(1), DoseUnit.TSP: Fraction(5), DoseUnit.DROP: Fraction(1, 20)}
"""mL of the published measures; a drop is 0.05 mL where no other size is said."""
_GRAMS = {DoseUnit.G: Fraction(1), DoseUnit.MG: Fraction(1, 1000)}


@dataclass(frozen=True, slots=True)
class WorkingRange:
    """A daily range in grams, both ends included, and the row that it was taken from."""

    low: Fraction
    high: Fraction
    row: DoseRow

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


@lru_cache(maxsize=1024)
def working_range(herb: Herb, form: TakenAs, ratio: Fraction | None = None) -> WorkingRange | None:
    """The range that a herb in one form is compared with; None where no row gives one.

    `ratio` is the ingredient's, in mL to 1 g of dried herb, for liquids. A range of the
    practice's own goes before all. Of the texts the best source wins: official and read,
    textbook and read, secondary and read, then memory, by the basis of the daily dose; among
    equals the row whose ratio is nearest on a log scale; then the lower maximum; then the lower
    minimum.
    """
    wanted = ratio if form is TakenAs.LIQUID else None
    return min(_ranges(herb, form), key=lambda one: _order(one, wanted), default=None)


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
    if daily.of:
        return None
    if form is not TakenAs.LIQUID:
        return _GRAMS.get(daily.unit)
    ml = _ML.get(daily.unit)
    return ml / row.ratio.made_per_herb if ml and row.ratio else None


def _order(one: WorkingRange, ratio: Fraction | None) -> tuple[int, Fraction, Fraction, Fraction]:
    return _distrust(one.row), _distance(one.row, ratio), one.high, one.low


def _distrust(row: DoseRow) -> int:
    kind = row.dose_from.source.kind
    if kind is SourceKind.OWN:
        return -1
    if row.daily_basis is Basis.READ and kind in _TRUST:
        return _TRUST.index(kind)
    return len(_TRUST)


def _distance(row: DoseRow, ratio: Fraction | None) -> Fraction:
    """How far two ratios are apart, as the greater over the less: the order of their logs."""
    if ratio is None or row.ratio is None:
        return Fraction(1)
    quotient = row.ratio.made_per_herb / ratio
    return max(quotient, 1 / quotient)
