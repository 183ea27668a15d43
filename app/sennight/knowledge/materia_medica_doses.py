"""Reads published doses: a row for each preparation in each text."""

from __future__ import annotations

import re
from fractions import Fraction

from sennight.domain.herbs.doses import DoseRange, DoseRow, DoseUnit, Preparation, Ratio, Route
from sennight.domain.herbs.herbs import Usual
from sennight.domain.herbs.sources import Basis, Origin
from sennight.knowledge.materia_medica_facts import AMOUNT, BASIS, PERCENT, Facts, in_order, values
from sennight.toml_tables import TEXT, Table, ValueKind, flag, one_of, whole

_ROW_KEYS = (
    *("id", "form", "route", "ratio", "ethanol", "solvent", "made", "said"),
    *("dose", "times", "daily", "note", "doubted", "for"),
)


def dose_row(table: Table, facts: Facts) -> DoseRow:
    """What one text says of one preparation."""
    table.only(*_ROW_KEYS, of="a preparation")
    origin, dose_origin = table.table("made", needed=True), table.table("said", needed=True)
    origin.only("source", "basis")
    dose_origin.only("source", "basis")
    times, times_from = _times(table, facts)
    daily, daily_basis, worked_out = _daily(table)
    return DoseRow(
        id=table.need("id", TEXT),
        form=table.need("form", one_of(Preparation, Preparation.INFUSION)),
        route=table.need("route", one_of(Route, Route.ORAL)),
        made_from=facts.origin(origin),
        dose_from=facts.origin(dose_origin),
        ratio=table.perhaps("ratio", _RATIO),
        ethanol=_ethanol(table),
        solvent=table.may("solvent", TEXT, ""),
        dose=_dose_under(table, "dose"),
        times=times,
        times_from=times_from,
        daily=daily,
        daily_basis=daily_basis,
        worked_out=worked_out,
        note=table.may("note", TEXT, ""),
        doubted="doubted" in table.data and table.need("doubted", flag()),
        purposes=values(table, "for", TEXT),
    )


def _times(table: Table, facts: Facts) -> tuple[tuple[int, int] | None, Origin | None]:
    if "times" not in table.data:
        return None, None
    times = table.table("times")
    times.only("min", "max", "source", "basis")
    span = times.need("min", whole(1, 24)), times.need("max", whole(1, 24))
    in_order(times, *span)
    return span, facts.origin(times)


def usual(table: Table, facts: Facts) -> Usual:
    """One daily range whatever the form."""
    table.only("min", "max", "unit", "text", "source", "basis")
    return Usual(_dose(table), table.may("text", TEXT, ""), facts.origin(table))


def _dose(table: Table) -> DoseRange:
    low, high = table.need("min", AMOUNT), table.need("max", AMOUNT)
    in_order(table, low, high)
    unit = table.need("unit", one_of(DoseUnit, DoseUnit.G))
    return DoseRange(low, high, unit, table.may("of", TEXT, ""))


def _dose_under(table: Table, key: str) -> DoseRange | None:
    if key not in table.data:
        return None
    dose = table.table(key)
    dose.only("min", "max", "unit", "of")
    return _dose(dose)


def _daily(table: Table) -> tuple[DoseRange | None, Basis | None, bool]:
    if "daily" not in table.data:
        return None, None, False
    daily = table.table("daily")
    daily.only("min", "max", "unit", "of", "basis", "worked_out")
    worked_out = daily.may("worked_out", flag(), default=False)
    return _dose(daily), daily.need("basis", BASIS), worked_out


def _ethanol(table: Table) -> tuple[Fraction, Fraction] | None:
    if "ethanol" not in table.data:
        return None
    span = values(table, "ethanol", PERCENT)
    if len(span) != 2:
        table.report.add((*table.place, "ethanol"), "expected two numbers, least and most")
        return None
    in_order(table, *span)
    return span[0], span[1]


_SPAN = r"([0-9]+(?:\.[0-9]+)?)(?:-([0-9]+(?:\.[0-9]+)?))?"


def _ratio(value: object) -> Ratio | None:
    match = re.fullmatch(f"{_SPAN}:{_SPAN}", value) if isinstance(value, str) else None
    if match is None:
        return None
    a, b, c, d = match.groups()
    herb, product = (Fraction(a), Fraction(b or a)), (Fraction(c), Fraction(d or c))
    if not 0 < herb[0] <= herb[1] or not 0 < product[0] <= product[1]:
        return None
    return Ratio(herb, product)


_ONE = (Fraction(1), Fraction(1))
_RATIO: ValueKind[Ratio] = ValueKind(
    "a ratio in quotes such as 1:5, 1:3.5-4.5 or 4-7:1", _ratio, Ratio(_ONE, _ONE)
)
