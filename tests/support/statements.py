"""SQL statements that are compiled once, and not anew for every practice file.

An engine keeps what it has compiled, in SQLAlchemy's words a statement together with the dialect;
and each file that a test opens has an engine and a dialect of its own. The program opens one file
and compiles each statement once; tests open thousands.
"""

from __future__ import annotations

from sqlalchemy import Connection, Engine, event
from sqlalchemy.dialects.sqlite.pysqlite import SQLiteDialect_pysqlite
from sqlalchemy.util import LRUCache

_COMPILED: LRUCache[object, object] = LRUCache(2000)


def share_compiled_statements() -> None:
    """From now on, in every engine of this process."""
    SQLiteDialect_pysqlite.__eq__ = _is_of_the_same_kind  # type: ignore[method-assign, assignment]
    SQLiteDialect_pysqlite.__hash__ = _hash_of_the_kind  # type: ignore[method-assign, assignment]
    event.listen(Engine, "engine_connect", _share)


def _share(connection: Connection) -> None:
    connection.execution_options(compiled_cache=_COMPILED)


def _is_of_the_same_kind(dialect: SQLiteDialect_pysqlite, other: object) -> bool:
    return type(dialect) is type(other)


def _hash_of_the_kind(dialect: SQLiteDialect_pysqlite) -> int:
    return hash(type(dialect))
