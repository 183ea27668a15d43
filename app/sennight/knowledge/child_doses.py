"""Reads what is published of herbs for children."""

from __future__ import annotations

from collections.abc import Mapping

from sennight.domain.herbs.doses import ChildDose, DoseRange, DoseRow, DoseUnit, Preparation, Route
from sennight.knowledge.materia_medica_facts import AMOUNT, Facts, read_source
from sennight.toml_tables import TEXT, Table, flag, number, one_of

_YEARS = number(0, 18, from_there=True)


def read_child_doses(table: Table, _file: str) -> Mapping[str, tuple[ChildDose, ...]]:
    """The doses of a table, by the herbs' ids."""
    table.only("dose", "source")
    sources = tuple(read_source(source) for source in table.tables("source", needed=True))
    facts = Facts({source.id: source for source in sources})
    doses: dict[str, tuple[ChildDose, ...]] = {}
    for number_, row in enumerate(table.tables("dose", needed=True), 1):
        row.only("herb", "age", "form", "daily", "worked_out", "source", "basis", of="a dose")
        herb = row.need("herb", TEXT)
        doses[herb] = (*doses.get(herb, ()), _dose(row, facts, f"child-{number_}"))
    return doses


def _dose(table: Table, facts: Facts, name: str) -> ChildDose:
    age, daily, origin = table.table("age"), table.table("daily"), facts.origin(table)
    age.only("from", "below")
    daily.only("min", "max", "unit")
    row = DoseRow(
        id=name,
        form=table.need("form", one_of(Preparation, Preparation.INFUSION)),
        route=Route.ORAL,
        made_from=origin,
        dose_from=origin,
        daily=DoseRange(
            daily.need("min", AMOUNT),
            daily.need("max", AMOUNT),
            daily.need("unit", one_of(DoseUnit, DoseUnit.G)),
        ),
        daily_basis=origin.basis,
        worked_out=table.may("worked_out", flag(), default=False),
    )
    return ChildDose(int(age.need("from", _YEARS) * 12), int(age.need("below", _YEARS) * 12), row)
