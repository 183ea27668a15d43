"""Reads the materia medica's files: one a herb, the burdens that herbs share, general rules.

Strict: every key is known, every fact has a source that the herb's own list holds, every range
goes from less to more. All that does not fit is told at once, by file and place.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from sennight.domain.courses.problems import Problem
from sennight.domain.herbs.doses import Route
from sennight.domain.herbs.general_rules import Burden, BurdenLimit, GeneralRule, Topic, Urgency
from sennight.domain.herbs.herbs import Herb, MateriaMedica, Stated
from sennight.domain.herbs.own_herbs import OWN_PREFIX
from sennight.knowledge.child_doses import read_child_doses
from sennight.knowledge.materia_medica_doses import dose_row, usual
from sennight.knowledge.materia_medica_facts import AMOUNT, Facts, read_source, values
from sennight.knowledge.packed_herbs import Packed, digest, read_packed, record_files
from sennight.toml_tables import TEXT, Report, Table, exact, flag, one_of, whole

T = TypeVar("T")

_WORDS = ("id", "name", "latin", "family", "part", "drug_name", "remark")
_TABLES = ("official", "usual_daily", "min_age", "min_age_skin", "min_ethanol", "actions")
_LISTS = (
    *("preparation", "caution", "interaction", "duration", "constituent"),
    *("law", "not_as", "source"),
)
_HERB_KEYS = (
    *(*_WORDS, "also_called", "routes", "systems", "conflicts", "narrow"),
    *(*_TABLES, "pregnancy", "lactation"),
    *_LISTS,
)


class MateriaMedicaError(ValueError):
    """Files of the materia medica that do not fit; the message names each file and place."""

    def __init__(self, problems: Mapping[str, list[Problem]]) -> None:
        self.problems = problems
        lines = [f"{file}: {problem}" for file, wrong in problems.items() for problem in wrong]
        super().__init__("\n".join(lines))


def read_materia_medica(folder: Path) -> MateriaMedica:
    """The materia medica in a folder.

    Its files are herbs/<id>.toml and substances/<id>.toml, burdens.toml, children.toml and
    general_safety.toml.

    Raises MateriaMedicaError where a file does not fit, OSError where one cannot be read.
    """
    wrong: dict[str, list[Problem]] = {}
    herbs = _Herbs()
    headings = {}
    packed = read_packed(folder)
    for path in record_files(folder):
        line = packed.get(digest(path.read_bytes()))
        if line:
            herbs.later[path.stem] = line
            headings[path.stem] = line.read_heading()
        else:
            herb = _file(path, _herb, wrong)
            if herb:
                herbs.read[path.stem] = herb
    burdens = _file(folder / "burdens.toml", _burdens, wrong)
    rules = _file(folder / "general_safety.toml", _rules, wrong)
    child_doses = _file(folder / "children.toml", read_child_doses, wrong)
    if wrong:
        raise MateriaMedicaError(wrong)
    return MateriaMedica(
        MappingProxyType(herbs),
        MappingProxyType({burden.constituent: burden for burden in burdens or ()}),
        rules or (),
        MappingProxyType(child_doses or {}),
        MappingProxyType(headings),
    )


class _Herbs(Mapping[str, Herb]):
    """Herbs by id; a record that is packed is read when it is first asked for."""

    def __init__(self) -> None:
        self.read: dict[str, Herb] = {}
        self.later: dict[str, Packed] = {}

    def __getitem__(self, herb_id: str) -> Herb:
        herb = self.read.get(herb_id)
        if herb is None:
            report = Report()
            data = self.later[herb_id].read_record()
            herb = self.read[herb_id] = _herb(Table(data, (), report), herb_id)
            if report.problems:
                raise MateriaMedicaError({f"{herb_id}.toml": report.problems})
        return herb

    def __contains__(self, herb_id: object) -> bool:
        return herb_id in self.read or herb_id in self.later

    def __iter__(self) -> Iterator[str]:
        return iter(sorted({*self.read, *self.later}))

    def __len__(self) -> int:
        return len({*self.read, *self.later})


def _file(
    path: Path, read: Callable[[Table, str], T], wrong: dict[str, list[Problem]]
) -> T | None:
    """What a file holds; its problems are put under its name in `wrong`."""
    report = Report()
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=exact)
        content = read(Table(data, (), report), path.stem)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        report.add((), f"expected a TOML file in UTF-8; {error}")
        content = None
    if report.problems:
        wrong[path.name] = report.problems
    return content


# A herb


def _herb(table: Table, file: str) -> Herb:
    table.only(*_HERB_KEYS, of="a herb")
    sources = tuple(read_source(source) for source in table.tables("source", needed=True))
    facts = Facts({source.id: source for source in sources})
    herb_id = table.need("id", TEXT)
    if herb_id.startswith(OWN_PREFIX):
        table.report.add(("id",), f"“{OWN_PREFIX}” begins only the ids of a practice's own herbs")
    if herb_id != file:
        table.report.add(("id",), f"expected the file's name, {file}; found {herb_id}")
    routes = values(table, "routes", one_of(Route, Route.ORAL))
    return Herb(
        id=herb_id,
        name=table.need("name", TEXT),
        latin=table.need("latin", TEXT),
        family=table.need("family", TEXT),
        part=table.need("part", TEXT),
        drug_name=table.need("drug_name", TEXT),
        routes=routes,
        systems=values(table, "systems", TEXT),
        official=facts.official(table.table("official", needed=True)),
        actions=facts.actions(table.table("actions", needed=True)),
        pregnancy=facts.advice(table.table("pregnancy", needed=True), "pregnancy"),
        lactation=facts.advice(table.table("lactation", needed=True), "lactation"),
        min_age=facts.stated(table.table("min_age", needed=True), "years"),
        min_ethanol=_stated(table, "min_ethanol", "percent", facts),
        min_age_skin=_stated(table, "min_age_skin", "years", facts),
        sources=sources,
        other_names=values(table, "also_called", TEXT),
        remark=table.may("remark", TEXT, ""),
        usual=usual(table.table("usual_daily"), facts) if "usual_daily" in table.data else None,
        doses=tuple(dose_row(row, facts) for row in table.tables("preparation")),
        cautions=tuple(facts.caution(row) for row in table.tables("caution")),
        interactions=tuple(facts.caution(row) for row in table.tables("interaction")),
        durations=tuple(facts.duration(row) for row in table.tables("duration")),
        constituents=tuple(facts.constituent(row) for row in table.tables("constituent")),
        conflicts=values(table, "conflicts", TEXT),
        law=tuple(facts.law(row) for row in table.tables("law")),
        not_as=tuple(facts.not_as(row) for row in table.tables("not_as")),
        narrow=table.may("narrow", flag(), default=False),
    )


def _stated(table: Table, name: str, key: str, facts: Facts) -> Stated | None:
    """A figure that a record may leave out."""
    return facts.stated(table.table(name), key) if name in table.data else None


# Burdens and general rules


def _burdens(table: Table, _file: str) -> tuple[Burden, ...]:
    table.only("burden", "source")
    sources = tuple(read_source(source) for source in table.tables("source", needed=True))
    facts = Facts({source.id: source for source in sources})
    return tuple(_burden(row, facts) for row in table.tables("burden", needed=True))


def _burden(table: Table, facts: Facts) -> Burden:
    table.only("constituent", "rule", "limit", of="a burden")
    return Burden(
        table.need("constituent", TEXT),
        table.need("rule", TEXT),
        tuple(_limits(table, facts)),
    )


def _limits(table: Table, facts: Facts) -> Iterator[BurdenLimit]:
    for row in table.tables("limit"):
        row.only("value", "unit", "text", "source", "basis", of="a limit")
        yield BurdenLimit(
            table.need("constituent", TEXT),
            row.need("value", AMOUNT),
            row.need("unit", TEXT),
            row.need("text", TEXT),
            facts.origin(row),
        )


def _rules(table: Table, _file: str) -> tuple[GeneralRule, ...]:
    table.only("rule", "source")
    sources = tuple(read_source(source) for source in table.tables("source", needed=True))
    facts = Facts({source.id: source for source in sources})
    return tuple(_rule(row, facts) for row in table.tables("rule", needed=True))


_SPANS = ("days", "hours", "minutes")


def _rule(table: Table, facts: Facts) -> GeneralRule:
    keys = ("id", "topic", "urgency", "says", "does", *_SPANS, "herbs", "source", "basis")
    table.only(*keys, of="a rule")
    unit = next((key for key in _SPANS if key in table.data), "")
    span = values(table, unit, whole(1, 366)) if unit else ()
    if unit and (len(span) != 2 or span[0] > span[1]):
        table.report.add((*table.place, unit), "expected two whole numbers, least and most")
    return GeneralRule(
        id=table.need("id", TEXT),
        topic=table.need("topic", one_of(Topic, Topic.REVIEW)),
        says=table.need("says", TEXT),
        does=table.need("does", TEXT),
        origin=facts.origin(table),
        urgency=table.perhaps("urgency", one_of(Urgency, Urgency.REFER)),
        span=(span[0], span[-1]) if span else None,
        span_unit=unit,
        herbs=values(table, "herbs", TEXT),
    )
