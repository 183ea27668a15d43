"""The practice's card has lines of its own for labels, as local rules want them."""

import sqlalchemy as sa
from alembic import op

revision = "0023"
down_revision = "0022"


def upgrade() -> None:
    op.add_column("card_version", sa.Column("on_labels", sa.Text(), nullable=True))
