"""What one bottle, bag or tub of a remedy holds as it is handed out."""

import sqlalchemy as sa
from alembic import op

revision = "0025"
down_revision = "0024"


def upgrade() -> None:
    for name in ("container", "container_unit"):
        op.add_column("remedy_version", sa.Column(name, sa.Text(), nullable=True))
