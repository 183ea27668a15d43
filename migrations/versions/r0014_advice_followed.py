"""How often a client followed a line of advice, by day, every entry ever made."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"


def upgrade() -> None:
    op.create_table(
        "advice_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("advice", sa.Text(), nullable=False),
        sa.Column("times", sa.Integer(), nullable=False),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_advice_entry"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_advice_entry_course_id_course"
        ),
        sa.CheckConstraint("times >= 0", name="ck_advice_entry_times"),
    )
    op.create_index(
        "ix_advice_entry_course_id_day_advice", "advice_entry", ["course_id", "day", "advice"]
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_advice_entry_from_{action.lower()} BEFORE {action} "
            "ON advice_entry BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
