"""How a practice prices, and how much of a material it wants to have left."""

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"


def upgrade() -> None:
    op.create_table(
        "price_rule",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), nullable=False),
        sa.Column("markup", sa.Text(), nullable=False),
        sa.Column("fee", sa.Text(), nullable=False),
        sa.Column("tax", sa.Text(), nullable=False),
        sa.Column("step", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_price_rule"),
    )
    op.create_table(
        "stock_minimum",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("material", sa.Text(), nullable=False),
        sa.Column("held", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("ratio", sa.Text(), nullable=True),
        sa.Column("ethanol", sa.Text(), nullable=True),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_stock_minimum"),
        sa.CheckConstraint(
            "held IN ('dried', 'powder', 'extract', 'liquid', 'other')",
            name="ck_stock_minimum_held",
        ),
    )
    for table in ("price_rule", "stock_minimum"):
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} "
                f"ON {table} BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )
