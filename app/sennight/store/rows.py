"""Reading many rows at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar, TypeVarTuple, cast

from sqlalchemy import Select
from sqlalchemy.dialects import sqlite
from sqlalchemy.orm import Session

from sennight.store.tables.base import Base

RowT = TypeVar("RowT", bound=Base)
KeyT = TypeVar("KeyT")
Columns = TypeVarTuple("Columns")


def plain_rows(session: Session, kind: type[RowT], query: Select[RowT]) -> Sequence[RowT]:
    """The rows of a query as named tuples with the columns of `kind`, for reading alone.

    Mapped objects that nobody changes cost three times as much, which is felt in a practice
    of thousands; a tuple has the same attributes, relationships excepted.
    """
    columns = kind.__table__.columns
    statement = query.with_only_columns(*columns, maintain_column_froms=True)
    return cast("Sequence[RowT]", session.execute(statement).all())


def bare_rows(session: Session, query: Select[*Columns]) -> list[tuple[*Columns]]:
    """The rows of a query as SQLite gives them, for lists of thousands: no types, no names.

    What SQLAlchemy makes of a row costs more than reading it.
    """
    compiled = query.compile(dialect=sqlite.dialect())
    values = compiled.construct_params()
    named = [values[name] for name in compiled.positiontup or ()]
    cursor = session.connection().connection.cursor()
    try:
        cursor.execute(str(compiled), tuple(named))
        return list(cursor.fetchall())
    finally:
        cursor.close()


def as_rows(kind: type[RowT], rows: Sequence[object]) -> Sequence[RowT]:  # noqa: ARG001
    """Named tuples that have the columns of `kind` among theirs, taken for its rows."""
    return cast("Sequence[RowT]", rows)


def grouped(rows: Sequence[RowT], key: Callable[[RowT], KeyT]) -> Mapping[KeyT, list[RowT]]:
    """Rows by a key, in their order; an empty list for a key that none has."""
    groups: defaultdict[KeyT, list[RowT]] = defaultdict(list)
    for row in rows:
        groups[key(row)].append(row)
    return groups
