"""Reads the materia medica's files: one a herb, and one of the burdens that herbs share.

Strict: every key is known, every fact has a source that the herb's own list holds, every range
goes from less to more. All that does not fit is told at once, by file and place.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from sennight.domain.herbs import (
    Actions,
    Basis,
    Burden,
    BurdenLimit,
    Caution,
    Constituent,
    DoseRange,
    DoseRow,
    DoseUnit,
    Duration,
    DurationKind,
    DurationUnit,
    Figure,
    Herb,
    Level,
    MateriaMedica,
    OfficialText,
    Origin,
    Preparation,
    Presence,
    Ratio,
    Route,
    Source,
    SourceKind,
    Stated,
    Usual,
)
from sennight.domain.problems import Problem
from sennight.publish.course_file_tables import (
    TEXT,
    Kind,
    Report,
    Table,
    exact,
    flag,
    known_word,
    number,
    one_of,
    read_value,
    whole,
)

T = TypeVar("T")

_NO_SOURCE = Source("", "", "", "", SourceKind.PRACTICE, Basis.MEMORY)
_BASIS = one_of(Basis, Basis.MEMORY)
_AMOUNT = number(0, 1_000_000, from_there=True)
_PERCENT = number(0, 100, from_there=True)


_WORDS = ("id", "name", "latin", "family", "part", "drug_name", "remark")
_TABLES = ("official", "usual_daily", "min_age", "min_ethanol", "actions")
_LISTS = ("preparation", "caution", "interaction", "duration", "constituent", "source")
_HERB_KEYS = (
    *(*_WORDS, "other_names", "routes", "systems"),
    *(*_TABLES, "pregnancy", "lactation"),
    *_LISTS,
)
_ROW_KEYS = (
    *("id", "form", "route", "ratio", "ethanol", "solvent", "made", "said"),
    *("dose", "times", "daily", "note"),
)


class MateriaMedicaError(ValueError):
    """Files of the materia medica that do not fit; the message names each file and place."""

    def __init__(self, problems: Mapping[str, list[Problem]]) -> None:
        self.problems = problems
        lines = [f"{file}: {one}" for file, found in problems.items() for one in found]
        super().__init__("\n".join(lines))


def read_materia_medica(folder: Path) -> MateriaMedica:
    """The materia medica in a folder: `herbs/<id>.toml` and `burdens.toml`.

    Raises MateriaMedicaError where a file does not fit, OSError where one cannot be read.
    """
    wrong: dict[str, list[Problem]] = {}
    herbs = {}
    for path in sorted((folder / "herbs").glob("*.toml")):
        herbs[path.stem] = _file(path, _herb, wrong)
    burdens = _file(folder / "burdens.toml", _burdens, wrong)
    if wrong:
        raise MateriaMedicaError(wrong)
    return MateriaMedica(
        MappingProxyType({name: herb for name, herb in herbs.items() if herb}),
        MappingProxyType({one.constituent: one for one in burdens or ()}),
    )


def _file(
    path: Path, read: Callable[[Table, str], T], wrong: dict[str, list[Problem]]
) -> T | None:
    """What a file holds; its problems are put under its name in `wrong`."""
    report = Report()
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=exact)
        found = read(Table(data, (), report), path.stem)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        report.add((), f"expected a TOML file in UTF-8; {error}")
        found = None
    if report.problems:
        wrong[path.name] = report.problems
    return found


# A herb


def _herb(table: Table, file: str) -> Herb:
    table.only(*_HERB_KEYS, of="a herb")
    sources = tuple(_source(one) for one in table.tables("source", needed=True))
    facts = _Facts({source.id: source for source in sources})
    herb_id = table.need("id", TEXT)
    if herb_id != file:
        table.report.add(("id",), f"expected the file's name, {file}; found {herb_id}")
    routes = _all(table, "routes", one_of(Route, Route.ORAL))
    return Herb(
        id=herb_id,
        name=table.need("name", TEXT),
        latin=table.need("latin", TEXT),
        family=table.need("family", TEXT),
        part=table.need("part", TEXT),
        drug_name=table.need("drug_name", TEXT),
        routes=routes,
        systems=_all(table, "systems", TEXT),
        official=facts.official(table.table("official", needed=True)),
        actions=facts.actions(table.table("actions", needed=True)),
        pregnancy=facts.advice(table.table("pregnancy", needed=True), "pregnancy"),
        lactation=facts.advice(table.table("lactation", needed=True), "lactation"),
        min_age=facts.stated(table.table("min_age", needed=True), "years"),
        min_ethanol=facts.stated(table.table("min_ethanol", needed=True), "percent"),
        sources=sources,
        other_names=_all(table, "other_names", TEXT),
        remark=table.may("remark", TEXT, ""),
        usual=facts.usual(table.table("usual_daily")) if "usual_daily" in table.data else None,
        doses=tuple(facts.dose_row(one) for one in table.tables("preparation")),
        cautions=tuple(facts.caution(one) for one in table.tables("caution")),
        interactions=tuple(facts.caution(one) for one in table.tables("interaction")),
        durations=tuple(facts.duration(one) for one in table.tables("duration")),
        constituents=tuple(facts.constituent(one) for one in table.tables("constituent")),
    )


def _source(table: Table) -> Source:
    table.only("id", "title", "document", "status", "kind", "basis", of="a source")
    return Source(
        table.need("id", TEXT),
        table.need("title", TEXT),
        table.may("document", TEXT, ""),
        table.need("status", TEXT),
        table.need("kind", one_of(SourceKind, SourceKind.PRACTICE)),
        table.need("basis", _BASIS),
    )


@dataclass(frozen=True, slots=True)
class _Facts:
    """Reads facts, with the sources that they may name."""

    sources: Mapping[str, Source]

    def origin(self, table: Table) -> Origin:
        kind = known_word("the id of a source in this file", self.sources)
        source = self.sources.get(table.need("source", kind), _NO_SOURCE)
        return Origin(source, table.need("basis", _BASIS))

    def official(self, table: Table) -> OfficialText:
        table.only("status", "document", "use", "source", "basis", "document_basis")
        return OfficialText(
            table.need("status", TEXT),
            table.need("document", TEXT),
            table.need("use", TEXT),
            self.origin(table),
            table.need("document_basis", _BASIS),
        )

    def actions(self, table: Table) -> Actions:
        table.only("tags", "source", "basis")
        return Actions(_all(table, "tags", TEXT), self.origin(table))

    def advice(self, table: Table, tag: str) -> Caution:
        """What is said for pregnancy or breastfeeding."""
        table.only("level", "text", "source", "basis")
        level = table.need("level", one_of(Level, Level.AVOID))
        return Caution(tag, level, table.need("text", TEXT), self.origin(table))

    def caution(self, table: Table) -> Caution:
        table.only("tag", "level", "text", "source", "basis")
        level = table.need("level", one_of(Level, Level.AVOID))
        return Caution(
            table.need("tag", TEXT), level, table.need("text", TEXT), self.origin(table)
        )

    def stated(self, table: Table, key: str) -> Stated:
        table.only(key, "text", "source", "basis")
        value = table.need(key, _PERCENT)
        return Stated(value, table.may("text", TEXT, ""), self.origin(table))

    def usual(self, table: Table) -> Usual:
        table.only("min", "max", "unit", "text", "source", "basis")
        return Usual(_dose(table), table.may("text", TEXT, ""), self.origin(table))

    def dose_row(self, table: Table) -> DoseRow:
        table.only(*_ROW_KEYS, of="a preparation")
        made, said = table.table("made", needed=True), table.table("said", needed=True)
        made.only("source", "basis")
        said.only("source", "basis")
        times, times_from = self._times(table)
        daily, daily_basis, worked_out = _daily(table)
        return DoseRow(
            id=table.need("id", TEXT),
            form=table.need("form", one_of(Preparation, Preparation.INFUSION)),
            route=table.need("route", one_of(Route, Route.ORAL)),
            made_from=self.origin(made),
            dose_from=self.origin(said),
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
        )

    def _times(self, table: Table) -> tuple[tuple[int, int] | None, Origin | None]:
        if "times" not in table.data:
            return None, None
        times = table.table("times")
        times.only("min", "max", "source", "basis")
        span = times.need("min", whole(1, 24)), times.need("max", whole(1, 24))
        _in_order(times, *span)
        return span, self.origin(times)

    def duration(self, table: Table) -> Duration:
        table.only("kind", "count", "unit", "text", "source", "basis")
        return Duration(
            table.need("kind", one_of(DurationKind, DurationKind.REVIEW_AFTER)),
            table.need("count", whole(1, 366)),
            table.need("unit", one_of(DurationUnit, DurationUnit.DAYS)),
            table.need("text", TEXT),
            self.origin(table),
        )

    def constituent(self, table: Table) -> Constituent:
        table.only("tag", "presence", "figure", "text", "source", "basis")
        return Constituent(
            table.need("tag", TEXT),
            table.need("presence", one_of(Presence, Presence.TRACE)),
            _figure(table),
            table.need("text", TEXT),
            self.origin(table),
        )


# Amounts


def _dose(table: Table) -> DoseRange:
    low, high = table.need("min", _AMOUNT), table.need("max", _AMOUNT)
    _in_order(table, low, high)
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
    return _dose(daily), daily.need("basis", _BASIS), worked_out


def _ethanol(table: Table) -> tuple[Fraction, Fraction] | None:
    if "ethanol" not in table.data:
        return None
    span = _all(table, "ethanol", _PERCENT)
    if len(span) != 2:
        table.report.add((*table.place, "ethanol"), "expected two numbers, least and most")
        return None
    _in_order(table, *span)
    return span[0], span[1]


def _figure(table: Table) -> Figure | None:
    if "figure" not in table.data:
        return None
    figure = table.table("figure")
    figure.only("min", "max", "unit")
    low, high = figure.perhaps("min", _AMOUNT), figure.perhaps("max", _AMOUNT)
    if low is None and high is None:
        table.report.add(figure.place, "expected min, max or both")
    if low is not None and high is not None:
        _in_order(figure, low, high)
    return Figure(low, high, figure.need("unit", TEXT))


def _in_order(table: Table, low: Fraction | int, high: Fraction | int) -> None:
    if high < low:
        table.report.add(table.place, f"expected a span from less to more; found {low} to {high}")


def _all(table: Table, key: str, kind: Kind[T]) -> tuple[T, ...]:
    """The values of a list, those left out that do not fit."""
    found = (read_value(value, kind, place, table.report) for place, value in table.entries(key))
    return tuple(value for value in found if value is not None)


_SPAN = r"([0-9]+(?:\.[0-9]+)?)(?:-([0-9]+(?:\.[0-9]+)?))?"


def _ratio(value: object) -> Ratio | None:
    match = re.fullmatch(f"{_SPAN}:{_SPAN}", value) if isinstance(value, str) else None
    if match is None:
        return None
    a, b, c, d = match.groups()
    herb, made = (Fraction(a), Fraction(b or a)), (Fraction(c), Fraction(d or c))
    if not 0 < herb[0] <= herb[1] or not 0 < made[0] <= made[1]:
        return None
    return Ratio(herb, made)


_ONE = (Fraction(1), Fraction(1))
_RATIO: Kind[Ratio] = Kind(
    "a ratio in quotes such as 1:5, 1:3.5-4.5 or 4-7:1", _ratio, Ratio(_ONE, _ONE)
)


# Burdens


def _burdens(table: Table, _file: str) -> tuple[Burden, ...]:
    table.only("burden", "source")
    sources = tuple(_source(one) for one in table.tables("source", needed=True))
    facts = _Facts({source.id: source for source in sources})
    return tuple(_burden(one, facts) for one in table.tables("burden", needed=True))


def _burden(table: Table, facts: _Facts) -> Burden:
    table.only("constituent", "rule", "limit", of="a burden")
    return Burden(
        table.need("constituent", TEXT),
        table.need("rule", TEXT),
        tuple(_limits(table, facts)),
    )


def _limits(table: Table, facts: _Facts) -> Iterator[BurdenLimit]:
    for one in table.tables("limit"):
        one.only("value", "unit", "text", "source", "basis", of="a limit")
        yield BurdenLimit(
            table.need("constituent", TEXT),
            one.need("value", _AMOUNT),
            one.need("unit", TEXT),
            one.need("text", TEXT),
            facts.origin(one),
        )
