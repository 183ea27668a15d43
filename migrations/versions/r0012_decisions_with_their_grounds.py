"""What a decision about a finding was made for, and more that can be struck out.

A decision keeps its day and, as JSON, what was taken and known of the client then (`made_for`,
empty where an earlier program kept nothing); `discussed` tells a caution that was talked over from
a finding that was gone ahead with. Decisions, reactions and courses that were entered in error
stay, with why and since when. A check for red flags says why those of the check before are gone.
"""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"


def upgrade() -> None:
    for table in ("course_accept", "course_version"):
        op.add_column(table, sa.Column("void", sa.Text(), nullable=True))
        op.add_column(table, sa.Column("void_on", sa.Date(), nullable=True))
    op.add_column("course_accept", sa.Column("decided", sa.Date(), nullable=True))
    op.add_column("course_accept", sa.Column("made_for", sa.Text(), nullable=True))
    op.add_column("course_accept", sa.Column("discussed", sa.Boolean(), nullable=True))
    op.add_column("red_flag_check", sa.Column("cleared", sa.Text(), nullable=True))
    op.create_table(
        "reaction_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("reaction_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("struck", sa.Date(), nullable=True),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_reaction_void"),
        sa.ForeignKeyConstraint(
            ["reaction_id"], ["reaction.id"], name="fk_reaction_void_reaction_id_reaction"
        ),
        sa.UniqueConstraint("reaction_id", name="uq_reaction_void_reaction_id"),
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_reaction_void_from_{action.lower()} BEFORE {action} "
            "ON reaction_void BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
