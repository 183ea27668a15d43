"""What a phase holds beside its remedies, and more ways to say how a line is taken.

Advice, the least weeks of a phase, steps on any day, where and how a line is used, the day from
which it counts its cycles, and ceilings of a day over several remedies.
"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"


def upgrade() -> None:
    op.add_column("protocol_phase", sa.Column("at_least_weeks", sa.Integer(), nullable=True))
    op.add_column("protocol_step", sa.Column("more_days", sa.Integer(), nullable=True))
    for name in ("count_from", "site", "note"):
        op.add_column("protocol_line", sa.Column(name, sa.Text(), nullable=True))
    _list(
        "protocol_advice",
        "protocol_phase",
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("take", sa.Text(), nullable=True),
        sa.Column("remind", sa.Boolean(), nullable=False),
        sa.Column("diary", sa.Boolean(), nullable=False),
    )
    _list("protocol_ceiling", "protocol_version", sa.Column("most", sa.Integer(), nullable=False))
    _list(
        "protocol_ceiling_remedy",
        "protocol_ceiling",
        sa.Column("remedy_id", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["remedy_id"], ["remedy.id"], name="fk_protocol_ceiling_remedy_remedy_id_remedy"
        ),
    )


def _list(name: str, owner: str, *columns: sa.schema.SchemaItem) -> None:
    """A table of the rows of a list, kept for good."""
    op.create_table(
        name,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column(f"{owner}_id", sa.Integer(), nullable=False),
        *columns,
        sa.PrimaryKeyConstraint("id", name=f"pk_{name}"),
        sa.ForeignKeyConstraint(
            [f"{owner}_id"], [f"{owner}.id"], name=f"fk_{name}_{owner}_id_{owner}"
        ),
        sa.UniqueConstraint(f"{owner}_id", "place", name=f"uq_{name}_{owner}_id_place"),
    )
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER keep_{name}_from_{action.lower()} BEFORE {action} ON {name} "
            "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
        )
