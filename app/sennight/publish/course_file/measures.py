"""Measures of a course's own: what the client rates beside what is offered by name."""

from __future__ import annotations

from fractions import Fraction

from sennight.domain.follow_up.measures import Better, Measure, Measures, is_published
from sennight.publish.course_file.toml_values import table as toml_table
from sennight.toml_tables import NAME, TEXT, Table, number, one_of, whole

_SCALE = ("low", "high", "unit")
MOST = 1_000_000
"""The highest end of a scale."""


def read_measures(top: Table) -> Measures:
    """The course's own measures, each id once and none that is offered already."""
    measures: dict[str, Measure] = {}
    for table in top.tables("measure"):
        measure = _read(table)
        if is_published(measure.id):
            message = f"“{measure.id}” is already in use; expected an id of your own"
            table.report.add((*table.place, "id"), message)
        elif measure.id in measures and not table.report.has(*table.place):
            message = f"a second measure with the id “{measure.id}”; expected each id once"
            table.report.add((*table.place, "id"), message)
        measures.setdefault(measure.id, measure)
    return Measures(tuple(measures.values()))


def _read(table: Table) -> Measure:
    table.only("id", "name", "better", *_SCALE, "matters", "matters_percent", "source")
    measure_id = table.need("id", NAME)
    low = table.perhaps("low", whole(0, MOST)) or 0
    high = table.perhaps("high", whole(1, MOST)) or 10
    if low >= high:
        table.report.add((*table.place, "high"), f"expected a number above {low}, where it begins")
    return Measure(
        measure_id,
        table.perhaps("name", NAME) or measure_id,
        table.need("better", one_of(Better, Better.LESS)),
        low=Fraction(low),
        high=Fraction(high),
        unit=table.perhaps("unit", TEXT) or "",
        matters=table.perhaps("matters", number(0, MOST)),
        matters_percent=table.perhaps("matters_percent", number(0, 100)),
        source=table.perhaps("source", TEXT) or "",
    )


def measure_table(measure: Measure) -> str:
    """A measure as an entry of a course file."""
    return toml_table(
        "[[measure]]",
        id=measure.id,
        name=measure.name if measure.name != measure.id else None,
        better=measure.better,
        low=measure.low or None,
        high=measure.high,
        unit=measure.unit or None,
        matters=measure.matters,
        matters_percent=measure.matters_percent,
        source=measure.source or None,
    )
