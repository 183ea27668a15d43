"""How a practice reckons supply, and what was left of a remedy when a client came."""

import sqlalchemy as sa
from alembic import op

revision = "0026"
down_revision = "0025"


def upgrade() -> None:
    _settings()
    _returned()
    for table in ("dispensary_setting", "returned"):
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} "
                f"ON {table} BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )


def _settings() -> None:
    amounts = ("as_needed", "spillage", "ml", "grams", "capsules", "weighed", "measured")
    op.create_table(
        "dispensary_setting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        *(sa.Column(name, sa.Text(), nullable=False) for name in amounts),
        sa.Column("order_days", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_dispensary_setting"),
    )


def _returned() -> None:
    op.create_table(
        "returned",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("within", sa.Text(), nullable=False),
        sa.Column("lost", sa.Text(), nullable=False),
        sa.Column("is_kept", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_returned"),
        sa.ForeignKeyConstraint(["course_id"], ["course.id"], name="fk_returned_course_id_course"),
    )
    op.create_index("ix_returned_course_id", "returned", ["course_id"])
