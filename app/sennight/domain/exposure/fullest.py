"""Of some days, the fullest of each herb: what a summary of a phase shows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sennight.domain.dates import Span
from sennight.domain.exposure.bands import Band
from sennight.domain.exposure.exposure import Exposure

GRAVEST_FIRST = (
    *(Band.OVER, Band.BELOW, Band.UNKNOWN, Band.HIGH, Band.LOW, Band.MIDDLE, Band.UP_TO),
)
"""The bands in the order in which the herbs of a day are listed: first what wants a look."""


def fullest(rows: Iterable[Exposure], spans: Sequence[Span]) -> tuple[Exposure, ...]:
    """For each herb and form the row with the most of it on these days, the gravest first."""
    best: dict[tuple[str, str], Exposure] = {}
    for row in rows:
        if any(row.span.touches(span) for span in spans):
            key = row.herb, str(row.form)
            if key not in best or _most(row) > _most(best[key]):
                best[key] = row
    return tuple(sorted(best.values(), key=lambda row: (GRAVEST_FIRST.index(row.band), row.herb)))


def _most(row: Exposure) -> float:
    """How full a row is, to compare by alone; what is not known comes last."""
    return -1.0 if row.fraction_of_max is None else float(row.fraction_of_max)
