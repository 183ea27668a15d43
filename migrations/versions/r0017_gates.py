"""Gates of every kind: what is waited for (`gate_wants`), how much of it, and by which week.

A fall by so many percent stays in the column that it had.
"""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"


def upgrade() -> None:
    op.add_column("protocol_phase", sa.Column("gate_wants", sa.Text(), nullable=True))
    op.add_column("protocol_phase", sa.Column("gate_amount", sa.Text(), nullable=True))
    op.add_column("protocol_phase", sa.Column("gate_by_weeks", sa.Integer(), nullable=True))
