"""Ethanol in what a client takes.

The strength of a blend is the volume-weighted mean of its parts. Mixing ethanol and water
shrinks the volume, by under 4 %, which is left out: the true strength of a blend of unlike
strengths is a little higher. Grams are mL × strength × 0.78924 g/mL, the density of ethanol at
20 °C (OIML R 22). Rubs are not taken and so not counted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from sennight.domain.courses.protocols import Ceiling
from sennight.domain.courses.sharing import Offer, greatest_day, shared_ceilings
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.directions import Directions
from sennight.domain.exposure.contraction import Blend, blended
from sennight.domain.kept import kept
from sennight.domain.remedies.contents import millilitres, shares
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import Form, composition_of, is_taken_by_mouth
from sennight.domain.remedies.remedies import Remedy

GRAMS_PER_ML = Fraction(78924, 100_000)
"""Density of ethanol at 20 °C, OIML R 22 (Council Directive 76/766/EEC)."""

WATER = "water"
"""What a base is called of which the tables of ethanol and water hold."""

CONTRACTION = "volume lost on mixing (under 4 %) is not counted"
"""To be said wherever a strength is shown."""


@dataclass(frozen=True, slots=True)
class EthanolRow:
    """The ethanol of one remedy on a run of days, on those of them on which it is taken.

    `strength` is in % v/v, `per_dose` and `per_day_high` in grams; the latter counts the timed
    doses and the most that is taken as needed. None where they are not known. `if_flare` is the
    rescue phase that the row stands for, where no flare has called that yet.
    """

    span: Span
    remedy: str
    strength: Fraction | None
    per_dose: Fraction | None
    per_day_high: Fraction | None
    if_flare: str = ""
    offer: Offer | None = None
    """The doses of a day and the ceilings that they share; None where grams are not known."""


@kept(256)
def strength(remedy: Remedy) -> Fraction | None:
    """% v/v of a liquid, what it is thinned with counted as 0 %.

    None for what is no liquid, or where the ethanol or the parts of one herb are not said.
    """
    if composition_of(remedy.form) is not Composition.BY_VOLUME:
        return None
    if not remedy.form.facts.has_ethanol:
        return Fraction(0)
    total = Fraction(0)
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        if ingredient.ethanol is None or share is None:
            return None
        total += ingredient.ethanol * share
    return total


def mixed(remedy: Remedy) -> Blend | None:
    """What 100 mL of a liquid's parts come to once they are mixed, contraction counted.

    None where that cannot be told from the tables of ethanol and water: the strength is not
    known, or it is thinned with something other than water.
    """
    base = remedy.base
    in_water = base is None or not base.parts or base.name.strip().lower() == WATER
    if strength(remedy) is None or not in_water or not remedy.ingredients:
        return None
    known = [share or Fraction(0) for share in shares(remedy)]
    strengths = [ingredient.ethanol or Fraction(0) for ingredient in remedy.ingredients]
    parts = [(share * 100, percent) for share, percent in zip(known, strengths, strict=True)]
    rest = 100 - sum((ml for ml, _ in parts), Fraction(0))
    return blended([*parts, (rest, Fraction(0))])


def has_drunk_ethanol(form: Form) -> bool:
    """Whether a form brings ethanol that is drunk: not what is on the skin or spat out."""
    return is_taken_by_mouth(form) and form.facts.has_ethanol


def grams(ml: Fraction, percent: Fraction) -> Fraction:
    """Grams of ethanol in so many mL of a strength in % v/v."""
    return ml * percent / 100 * GRAMS_PER_ML


@kept(8)
def ethanol_rows(layout: Layout) -> tuple[EthanolRow, ...]:
    """Every tincture's ethanol, in the stretches' order, runs that are alike made one."""
    rows: list[EthanolRow] = []
    last: dict[str, int] = {}
    for stretch in layout.stretches:
        formula = layout.course.remedy(stretch.formula)
        if not has_drunk_ethanol(formula.form):
            continue
        row = _row(stretch, formula, layout.course.protocol.ceilings)
        n = last.get(stretch.remedy)
        if n is not None and replace(rows[n], span=row.span) == row and _meet(rows[n], row):
            rows[n] = replace(row, span=Span(rows[n].span.first, row.span.end))
        else:
            last[stretch.remedy] = len(rows)
            rows.append(row)
    return tuple(rows)


def _meet(earlier: EthanolRow, later: EthanolRow) -> bool:
    return earlier.span.end == later.span.first


def grams_per_dose(remedy: Remedy, stretch: Stretch) -> Fraction | None:
    """Grams of ethanol in one dose, the most of a range; None where none is drunk or known."""
    return _grams_per_dose(remedy, stretch.directions)


@kept(256)
def _grams_per_dose(remedy: Remedy, directions: Directions) -> Fraction | None:
    percent = strength(remedy) if has_drunk_ethanol(remedy.form) else None
    ml = millilitres(remedy, directions.largest, directions.unit)
    return None if percent is None or ml is None else grams(ml, percent)


def _row(stretch: Stretch, formula: Remedy, ceilings: tuple[Ceiling, ...]) -> EthanolRow:
    percent, dose = strength(formula), grams_per_dose(formula, stretch)
    if dose is None:
        return EthanolRow(stretch.span, stretch.remedy, percent, None, None)
    timed = len(stretch.times)
    most = timed + (stretch.as_needed_max or 0)
    offer = Offer(stretch.remedy, timed, most, dose, shared_ceilings(ceilings, stretch.remedy))
    return EthanolRow(stretch.span, stretch.remedy, percent, dose, dose * most, offer=offer)


@dataclass(frozen=True, slots=True)
class EthanolDay:
    """The most grams of ethanol in a day, over all remedies, on a run of days.

    Remedies taken on different days of the run count together, so it may overstate, never
    understate; a ceiling that remedies share is kept. None where one remedy's ethanol is not
    known.
    """

    span: Span
    grams_high: Fraction | None


def ethanol_days(rows: tuple[EthanolRow, ...]) -> Iterator[EthanolDay]:
    """The runs of days with ethanol, in order."""
    edges = sorted({edge for row in rows for edge in (row.span.first, row.span.end)})
    for first, end in pairwise(edges):
        offers = [row.offer for row in rows if row.span.first <= first < row.span.end]
        if offers:
            known = [offer for offer in offers if offer is not None]
            total = greatest_day(known) if len(known) == len(offers) else None
            yield EthanolDay(Span(first, end), total)
