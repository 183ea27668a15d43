"""When a client begins a flare-up plan, in the practitioner's words."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"


def upgrade() -> None:
    op.add_column("protocol_phase", sa.Column("begin_when", sa.Text(), nullable=True))
