"""The schema that a practice file of each version has, kept as text beside the migrations.

A new practice file is made from it, and each file is compared with it when it is opened: a
trigger or view from elsewhere would run unseen at a save.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

_SCRIPT = re.compile(r"r(\d{4})_\w+\.py")

SHADOWS = ("_data", "_idx", "_content", "_docsize", "_config")
"""How the tables are called in which FTS5 keeps an index: SQLite's own, and made by itself."""

_INDEX = re.compile(r"CREATE VIRTUAL TABLE (\w+) USING fts5", re.IGNORECASE)

Objects = Mapping[tuple[str, str], str]
"""Tables, indexes, triggers and views by kind and name, each with its text."""


def versions(scripts: Path) -> tuple[str, ...]:
    """The schema versions that migrations lead to, oldest first."""
    matches = (_SCRIPT.fullmatch(path.name) for path in (scripts / "versions").iterdir())
    return tuple(sorted(match[1] for match in matches if match))


def schema_file(scripts: Path, version: str) -> Path:
    """Where the schema of a version is kept as text."""
    return scripts / "schemas" / f"{version}.sql"


def objects(connection: sqlite3.Connection) -> Objects:
    """What a database is made of, without SQLite's own tables and indexes."""
    rows = connection.execute(
        "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL"
    ).fetchall()
    own = shadow_tables(str(text) for _, _, text in rows)
    return {
        (str(kind), str(name)): _plain(str(text))
        for kind, name, text in rows
        if not str(name).startswith("sqlite_") and (str(kind), str(name)) not in own
    }


def shadow_tables(statements: Iterable[str]) -> frozenset[tuple[str, str]]:
    """The tables, by kind and name, that SQLite makes for the indexes of words among these."""
    indexes = (match[1] for match in map(_INDEX.match, statements) if match)
    return frozenset(("table", f"{index}{ending}") for index in indexes for ending in SHADOWS)


@dataclass(frozen=True, slots=True)
class Difference:
    """An object that is missing, is not expected, or says something else than expected."""

    kind: str
    name: str
    expected: bool
    present: bool

    def __str__(self) -> str:
        match self.expected, self.present:
            case True, False:
                return f"the {self.kind} “{self.name}” is missing"
            case False, True:
                return f"the {self.kind} “{self.name}” does not belong in a practice file"
            case _:
                return f"the {self.kind} “{self.name}” is not as this program makes it"


def differences(
    connection: sqlite3.Connection, scripts: Path, version: str
) -> tuple[Difference, ...]:
    """How a database differs from the schema of a version; nothing where that is not kept."""
    script = schema_file(scripts, version)
    if not script.is_file():
        return ()
    present, expected = objects(connection), _expected(script)
    return tuple(
        Difference(*key, expected=key in expected, present=key in present)
        for key in sorted({*present, *expected})
        if present.get(key) != expected.get(key)
    )


@lru_cache(maxsize=8)
def _expected(script: Path) -> Objects:
    with closing(sqlite3.connect(":memory:")) as connection:
        connection.executescript(script.read_text(encoding="utf-8"))
        return objects(connection)


def _plain(text: str) -> str:
    """A statement with one space where there are several; SQLite quotes names that it changes."""
    return " ".join(text.replace('"', "").split())
