"""What a client said of single days, every wording ever entered, and an index of the words."""

import sqlalchemy as sa
from alembic import op

revision = "0024"
down_revision = "0023"


def upgrade() -> None:
    op.create_table(
        "day_note",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("entered", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_day_note"),
        sa.ForeignKeyConstraint(["course_id"], ["course.id"], name="fk_day_note_course_id_course"),
    )
    op.create_index("ix_day_note_course_id_day", "day_note", ["course_id", "day"])
    # Words are found as those of consultations are.
    op.execute(
        "CREATE VIRTUAL TABLE day_note_index USING fts5("
        "words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3')"
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_day_note_from_{action.lower()} BEFORE {action} "
            "ON day_note BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
