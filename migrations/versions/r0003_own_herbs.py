"""The practice's own herbs, ranges and notes on herbs.

All that is added is kept for good, and guarded by triggers as the first tables are.
"""

from typing import Any

import sqlalchemy as sa
from alembic import op
from sqlalchemy.schema import SchemaItem

revision = "0003"
down_revision = "0002"

KEPT = ("own_herb_version", "own_herb_fact", "own_range_version", "herb_note_version")


def upgrade() -> None:
    op.create_table(
        "own_herb",
        *_need(sa.Text, "id"),
        *_need(sa.Integer, "version"),
        sa.PrimaryKeyConstraint("id", name="pk_own_herb"),
    )
    _versions(
        "own_herb_version",
        *_need(sa.Text, "own_herb_id", "name", "latin", "family", "part"),
        *_need(sa.Text, "pregnancy", "lactation"),
        *_may(sa.Text, "min_age", "min_ethanol"),
        *_need(sa.Text, "remark", "reference"),
        *_need(sa.Boolean, "retired"),
        _refers("own_herb_version", "own_herb"),
        _once("own_herb_version", "own_herb_id", "version"),
    )
    _facts()
    _versions(
        "own_range_version",
        *_need(sa.Text, "herb", "form"),
        *_may(sa.Text, "low", "high", "ratio"),
        *_need(sa.Text, "reference"),
        _once("own_range_version", "herb", "form", "version"),
    )
    _versions(
        "herb_note_version",
        *_need(sa.Text, "herb", "text"),
        _once("herb_note_version", "herb", "version"),
    )
    for table in KEPT:
        _forbid("UPDATE", table)
    for table in (*KEPT, "own_herb"):
        _forbid("DELETE", table)


def _facts() -> None:
    op.create_table(
        "own_herb_fact",
        *_need(sa.Integer, "id", "place", "own_herb_version_id"),
        *_need(sa.Text, "kind", "tag"),
        *_may(sa.Text, "level"),
        *_need(sa.Text, "text"),
        sa.PrimaryKeyConstraint("id", name="pk_own_herb_fact"),
        _refers("own_herb_fact", "own_herb_version"),
        _once("own_herb_fact", "own_herb_version_id", "place"),
        sa.CheckConstraint(
            "kind IN ('name', 'action', 'constituent', 'caution')", name="ck_own_herb_fact_kind"
        ),
    )


# Ways of saying a table, of this migration alone


def _versions(name: str, *items: SchemaItem) -> None:
    """A table of versions, numbered from 1."""
    op.create_table(
        name,
        *_need(sa.Integer, "id", "version"),
        *_need(sa.Text, "saved"),
        *items,
        sa.PrimaryKeyConstraint("id", name=f"pk_{name}"),
    )


def _need(kind: type[sa.types.TypeEngine[Any]], *names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, kind(), nullable=False) for name in names]


def _may(kind: type[sa.types.TypeEngine[Any]], *names: str) -> list[sa.Column[Any]]:
    return [sa.Column(name, kind(), nullable=True) for name in names]


def _refers(table: str, target: str) -> SchemaItem:
    name = f"fk_{table}_{target}_id_{target}"
    return sa.ForeignKeyConstraint([f"{target}_id"], [f"{target}.id"], name=name)


def _once(table: str, *columns: str) -> SchemaItem:
    return sa.UniqueConstraint(*columns, name=f"uq_{table}_{'_'.join(columns)}")


def _forbid(action: str, table: str) -> None:
    op.execute(
        f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
        "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
    )
