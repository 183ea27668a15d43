"""Decisions of one more kind: the course stays as it is, which is on record with its reason."""

import sqlalchemy as sa
from alembic import op

revision = "0021"
down_revision = "0020"

_KINDS = (
    "'extend', 'advance', 'pause', 'flare', 'redirect', 'stop', 'end', 'join', 'reformulate', "
    "'stay'"
)
_COLUMNS = (
    "id, place, course_id, version, change, decided, reason, phase, remedy, first_day, last_day, "
    "amount, in_weeks, mode, take, formula"
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
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_course_revision_from_{action.lower()} BEFORE {action} "
            "ON course_revision BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
