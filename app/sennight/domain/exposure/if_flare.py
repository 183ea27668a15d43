"""What flare-up plans that no flare has called yet would give on a day, if they began then."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from sennight.domain.courses.possible_flares import PossibleFlare, possible_flares
from sennight.domain.courses.stretches import Layout
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.ethanol import EthanolRow, ethanol_rows
from sennight.domain.exposure.exposure import Exposure, exposures
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica

_GRAVEST = (Band.OVER, Band.UNKNOWN)


def exposures_if_flare(layout: Layout, materia_medica: MateriaMedica) -> tuple[Exposure, ...]:
    """A row for each herb and form of each plan, that of the fullest day."""
    return tuple(
        row
        for flare in possible_flares(layout)
        for row in _fullest(flare, exposures(flare.any_day, materia_medica))
    )


def _fullest(flare: PossibleFlare, rows: Iterable[Exposure]) -> Iterable[Exposure]:
    course = flare.any_day.course
    held = {ingredient.herb for r in flare.remedies for ingredient in course.remedy(r).ingredients}
    fullest: dict[tuple[str, TakenAs | None], Exposure] = {}
    for row in rows:
        if row.herb in held:
            key = row.herb, row.form
            fullest[key] = max(fullest.get(key, row), row, key=_fullness)
    return (replace(row, if_flare=flare.phase.id) for row in fullest.values())


def _fullness(row: Exposure) -> tuple[bool, bool, Fraction]:
    """Over comes before unknown, unknown before what is known; then by the day's most."""
    over, unknown = (row.band is band for band in _GRAVEST)
    return over, unknown, row.daily_high or Fraction(0)


def ethanol_if_flare(layout: Layout) -> tuple[EthanolRow, ...]:
    """The ethanol of the tinctures of each plan."""
    return tuple(
        replace(row, if_flare=flare.phase.id)
        for flare in possible_flares(layout)
        for row in ethanol_rows(flare.any_day)
        if row.remedy in flare.remedies
    )
