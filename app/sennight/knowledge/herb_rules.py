"""Reads the rules that hold for many herbs: `herb_rules.tsv`, its groups and its sources."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from sennight.domain.herbs.doses import Route, TakenAs
from sennight.domain.herbs.herbs import Level, Presence
from sennight.domain.herbs.sources import Basis, Origin, Source, SourceKind
from sennight.domain.safety.herb_rules import (
    HerbRule,
    HerbRules,
    Mechanism,
    WhichFacts,
    WhichHerbs,
    in_groups,
)
from sennight.knowledge.tables import Cells, TableError, rows, words

EVERY_HERB = "*"
BY_FACT = "fact"
"""Written where the theme of the client's fact was looked at and is the right one."""
READ_IN_PART = "partly read"

Groups = Mapping[str, frozenset[str]]


def read_herb_rules(folder: Path) -> HerbRules:
    """The rules of a folder; raises TableError with the line of what does not fit."""
    groups = {
        row["id"]: frozenset(words(row["herbs"])) for row in rows(folder / "herb_groups.tsv")
    }
    sources = {row["id"]: _source(row) for row in rows(folder / "herb_rule_sources.tsv")}
    path = folder / "herb_rules.tsv"
    rules: dict[str, HerbRule] = {}
    for number, row in enumerate(rows(path), start=2):
        try:
            rule = _rule(row, groups, sources)
        except (KeyError, ValueError) as error:
            message = f"{path.name}, line {number}: {error}; expected what the README says"
            raise TableError(message) from error
        if rule.id in rules:
            raise TableError(f"{path.name}, line {number}: a second rule “{rule.id}”")
        rules[rule.id] = rule
    return HerbRules(tuple(rules.values()))


def _source(row: Cells) -> Source:
    kind, basis = SourceKind(row["kind"]), Basis(row["basis"])
    return Source(row["id"], row["title"], row["document"], "", kind, basis)


def _rule(row: Cells, groups: Groups, sources: Mapping[str, Source]) -> HerbRule:
    return HerbRule(
        row["id"],
        _herbs(row, groups),
        _facts(row),
        Level(row["level"]),
        row["text"],
        _origins(row, sources),
        theme=_theme(row["theme"]),
        route=Route(row["route"]) if row["route"] else None,
        forms=tuple(map(TakenAs, words(row["forms"]))),
        with_alcohol=_yes(row["with_alcohol"]),
        mechanism=Mechanism(row["mechanism"]),
        hours=_number(row["hours"]),
        days_before=_number(row["days_before"]),
        days_after=_number(row["days_after"]),
        remark=row["remark"],
    )


def read_record_themes(folder: Path) -> dict[tuple[str, str], str]:
    """The themes of what records say, by herb and tag; empty where the fact's own is meant.

    Raises TableError with the line of what does not fit.
    """
    path = folder / "record_themes.tsv"
    themes: dict[tuple[str, str], str] = {}
    for number, row in enumerate(rows(path), start=2):
        try:
            theme = _theme(row["theme"])
        except ValueError as error:
            raise TableError(f"{path.name}, line {number}: {error}") from error
        for herb in words(row["herbs"]):
            if (herb, row["tag"]) in themes:
                raise TableError(f"{path.name}, line {number}: {herb} a second time")
            themes[herb, row["tag"]] = theme
    return themes


def _theme(name: str) -> str:
    """The theme, empty where the fact's own is meant; raises ValueError where none is named."""
    if not name:
        raise ValueError(f"no theme; expected one of themes.toml, or “{BY_FACT}”")
    return "" if name == BY_FACT else name


def _herbs(row: Cells, groups: Groups) -> WhichHerbs:
    herbs = words(row["herbs"])
    return WhichHerbs(
        every=EVERY_HERB in herbs,
        herbs=in_groups(words(row["groups"]), groups, herbs),
        actions=frozenset(words(row["actions"])),
        constituents=frozenset(words(row["constituents"])),
        least=Presence(row["least"] or Presence.TRACE),
        most=Presence(row["most"] or Presence.HIGH),
        family=row["family"],
        advice=row["advice"],
        but=in_groups(words(row["not_groups"]), groups, words(row["not_herbs"])),
    )


def _facts(row: Cells) -> WhichFacts:
    return WhichFacts(
        (*words(row["classes"]), *words(row["medicines"]), *words(row["conditions"])),
        words(row["properties"]),
        words(row["with_herbs"]),
        frozenset(words(row["not_classes"])),
        frozenset(words(row["not_medicines"])),
        class_alone=_yes(row["class_alone"]),
        by_mouth_only=_yes(row["by_mouth_only"]),
    )


def _origins(row: Cells, sources: Mapping[str, Source]) -> tuple[Origin, ...]:
    """The sources of a rule, what was read first; remembered is what its basis does not cover."""
    basis = row["basis"]
    if basis not in (READ_IN_PART, *Basis):
        raise ValueError(f"basis “{basis}”")
    named = [sources[name] for name in words(row["source"])]
    origins = [
        Origin(source, Basis.MEMORY if basis == Basis.MEMORY else source.basis) for source in named
    ]
    return tuple(sorted(origins, key=lambda origin: origin.basis is not Basis.READ))


def _yes(cell: str) -> bool:
    return {"yes": True, "": False}[cell]


def _number(cell: str) -> int | None:
    return int(cell) if cell else None
