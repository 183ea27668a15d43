"""Reads what findings are about, and when a client comes back: what is told to the client."""

from __future__ import annotations

from sennight.domain.safety.come_back import ComeBackRules, Purpose
from sennight.domain.safety.for_client import Place
from sennight.domain.safety.themes import Theme
from sennight.knowledge.materia_medica_facts import values
from sennight.toml_tables import TEXT, Table, one_of, whole

_LONGEST = 366


def read_themes(table: Table) -> tuple[Theme, ...]:
    """The themes of a file, in its order."""
    table.only("theme")
    return tuple(_theme(row) for row in table.tables("theme", needed=True))


def _theme(table: Table) -> Theme:
    for_some = ("decided_once", "only_for", "otherwise")
    table.only("id", "may", "do", "client", "place", "tags", "adds_up", *for_some, of="a theme")
    return Theme(
        table.need("id", TEXT),
        table.need("may", TEXT),
        table.need("do", TEXT),
        table.may("client", TEXT, ""),
        table.need("place", one_of(Place, Place.STOP)),
        values(table, "tags", TEXT),
        values(table, "adds_up", TEXT),
        bool(table.data.get("decided_once")),
        values(table, "only_for", TEXT),
        table.may("otherwise", TEXT, ""),
    )


def read_come_back(table: Table) -> ComeBackRules:
    """The purposes of a file, in its order."""
    table.only("for_any", "purpose")
    purposes = tuple(_purpose(row) for row in table.tables("purpose", needed=True))
    return ComeBackRules(purposes, frozenset(values(table, "for_any", TEXT)))


def _purpose(table: Table) -> Purpose:
    known_by = ("herbs", "facts", "instead_of")
    table.only("id", "if", "actions", "system", "days", "texts", *known_by, of="a purpose")
    return Purpose(
        table.need("id", TEXT),
        table.need("if", TEXT),
        frozenset(values(table, "actions", TEXT)),
        table.may("system", TEXT, ""),
        table.need("days", whole(1, _LONGEST)),
        frozenset(values(table, "texts", TEXT)),
        *(frozenset(values(table, name, TEXT)) for name in known_by),
    )
