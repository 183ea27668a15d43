"""More forms of remedies, and what they need.

What herbs are in or thinned with (`base`, with its parts and sugar), percent by weight and drops
for what goes on the skin, and how a powder is measured and taken. Which forms there are is said
by the program and no longer by the table.
"""

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"

_VERSION = (
    "id, version, remedy_id, saved, name, form, note, drops_per_ml, grams_per_cup, water_ml, "
    "method, minutes"
)
_INGREDIENT = "id, place, remedy_version_id, herb, parts, ratio, ethanol, mg, filling"


def upgrade() -> None:
    op.create_table(
        "new_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("remedy_id", sa.Text(), nullable=False),
        sa.Column("saved", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("drops_per_ml", sa.Text(), nullable=False),
        sa.Column("grams_per_cup", sa.Text(), nullable=True),
        sa.Column("water_ml", sa.Text(), nullable=True),
        sa.Column("method", sa.Text(), nullable=True),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.Column("base", sa.Text(), nullable=True),
        sa.Column("base_parts", sa.Text(), nullable=True),
        sa.Column("sugar", sa.Text(), nullable=True),
        sa.Column("batch_g", sa.Text(), nullable=True),
        sa.Column("spoon_g", sa.Text(), nullable=True),
        sa.Column("stirred_into", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_remedy_version"),
        sa.CheckConstraint("form <> ''", name="ck_remedy_version_form"),
        sa.ForeignKeyConstraint(
            ["remedy_id"], ["remedy.id"], name="fk_remedy_version_remedy_id_remedy"
        ),
        sa.UniqueConstraint("remedy_id", "version", name="uq_remedy_version_remedy_id_version"),
    )
    op.create_table(
        "new_ingredient",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("remedy_version_id", sa.Integer(), nullable=False),
        sa.Column("herb", sa.Text(), nullable=False),
        sa.Column("parts", sa.Text(), nullable=True),
        sa.Column("ratio", sa.Text(), nullable=True),
        sa.Column("ethanol", sa.Text(), nullable=True),
        sa.Column("mg", sa.Text(), nullable=True),
        sa.Column("filling", sa.Text(), nullable=True),
        sa.Column("percent", sa.Text(), nullable=True),
        sa.Column("drops", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_remedy_ingredient"),
        sa.ForeignKeyConstraint(
            ["remedy_version_id"],
            ["remedy_version.id"],
            name="fk_remedy_ingredient_remedy_version_id_remedy_version",
        ),
        sa.UniqueConstraint(
            "remedy_version_id", "place", name="uq_remedy_ingredient_remedy_version_id_place"
        ),
    )
    _take_over("remedy_version", "new_version", _VERSION)
    _take_over("remedy_ingredient", "new_ingredient", _INGREDIENT)


def _take_over(table: str, new: str, columns: str) -> None:
    op.execute(
        f"INSERT INTO {new} ({columns}) SELECT {columns} FROM {table} ORDER BY id"  # noqa: S608
    )
    op.drop_table(table)
    op.rename_table(new, table)
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
            "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
