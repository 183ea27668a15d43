"""Reads the rules of safety and the red flags; every rule names its source."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from sennight.domain.amounts import plain_number
from sennight.domain.courses.problems import Problem
from sennight.domain.herbs.doses import TakenAs
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.herbs.herbs import DurationUnit, Level, Presence
from sennight.domain.safety.for_client import Place
from sennight.domain.safety.rules import (
    AdviceRule,
    AllHerbs,
    Content,
    CountRule,
    DoseLimit,
    ForSome,
    Group,
    LimitRule,
    RedFlag,
    SafetyRules,
    TrialLength,
)
from sennight.knowledge.client_facts import fact_records
from sennight.knowledge.client_sentences import read_come_back, read_themes
from sennight.knowledge.herb_rules import read_herb_rules, read_record_themes
from sennight.knowledge.materia_medica_facts import AMOUNT, Facts, read_source, values
from sennight.knowledge.vocabulary import vocabulary
from sennight.toml_tables import DAY, TEXT, Report, Table, exact, one_of, whole

T = TypeVar("T")

_LEVEL = one_of(Level, Level.AVOID)
_SINGLE = (
    "as_of",
    "rub_tags",
    "counts_back",
    "not_oral",
    "never_delayed",
    "implies",
    "lasts",
    "surgery",
)
_LISTS = (
    "count",
    "limit",
    "content",
    "dose_limit",
    "for_some",
    "trial",
    "told",
)
_SAID = ("source", "basis")
_GROUP = ("constituent", "action", "least", "without")


class SafetyRulesError(Exception):
    """A file of rules that cannot be read; the message lists every problem with its place."""


def read_safety_rules(folder: Path) -> SafetyRules:
    """The rules and red flags of a folder; raises SafetyRulesError."""
    flags = _read(folder / "red_flags.toml", _flags)
    rules = _read(folder / "rules.toml", lambda table: _rules(table, flags))
    names_fact, tells_length = _read(folder / "phrasing.toml", _phrasing)
    return replace(
        rules,
        names_fact=names_fact,
        tells_length=tells_length,
        themes=_read(folder / "themes.toml", read_themes),
        come_back=_read(folder / "come_back.toml", read_come_back),
        herb_rules=read_herb_rules(folder),
        record_themes=read_record_themes(folder),
    )


def _read(path: Path, read: Callable[[Table], T]) -> T:
    report = Report()
    data = tomllib.loads(path.read_text(encoding="utf-8"), parse_float=exact)
    content = read(Table(data, (), report))
    if report.problems:
        lines = "\n".join(
            str(Problem(problem.place, problem.message)) for problem in report.problems
        )
        raise SafetyRulesError(f"{path.name}:\n{lines}")
    return content


def _facts(table: Table) -> Facts:
    sources = tuple(read_source(source) for source in table.tables("source", needed=True))
    return Facts({source.id: source for source in sources})


def _phrasing(table: Table) -> tuple[frozenset[str], frozenset[str]]:
    """Texts that name the client's fact, and texts that tell no more than a length."""
    table.only("names_fact", "tells_length")
    return (
        frozenset(values(table, "names_fact", TEXT)),
        frozenset(values(table, "tells_length", TEXT)),
    )


def _flags(table: Table) -> tuple[RedFlag, ...]:
    table.only("flag", "source")
    facts = _facts(table)
    return tuple(_flag(row, facts) for row in table.tables("flag", needed=True))


def _flag(table: Table, facts: Facts) -> RedFlag:
    table.only("id", "sign", "action", "urgency", "tag", *_SAID, of="a red flag")
    return RedFlag(
        table.need("id", TEXT),
        table.need("sign", TEXT),
        table.need("action", TEXT),
        table.need("urgency", one_of(Urgency, Urgency.REFER)),
        table.may("tag", TEXT, ""),
        facts.origin(table),
    )


def _rules(table: Table, flags: tuple[RedFlag, ...]) -> SafetyRules:
    table.only(*_SINGLE, *_LISTS, "source")
    facts = _facts(table)
    words = vocabulary()
    implies, lasts = table.table("implies"), table.table("lasts")
    return SafetyRules(
        as_of=table.need("as_of", DAY),
        counts=tuple(_count(row, facts) for row in table.tables("count")),
        limits=tuple(_limit(row) for row in table.tables("limit")),
        contents=tuple(_content(row, facts) for row in table.tables("content")),
        dose_limits=tuple(_dose_limit(row, facts) for row in table.tables("dose_limit")),
        for_some=tuple(_for_some(row) for row in table.tables("for_some")),
        trials=tuple(_trial(row) for row in table.tables("trial")),
        advice=tuple(_advice_rule(row) for row in table.tables("told")),
        flags=flags,
        surgery=_all_herbs(table.table("surgery", needed=True), facts),
        implies={tag: values(implies, tag, TEXT) for tag in implies.data},
        lasts={tag: lasts.need(tag, whole(1, 366)) for tag in lasts.data},
        counts_back=values(table, "counts_back", TEXT),
        not_oral=values(table, "not_oral", TEXT),
        never_delayed=values(table, "never_delayed", TEXT),
        rub_tags=frozenset(values(table, "rub_tags", TEXT)),
        words=words.words,
        tags=(*words.conditions, *words.medicines, *words.constituents),
        records=fact_records(),
    )


def _group(table: Table) -> Group:
    chosen = [key for key in ("constituent", "action") if key in table.data]
    if len(chosen) != 1:
        table.report.add(table.place, "expected one of constituent and action")
    return Group(
        constituent=table.may("constituent", TEXT, ""),
        action=table.may("action", TEXT, ""),
        least=table.may("least", one_of(Presence, Presence.LOW), Presence.LOW),
        without=frozenset(values(table, "without", TEXT)),
    )


def _count(table: Table, facts: Facts) -> CountRule:
    table.only("id", *_GROUP, "count", "level", "text", *_SAID, of="a number of herbs")
    return CountRule(
        table.need("id", TEXT),
        _group(table),
        table.need("count", whole(1, 9)),
        table.need("level", _LEVEL),
        table.need("text", TEXT),
        facts.origin(table),
    )


def _limit(table: Table) -> LimitRule:
    table.only("constituent", "value", "surely", "perhaps", of="a ceiling")
    return LimitRule(
        table.need("constituent", TEXT),
        table.need("value", AMOUNT),
        table.need("surely", _LEVEL),
        table.perhaps("perhaps", _LEVEL),
    )


def _content(table: Table, facts: Facts) -> Content:
    table.only("constituent", "herb", "forms", "low", "high", *_SAID, of="a content")
    low, high = table.need("low", AMOUNT), table.need("high", AMOUNT)
    if high < low:
        span = f"{plain_number(low)} to {plain_number(high)}"
        table.report.add(table.place, f"expected low to high; found {span}")
    return Content(
        table.need("constituent", TEXT),
        table.need("herb", TEXT),
        values(table, "forms", one_of(TakenAs, TakenAs.TEA)),
        low,
        high,
        facts.origin(table),
    )


def _dose_limit(table: Table, facts: Facts) -> DoseLimit:
    table.only("mg_per_kg", "level", "text", "tags", *_SAID, of="a limit for one dose")
    return DoseLimit(
        table.need("mg_per_kg", whole(1, 999)),
        table.need("level", _LEVEL),
        table.need("text", TEXT),
        facts.origin(table),
        values(table, "tags", TEXT),
    )


def _for_some(table: Table) -> ForSome:
    table.only("herb", "count", "unit", "tag")
    return ForSome(
        table.need("herb", TEXT),
        table.need("count", whole(1, 366)),
        table.need("unit", one_of(DurationUnit, DurationUnit.DAYS)),
        table.need("tag", TEXT),
    )


def _trial(table: Table) -> TrialLength:
    table.only("herb", "count", "unit")
    return TrialLength(
        table.need("herb", TEXT),
        table.need("count", whole(1, 366)),
        table.need("unit", one_of(DurationUnit, DurationUnit.DAYS)),
    )


def _advice_rule(table: Table) -> AdviceRule:
    for_some = ("not_with", "mild", "mild_with")
    table.only("tag", "says", "form", "place", *for_some)
    form = table.data.get("form")
    if form not in ("", "oral", "rub"):
        table.report.add((*table.place, "form"), 'expected "", "oral" or "rub"')
    place = table.need("place", one_of(Place, Place.USE))
    return AdviceRule(
        table.need("tag", TEXT),
        table.need("says", TEXT),
        str(form),
        place,
        *(frozenset(values(table, name, TEXT)) for name in for_some),
    )


def _all_herbs(table: Table, facts: Facts) -> AllHerbs:
    table.only("days", "after", "text", *_SAID)
    days, after = table.need("days", whole(1, 366)), table.may("after", whole(0, 366), 0)
    return AllHerbs(days, table.need("text", TEXT), facts.origin(table), after)
