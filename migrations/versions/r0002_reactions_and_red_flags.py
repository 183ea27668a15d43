"""When medicines are taken, reactions of clients, and checks for red flags.

All that is added is kept for good, and guarded by triggers as the first tables are.
"""

import sqlalchemy as sa
from alembic import op
from sqlalchemy.schema import SchemaItem

revision = "0002"
down_revision = "0001"

KEPT = ("reaction", "reaction_herb", "red_flag_check", "red_flag_tick")


def upgrade() -> None:
    op.add_column("client_fact", sa.Column("at", sa.Text(), nullable=True))
    _table(
        "reaction",
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=True),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        _refers("reaction", "client_id", "client"),
        _refers("reaction", "course_id", "course"),
    )
    _list("reaction_herb", "reaction", "herb")
    _table(
        "red_flag_check",
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        _refers("red_flag_check", "client_id", "client"),
    )
    _list("red_flag_tick", "red_flag_check", "flag")
    for table in ("reaction", "red_flag_check"):
        op.create_index(f"ix_{table}_client_id", table, ["client_id"])
    for table in KEPT:
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )


# Ways of saying a table, of this migration alone


def _table(name: str, *items: SchemaItem) -> None:
    key = sa.PrimaryKeyConstraint("id", name=f"pk_{name}")
    op.create_table(name, sa.Column("id", sa.Integer(), nullable=False), *items, key)


def _list(name: str, of: str, text: str) -> None:
    """A list of texts that belongs to another table's row, in the order of `place`."""
    _table(
        name,
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column(f"{of}_id", sa.Integer(), nullable=False),
        sa.Column(text, sa.Text(), nullable=False),
        _refers(name, f"{of}_id", of),
        sa.UniqueConstraint(f"{of}_id", "place", name=f"uq_{name}_{of}_id_place"),
    )


def _refers(table: str, column: str, target: str) -> SchemaItem:
    name = f"fk_{table}_{column}_{target}"
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=name)
