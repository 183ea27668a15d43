"""Which actions a course's phases bear, how heavily, and which of the wanted ones are missing.

An action's weight in a phase is the sum, over the remedies taken in it and their herbs that
have the action, of the herb's share of the formula times the weight of its band. There is no
published rule for this: the weights are the project's own, made so that a herb far below its
range counts half. A herb's band in a phase is the highest that it reaches in it; where none can
be told (no range, or a rub, which is not counted) it weighs as little as one below its range,
since nothing says that it is enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from sennight.domain.courses.possible_flares import possible_flares
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.kept import kept
from sennight.domain.remedies.contents import shares
from sennight.domain.remedies.remedies import Remedy

BAND_WEIGHTS: Mapping[Band, Fraction] = {
    Band.UNKNOWN: Fraction(1, 2),
    Band.UP_TO: Fraction(1, 2),
    Band.BELOW: Fraction(1, 2),
    Band.LOW: Fraction(3, 4),
    Band.MIDDLE: Fraction(1),
    Band.HIGH: Fraction(1),
    Band.OVER: Fraction(1),
}
"""The more of its range a herb reaches, the more it counts; more than enough counts no more."""

_RISING = tuple(BAND_WEIGHTS)
HEAVY_HERBS = 3
HEAVY_PART = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Coverage:
    """One action in one phase; `remedies` and `herbs` are those that bear it, in order.

    `heavy` says that three herbs or more bear it, and over half of all that the phase's herbs
    weigh together. Neither figure is a published limit.
    """

    phase: str
    action: str
    wanted: bool
    weight: Fraction
    remedies: tuple[str, ...]
    herbs: tuple[str, ...]
    heavy: bool = False

    @property
    def is_gap(self) -> bool:
        """Whether it is wanted and nothing in the phase bears it."""
        return self.wanted and not self.remedies


def coverage(
    layout: Layout, rows: Iterable[Exposure], materia_medica: MateriaMedica
) -> tuple[Coverage, ...]:
    """Every phase's actions: the wanted ones in their order, then the others, heaviest first.

    `rows` are the layout's exposures. Phases come in order, then those of flares; then, where
    rows for them are among those given, the flare-up plans that no flare has called yet.
    """
    every = tuple(rows)
    exposed = tuple(row for row in every if not row.if_flare)
    runs: dict[str, list[Span]] = {}
    for run in (*layout.phases, *layout.flares):
        runs.setdefault(run.phase.id, []).append(run.span)
    covered = [
        row
        for phase, spans in runs.items()
        for row in _phase_rows(phase, layout, _bands(exposed, spans), materia_medica)
    ]
    for flare in possible_flares(layout):
        own = tuple(row for row in every if row.if_flare == flare.phase.id)
        if own:
            bands = _bands(own, [layout.days])
            covered += _phase_rows(flare.phase.id, flare.any_day, bands, materia_medica)
    return tuple(covered)


def _bands(rows: tuple[Exposure, ...], spans: list[Span]) -> dict[str, Band]:
    """The highest band that each herb reaches on these days, in any form or over all."""
    bands: dict[str, Band] = {}
    for row in rows:
        if any(row.span.touches(span) for span in spans):
            bands[row.herb] = max(bands.get(row.herb, row.band), row.band, key=_RISING.index)
    return bands


@dataclass(slots=True)
class _Borne:
    """What bears an action, while it is added up."""

    weight: Fraction
    remedies: dict[str, None]
    herbs: dict[str, None]


_Formulas = tuple[tuple[str, Remedy], ...]
_KnownPhases = dict[str, tuple[_Formulas, Mapping[str, Band], tuple[Coverage, ...]]]


@kept(4)
def _known_phases(_aims: tuple[str, ...], _materia_medica: MateriaMedica) -> _KnownPhases:
    """What each phase was found to bear last: most edits leave most phases as they are."""
    return {}


def _phase_rows(
    phase: str, layout: Layout, bands: Mapping[str, Band], materia_medica: MateriaMedica
) -> tuple[Coverage, ...]:
    """What a phase bears, which follows from its formulas and their bands alone."""
    aims, formulas = layout.course.protocol.aims, _formulas(layout, phase)
    known = _known_phases(aims, materia_medica)
    found = known.get(phase)
    if found is None or found[:2] != (formulas, bands):
        rows = tuple(_rows(phase, formulas, bands, aims, materia_medica))
        found = known[phase] = formulas, bands, rows
    return found[2]


def _rows(
    phase: str,
    formulas: _Formulas,
    bands: Mapping[str, Band],
    aims: tuple[str, ...],
    materia_medica: MateriaMedica,
) -> Iterator[Coverage]:
    borne: dict[str, _Borne] = {}
    whole = Fraction(0)
    for remedy, formula in formulas:
        for herb_id, weight in _weights(formula, bands):
            whole += weight
            herb = materia_medica.herb(herb_id)
            for action in herb.actions.tags if herb else ():
                tally = borne.setdefault(action, _Borne(Fraction(0), {}, {}))
                tally.weight += weight
                tally.remedies[remedy] = tally.herbs[herb_id] = None
    others = sorted(borne.keys() - set(aims), key=lambda action: (-borne[action].weight, action))
    for action in dict.fromkeys((*aims, *others)):
        tally = borne.get(action, _Borne(Fraction(0), {}, {}))
        heavy = len(tally.herbs) >= HEAVY_HERBS and tally.weight > whole * HEAVY_PART
        yield Coverage(
            phase,
            action,
            action in aims,
            tally.weight,
            tuple(tally.remedies),
            tuple(tally.herbs),
            heavy,
        )


def _formulas(layout: Layout, phase: str) -> _Formulas:
    """The remedies taken in a phase at any time, in the course's order, each with its formulas."""
    order = [remedy.id for remedy in layout.course.remedies]
    taken = {(s.remedy, s.formula) for s in layout.stretches if s.phase == phase}
    ordered = sorted(taken, key=lambda pair: (order.index(pair[0]), order.index(pair[1])))
    return tuple((remedy, layout.course.remedy(formula)) for remedy, formula in ordered)


def _weights(remedy: Remedy, bands: Mapping[str, Band]) -> Iterator[tuple[str, Fraction]]:
    """Each ingredient's weight; a formula without parts is shared out evenly."""
    even = Fraction(1, len(remedy.ingredients) or 1)
    for ingredient, share in zip(remedy.ingredients, shares(remedy), strict=True):
        band = bands.get(ingredient.herb, Band.UNKNOWN)
        yield ingredient.herb, (even if share is None else share) * BAND_WEIGHTS[band]
