"""The dispensary: deliveries, what moved, batches with their parts, and who got them."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"

_TABLES = ("batch", "delivery", "batch_part", "stock_movement", "hand_over")


def upgrade() -> None:
    _batches()
    _deliveries()
    _parts_and_movements()
    _handed_over()
    for table in _TABLES:
        for action in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER keep_{table}_from_{action.lower()} BEFORE {action} ON {table} "
                "BEGIN SELECT RAISE(ABORT, 'records are kept for good'); END"
            )


def _batches() -> None:
    op.create_table(
        "batch",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("formula", sa.Text(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("made_on", sa.Date(), nullable=False),
        sa.Column("maker", sa.Text(), nullable=False),
        sa.Column("use_by", sa.Date(), nullable=False),
        sa.Column("note", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_batch"),
        sa.UniqueConstraint("number", name="uq_batch_number"),
    )


def _deliveries() -> None:
    op.create_table(
        "delivery",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("material", sa.Text(), nullable=False),
        sa.Column("held", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("ratio", sa.Text(), nullable=True),
        sa.Column("ethanol", sa.Text(), nullable=True),
        sa.Column("supplier", sa.Text(), nullable=False),
        sa.Column("batch", sa.Text(), nullable=False),
        sa.Column("best_before", sa.Date(), nullable=True),
        sa.Column("cost", sa.Text(), nullable=True),
        sa.Column("made_as", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_delivery"),
        sa.ForeignKeyConstraint(["made_as"], ["batch.id"], name="fk_delivery_made_as_batch"),
        sa.CheckConstraint(
            "held IN ('dried', 'powder', 'extract', 'liquid', 'other')", name="ck_delivery_held"
        ),
    )
    op.create_index("ix_delivery_material", "delivery", ["material"])
    op.create_index("ix_delivery_made_as", "delivery", ["made_as"])


def _parts_and_movements() -> None:
    op.create_table(
        "batch_part",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("place", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.Text(), nullable=False),
        sa.Column("herb", sa.Text(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("delivery_id", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_batch_part"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_batch_part_batch_id_batch"),
        sa.ForeignKeyConstraint(
            ["delivery_id"], ["delivery.id"], name="fk_batch_part_delivery_id_delivery"
        ),
        sa.UniqueConstraint("batch_id", "place", name="uq_batch_part_batch_id_place"),
    )
    op.create_index("ix_batch_part_delivery_id", "batch_part", ["delivery_id"])
    op.create_table(
        "stock_movement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("delivery_id", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("batch_id", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_stock_movement"),
        sa.ForeignKeyConstraint(
            ["delivery_id"], ["delivery.id"], name="fk_stock_movement_delivery_id_delivery"
        ),
        sa.ForeignKeyConstraint(
            ["batch_id"], ["batch.id"], name="fk_stock_movement_batch_id_batch"
        ),
        sa.CheckConstraint(
            "kind IN ('received', 'used', 'corrected', 'counted', 'discarded')",
            name="ck_stock_movement_kind",
        ),
    )
    op.create_index("ix_stock_movement_delivery_id", "stock_movement", ["delivery_id"])


def _handed_over() -> None:
    op.create_table(
        "hand_over",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("recorded", sa.Text(), nullable=False),
        sa.Column("batch_id", sa.Text(), nullable=False),
        sa.Column("client_id", sa.Text(), nullable=False),
        sa.Column("course_id", sa.Text(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("amount", sa.Text(), nullable=False),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("containers", sa.Integer(), nullable=False),
        sa.Column("by", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_hand_over"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_hand_over_batch_id_batch"),
        sa.ForeignKeyConstraint(
            ["client_id"], ["client.id"], name="fk_hand_over_client_id_client"
        ),
        sa.ForeignKeyConstraint(
            ["course_id"], ["course.id"], name="fk_hand_over_course_id_course"
        ),
    )
    for column in ("batch_id", "client_id", "course_id"):
        op.create_index(f"ix_hand_over_{column}", "hand_over", [column])
