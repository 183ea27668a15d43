"""The decisions about findings in a course file, and what is struck out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from sennight.domain.courses.accepts import Accept, TakenThen
from sennight.domain.directions.directions import Unit
from sennight.toml_tables import DAY, LINE, NAME, PROSE, Table, number, one_of, read_value

VOID_KEYS = ("void", "void_on")
"""The keys of what was entered in error."""
_MOST = 100_000
_ID = r"[^\s;.]+(\.[^\s;.]+)+"
_CELL = re.compile(rf"{_ID}(; {_ID})+")
"""Several ids as a row of findings.csv lists them."""


def read_void(table: Table) -> str:
    """Why something was struck out; a day without a reason is noted."""
    why = table.may("void", PROSE, "")
    if "void_on" in table.data and not why and not table.report.has(*table.place, "void"):
        table.report.add((*table.place, "void"), "missing; expected why it was struck out")
    return why


def read_accepts(course: Table, key: str) -> tuple[Accept, ...]:
    """The decisions under a key, in the file's order.

    A cell of findings.csv may stand as it is: each of its ids is decided on.
    """
    return tuple(accept for table in course.tables(key) for accept in _each(table))


def _each(table: Table) -> Iterator[Accept]:
    decided = _accept(table)
    if not _CELL.fullmatch(decided.finding):
        yield decided
        return
    yield from (replace(decided, finding=name) for name in decided.finding.split("; "))


def _accept(table: Table) -> Accept:
    table.only("finding", "reason", "on", "taken", "facts", *VOID_KEYS)
    return Accept(
        finding=table.need("finding", LINE),
        reason=table.need("reason", PROSE),
        on=table.perhaps("on", DAY),
        taken=tuple(map(_taken, table.tables("taken"))) if "taken" in table.data else None,
        facts=_facts(table) if "facts" in table.data else None,
        void=read_void(table),
        void_on=table.perhaps("void_on", DAY),
    )


def _taken(table: Table) -> TakenThen:
    table.only("remedy", "phase", "most", "unit", "mark")
    return TakenThen(
        remedy=table.need("remedy", NAME),
        phase=table.need("phase", NAME),
        most=table.need("most", number(0, _MOST, from_there=True)),
        unit=table.need("unit", one_of(Unit, Unit.ML)),
        formula=table.need("mark", NAME),
    )


def _facts(table: Table) -> tuple[str, ...]:
    texts = (
        read_value(entry, NAME, place, table.report) for place, entry in table.entries("facts")
    )
    return tuple(text for text in texts if text is not None)
