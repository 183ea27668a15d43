"""What a remedy's own dropper holds, and what the contents of a bought-in product are told of."""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"


def upgrade() -> None:
    for name in ("dropperful", "dropperful_unit", "mg_in", "mg_in_unit"):
        op.add_column("remedy_version", sa.Column(name, sa.Text(), nullable=True))
