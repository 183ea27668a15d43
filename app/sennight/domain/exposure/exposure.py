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

from collections.abc import Iterable
from datetime import date

from sennight.domain.courses.stretches import Layout
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions
from sennight.domain.exposure.ages import by_age
from sennight.domain.exposure.herb_rows import known_herbs
from sennight.domain.exposure.intakes import intakes, intakes_of_a_day
from sennight.domain.exposure.rows import Exposure
from sennight.domain.exposure.runs import Intake
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.kept import kept
from sennight.domain.remedies.remedies import Remedy

__all__ = ["Exposure", "exposures", "exposures_of", "remedy_exposures"]

_FORMS = tuple(TakenAs)


@kept(4)
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
    known, rows = known_herbs(materia_medica), list[Exposure]()
    for months, taken_then in by_age(taken, materia_medica, born):
        by_herb: dict[str, list[Intake]] = {}
        for intake in taken_then:
            by_herb.setdefault(intake.herb, []).append(intake)
        for herb, taken_of in by_herb.items():
            rows += known.herb(herb, aims, months).rows_of(taken_of)
    return tuple(sorted(rows, key=_order))


def _order(row: Exposure) -> tuple[date, date, str, int]:
    place = len(_FORMS) if row.form is None else _FORMS.index(row.form)
    return row.span.first, row.span.end, row.herb, place


def remedy_exposures(
    remedy: Remedy, directions: Directions, day: ClientDay, materia_medica: MateriaMedica
) -> tuple[Exposure, ...]:
    """The rows of one remedy by itself, on a day on which it is taken so."""
    return exposures_of(intakes_of_a_day(remedy, directions, day), materia_medica)
