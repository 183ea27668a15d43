"""Connections to a practice file, and what is set on each.

- `foreign_keys` on: SQLite leaves them off by default.
- `journal_mode` WAL: a save that is cut off is gone whole at the next opening, and readers do
  not wait for a save.
- `synchronous` FULL: in WAL mode NORMAL may lose the last saves when the power fails. Saves are
  few and small, so each is waited for.
- `busy_timeout` 1 s: for a virus scanner or a backup program that holds the file for a moment.
  The window waits for a save, so no longer; and after one that waited in vain, each next one
  only asks, until the file is free.
- `temp_store` in memory: what SQLite sorts is health data, and no file of it is left anywhere.
- `trusted_schema` off: nothing in a file from elsewhere runs by being read.

Python's sqlite3 module opens transactions behind one's back, and not before DDL. So it is told
not to (`isolation_level = None`) and BEGIN is sent from here, as SQLAlchemy's chapter on SQLite
advises; then DDL is in the transaction too.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import ConnectionPoolEntry

SYNCHRONOUS = "FULL"
BUSY_MS, STILL_BUSY_MS = 1000, 20
WRITES = {"sennight_begin": "IMMEDIATE"}
"""Execution options of a connection that will write: it takes the write lock at once."""


def connect_engine(path: Path, *, foreign_keys: bool = True) -> Engine:
    """An engine for a practice file.

    `foreign_keys` off is for migrations alone: with them on, replacing a table would delete
    the rows that refer to it. Parameters are hidden in errors, since they are health data.
    """
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        echo=False,
        hide_parameters=True,
        poolclass=None if foreign_keys else NullPool,
    )

    patience = _Patience()

    @event.listens_for(engine, "connect")
    def _set_up(connection: DBAPIConnection, _: ConnectionPoolEntry) -> None:
        connection.isolation_level = None
        cursor = connection.cursor()
        cursor.execute(f"PRAGMA busy_timeout = {BUSY_MS}")
        cursor.execute("PRAGMA journal_mode = WAL")
        cursor.execute(f"PRAGMA synchronous = {SYNCHRONOUS}")
        cursor.execute("PRAGMA temp_store = MEMORY")
        cursor.execute("PRAGMA trusted_schema = OFF")
        cursor.execute(f"PRAGMA foreign_keys = {'ON' if foreign_keys else 'OFF'}")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if connection.get_execution_options().get("sennight_begin") == "IMMEDIATE":
            patience.begin_writing(connection)
        else:
            connection.exec_driver_sql("BEGIN DEFERRED")

    return engine


class _Patience:
    """How long a save waits for a file that another program holds."""

    def __init__(self) -> None:
        self._waited_in_vain = False

    def begin_writing(self, connection: Connection) -> None:
        wait = STILL_BUSY_MS if self._waited_in_vain else BUSY_MS
        connection.exec_driver_sql(f"PRAGMA busy_timeout = {wait}")
        try:
            connection.exec_driver_sql("BEGIN IMMEDIATE")
        except DBAPIError as error:
            code = getattr(error.orig, "sqlite_errorcode", None)
            self._waited_in_vain = code == sqlite3.SQLITE_BUSY
            raise
        self._waited_in_vain = False


def raw_connection(path: Path, *, any_thread: bool = False) -> sqlite3.Connection:
    """A plain connection to a file that is there, for checks and backups."""
    return sqlite3.connect(path, isolation_level=None, check_same_thread=not any_thread)
