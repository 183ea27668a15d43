"""Facts as people name them: names, doses, chosen classes; what was asked; how bad a reaction was.

In records of an earlier time the new columns are empty: nothing was typed, and nobody noted
what the client was asked about.
"""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    for name in ("name", "dose", "classes", "not_for"):
        op.add_column("client_fact", sa.Column(name, sa.Text(), nullable=True))
    for name in ("asked", "sex"):
        op.add_column("client_version", sa.Column(name, sa.Text(), nullable=True))
    for name in ("harm", "outcome"):
        op.add_column("reaction", sa.Column(name, sa.Text(), nullable=True))
