"""Coming days of courses, kept beside them, and what was said of each.

The days of the courses that are there are worked out by the program in the course of its work,
since a migration knows nothing of how a course is laid out.
"""

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"


def upgrade() -> None:
    op.create_table(
        "course_standing",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("read_as", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("first", sa.Integer(), nullable=True),
        sa.Column("last", sa.Integer(), nullable=True),
        sa.Column("diary_since", sa.Integer(), nullable=True),
        sa.Column("checked_as", sa.Text(), nullable=True),
        sa.Column("found", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("number", name="pk_course_standing"),
        sa.UniqueConstraint("course_id", name="uq_course_standing_course_id"),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_course_standing_course_id_course"
        ),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_course_standing_client_id_client"
        ),
    )
    op.create_index("ix_course_standing_client_id", "course_standing", ["client_id"])
    op.create_table(
        "coming_day",
        sa.Column("matter", sa.Text(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("course", sa.Integer(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("until", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("matter", "day", "course", "what", name="pk_coming_day"),
        sa.ForeignKeyConstraint(
            ["course"], ["course_standing.number"], name="fk_coming_day_course_course_standing"
        ),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_coming_day_course", "coming_day", ["course"])
    _marks()
    _findings()
    for table in ("matter_mark", "given_findings"):
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} "
                f"ON {table} BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )


def _marks() -> None:
    op.create_table(
        "matter_mark",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=True),
        sa.Column("matter", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("day", sa.Integer(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("put_to", sa.Integer(), nullable=True),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_matter_mark"),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_matter_mark_client_id_client"
        ),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_matter_mark_course_id_course"
        ),
        sa.CheckConstraint("state IN ('open', 'done', 'put off')", name="ck_matter_mark_state"),
    )
    op.create_index("ix_matter_mark_day", "matter_mark", ["day"])
    op.create_index("ix_matter_mark_put_to", "matter_mark", ["put_to"])


def _findings() -> None:
    op.create_table(
        "given_findings",
        sa.Column("giving_id", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("found", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("giving_id", name="pk_given_findings"),
        sa.ForeignKeyConstraint(
            ["giving_id"], ["giving.id"], name="fk_given_findings_giving_id_giving"
        ),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_given_findings_course_id_course"
        ),
    )
    op.create_index("ix_given_findings_course_id", "given_findings", ["course_id"])
