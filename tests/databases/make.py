"""Writes the newest schema as text, and the dump of a filled practice file of it.

    python -m databases.make        (in the folder tests, after a migration was added)

A dump that is there already is never written again: it is what users have.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from sennight.practice.opening import open_practice
from sennight.store.migrating import migrate, newest_schema, own_scripts
from sennight.store.schemas import schema_file, shadow_tables
from support.filled import fill

HERE = Path(__file__).resolve().parent
INDEXES = ("consultation_index", "day_note_index")
"""The indexes of words: SQLite's own dump would forget under which ids they have their words."""
NEWEST = newest_schema(own_scripts())


def dump(path: Path) -> Iterator[str]:
    """The statements that make a practice file again, its header's mark included."""
    with closing(sqlite3.connect(path)) as connection:
        (application,) = connection.execute("PRAGMA application_id").fetchone()
        yield f"PRAGMA application_id = {application};"
        tables = connection.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")
        own = tuple(name for _, name in shadow_tables(str(row[0]) for row in tables))
        for statement in connection.iterdump():
            if not _is_of_an_index(statement, own):
                yield statement
        for index in INDEXES:
            yield from _index(connection, index)


def _is_of_an_index(statement: str, own: tuple[str, ...]) -> bool:
    """Whether a statement makes or fills an index of words, in one of SQLite's own ways."""
    made = tuple(f"CREATE TABLE '{table}'" for table in own)
    filled = tuple(f'INSERT INTO "{table}"' for table in (*own, *INDEXES))
    by_hand = ("CREATE VIRTUAL", "PRAGMA writable_schema", "INSERT INTO sqlite_master")
    return statement.startswith((*made, *filled, *by_hand))


def _index(connection: sqlite3.Connection, index: str) -> Iterator[str]:
    """What makes an index of words, and fills it under the ids that it has them by."""
    query = "SELECT sql FROM sqlite_master WHERE name = ?"
    for (made,) in connection.execute(query, (index,)).fetchall():
        yield f"{made};"
        words = f"SELECT rowid, quote(words) FROM {index}"  # noqa: S608 - one of our own names
        for rowid, text in connection.execute(words).fetchall():
            yield f"INSERT INTO {index} (rowid, words) VALUES ({rowid}, {text});"  # noqa: S608


def restore(script: Path, path: Path) -> None:
    """A practice file from a dump."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(script.read_text(encoding="utf-8"))


def schema_text(path: Path) -> str:
    """The statements that make an empty practice file with the schema of this one."""
    with closing(sqlite3.connect(path)) as connection:
        (application,) = connection.execute("PRAGMA application_id").fetchone()
        (version,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        rows = connection.execute(
            "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL "
            "ORDER BY type <> 'table', type, tbl_name, name"
        ).fetchall()
        own = {name for _, name in shadow_tables(str(sql) for _, sql in rows)}
        statements = [f"{sql};" for name, sql in rows if name not in own]
        lines = [line.rstrip() for text in statements for line in text.splitlines()]
    head, tail = [f"PRAGMA application_id = {application};", "BEGIN;"], ["COMMIT;", ""]
    mark = f"INSERT INTO alembic_version VALUES ('{version}');"  # noqa: S608 - our own version
    return "\n".join([*head, *lines, mark, *tail])


def write_schema() -> None:
    """Write the schema that the migrations lead to beside them."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "empty.sennight"
        migrate(path, own_scripts())
        target = schema_file(own_scripts(), NEWEST)
        target.write_text(schema_text(path), encoding="utf-8", newline="\n")


def main() -> None:
    """Write the newest schema and its dump."""
    write_schema()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "filled.sennight"
        with open_practice(path) as practice:
            fill(practice)
        with closing(sqlite3.connect(path)) as connection:
            (version,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        target = HERE / f"{version}.sql"
        if target.exists():
            sys.exit(f"{target} is there already and stays as it is")
        target.write_text("\n".join(dump(path)) + "\n", encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
