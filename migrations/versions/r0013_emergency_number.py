"""The practice's card has the number to call in an emergency where its clients live."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"


def upgrade() -> None:
    op.add_column("card_version", sa.Column("emergency", sa.Text(), nullable=True))
