"""Decisions of two more kinds, and decisions that were struck out.

A remedy can join a phase, and another formula can take a remedy's place (`formula`). A version of
a course names the decisions that it holds for entered in error, by their places; the decisions
themselves stay as they were recorded.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"

_KINDS = "'extend', 'advance', 'pause', 'flare', 'redirect', 'stop', 'end', 'join', 'reformulate'"
_COLUMNS = (
    "id, place, course_id, version, change, decided, reason, phase, remedy, first_day, last_day, "
    "amount, in_weeks, mode, take"
)


def upgrade() -> None:
    op.create_table(
        "new_revision",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("change", sa.Text(), nullable=False),
        sa.Column("decided", sa.Date(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("phase", sa.Text(), nullable=True),
        sa.Column("remedy", sa.Text(), nullable=True),
        sa.Column("first_day", sa.Date(), nullable=True),
        sa.Column("last_day", sa.Date(), nullable=True),
        sa.Column("amount", sa.Integer(), nullable=True),
        sa.Column("in_weeks", sa.Boolean(), nullable=True),
        sa.Column("mode", sa.Text(), nullable=True),
        sa.Column("take", sa.Text(), nullable=True),
        sa.Column("formula", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_course_revision"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_course_revision_course_id_course"
        ),
        sa.UniqueConstraint("course_id", "place", name="uq_course_revision_course_id_place"),
        sa.CheckConstraint(f"change IN ({_KINDS})", name="ck_course_revision_change"),
    )
    op.execute(
        f"INSERT INTO new_revision ({_COLUMNS}) SELECT {_COLUMNS} FROM course_revision "  # noqa: S608
        "ORDER BY id"
    )
    op.drop_table("course_revision")
    op.rename_table("new_revision", "course_revision")
    op.create_table(
        "course_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("course_version_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("struck", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_course_void"),
        sa.ForeignKeyConstraint(
            ["course_version_id"],
            ["course_version.id"],
            name="fk_course_void_course_version_id_course_version",
        ),
        sa.UniqueConstraint(
            "course_version_id", "place", name="uq_course_void_course_version_id_place"
        ),
    )
    for table in ("course_revision", "course_void"):
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )
