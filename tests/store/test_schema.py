"""The models and the migrated schema say the same, and what is kept for good cannot go."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import ModuleType
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import MetaData

from sennight.store import tables
from sennight.store.connecting import connect_engine, raw_connection
from sennight.store.files import PracticeFile
from sennight.store.tables import Base

MODULES = [
    import_module(f"{tables.__name__}.{found.name}") for found in iter_modules(tables.__path__)
]
"""All of them, so that the metadata are whole."""

HEADS = {"client", "own_herb", "remedy", "protocol", "course"}
NOT_RECORDS = {"draft", "course_standing", "coming_day"}
"""What was typed and not saved goes when it is saved; what follows from records is made anew."""


def _is_ours(_: object, name: str, kind: str, *__: object) -> bool:
    """An index of words is SQLite's own: a virtual table with more behind it."""
    return kind != "table" or not name.startswith(("consultation_index", "day_note_index"))


def differences(path: Path, metadata: MetaData) -> list[Any]:
    engine = connect_engine(path)
    with engine.connect() as connection:
        opts = {"compare_type": True, "include_object": _is_ours}
        context = MigrationContext.configure(connection, opts=opts)
        found: list[Any] = compare_metadata(context, metadata)
    engine.dispose()
    return found


def test_models_and_migrations_agree(file: PracticeFile) -> None:
    assert differences(file.path, Base.metadata) == []


def test_the_comparison_sees_a_missing_column(file: PracticeFile) -> None:
    with closing(raw_connection(file.path)) as connection:
        connection.execute("ALTER TABLE publication DROP COLUMN kind")
    assert [entry[0] for entry in differences(file.path, Base.metadata)] == ["add_column"]


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_tables_that_a_module_refers_to_come_with_it(module: ModuleType) -> None:
    """A module of tables is imported with what reads it, and SQLAlchemy follows references."""
    there = [*vars(tables).values(), *vars(module).values(), module]
    known = {each.__name__ for each in there if isinstance(each, ModuleType)}
    known |= {each.__module__ for each in there if isinstance(each, type)}
    models = (model for model in Base.__subclasses__() if model.__module__ == module.__name__)
    for model in models:
        for reference in model.__table__.foreign_keys:
            (of,) = {
                other.__module__
                for other in Base.__subclasses__()
                if other.__table__ is reference.column.table
            }
            assert of in known, f"{model.__name__} refers to {of}"


def test_every_constraint_and_check_of_the_models_is_in_the_file(file: PracticeFile) -> None:
    """The comparison leaves out checks and names; the file's own text has them."""
    with closing(raw_connection(file.path)) as connection:
        written = " ".join(
            row[0] for row in connection.execute("SELECT sql FROM sqlite_master WHERE sql > ''")
        )
    preparer = connect_engine(file.path).dialect.identifier_preparer
    for table in Base.metadata.tables.values():
        for constraint in table.constraints:
            name = preparer.format_constraint(constraint)
            assert f"CONSTRAINT {name} " in written


@pytest.mark.parametrize("table", sorted(Base.metadata.tables.keys() - NOT_RECORDS))
def test_rows_kept_for_good_cannot_be_deleted_or_changed(table: str, file: PracticeFile) -> None:
    with closing(raw_connection(file.path)) as connection:
        column = _any_row(connection, table)
        with pytest.raises(sqlite3.IntegrityError, match="kept for good"):
            connection.execute(f"DELETE FROM {table}")  # noqa: S608
        if table not in HEADS:
            with pytest.raises(sqlite3.IntegrityError, match="kept for good"):
                connection.execute(f"UPDATE {table} SET {column} = {column}")  # noqa: S608


def _any_row(connection: sqlite3.Connection, table: str) -> str:
    """A row with some value in each column; no reference or check is minded. Its last column."""
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute("PRAGMA ignore_check_constraints = ON")
    columns = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
    values = ", ".join("1" for _ in columns)
    connection.execute(f"INSERT INTO {table} VALUES ({values})")  # noqa: S608
    return str(columns[-1])
