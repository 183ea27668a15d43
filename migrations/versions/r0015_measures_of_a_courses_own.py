"""Measures of a course's own: their direction, scale and the change that matters."""

import sqlalchemy as sa
from alembic import op

revision = "0015"
down_revision = "0014"


def upgrade() -> None:
    op.create_table(
        "measure_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("measure", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("better", sa.Text(), nullable=False),
        sa.Column("low", sa.Text(), nullable=False),
        sa.Column("high", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("matters", sa.Text(), nullable=True),
        sa.Column("matters_percent", sa.Text(), nullable=True),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_measure_entry"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_measure_entry_course_id_course"
        ),
    )
    op.create_index("ix_measure_entry_course_id", "measure_entry", ["course_id"])
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_measure_entry_from_{action.lower()} BEFORE {action} "
            "ON measure_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
