"""The dispensary: deliveries, everything that moved, batches with their parts, and who got them.

What is held is nowhere kept; it is the sum of the movements. Nothing is ever changed or removed.
"""

from __future__ import annotations

from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import CheckConstraint, ForeignKey, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from sennight.store.tables.base import Base, KeyedRow, ListRow


class DeliveryRow(Base):
    """One supplier's batch of a material."""

    __tablename__ = "delivery"
    __table_args__ = (
        CheckConstraint("held IN ('dried', 'powder', 'extract', 'liquid', 'other')", name="held"),
    )

    id: Mapped[str] = mapped_column(primary_key=True)
    recorded: Mapped[datetime]
    material: Mapped[str] = mapped_column(index=True)
    held: Mapped[str]
    unit: Mapped[str]
    ratio: Mapped[Fraction | None]
    ethanol: Mapped[Fraction | None]
    supplier: Mapped[str]
    batch: Mapped[str]
    best_before: Mapped[date | None]
    cost: Mapped[Fraction | None]
    made_as: Mapped[str | None] = mapped_column(ForeignKey("batch.id"), index=True)


class BatchRow(Base):
    """A remedy as it was prepared, with the formula of that day."""

    __tablename__ = "batch"
    __table_args__ = (UniqueConstraint("number"),)

    id: Mapped[str] = mapped_column(primary_key=True)
    recorded: Mapped[datetime]
    number: Mapped[str]
    formula: Mapped[str]
    amount: Mapped[Fraction]
    unit: Mapped[str]
    made_on: Mapped[date]
    maker: Mapped[str]
    use_by: Mapped[date]
    note: Mapped[str]


class BatchPart(ListRow, Base):
    """What went into a batch; without a delivery where none is known."""

    __tablename__ = "batch_part"
    __table_args__ = (UniqueConstraint("batch_id", "place"),)

    batch_id: Mapped[str] = mapped_column(ForeignKey("batch.id"))
    herb: Mapped[str]
    amount: Mapped[Fraction]
    unit: Mapped[str]
    delivery_id: Mapped[str | None] = mapped_column(ForeignKey("delivery.id"), index=True)


class StockMovement(KeyedRow, Base):
    """A rise or fall of a delivery's stock."""

    __tablename__ = "stock_movement"
    __table_args__ = (
        CheckConstraint(
            "kind IN ('received', 'used', 'corrected', 'counted', 'discarded')", name="kind"
        ),
    )

    recorded: Mapped[datetime]
    delivery_id: Mapped[str] = mapped_column(ForeignKey("delivery.id"), index=True)
    day: Mapped[date]
    kind: Mapped[str]
    amount: Mapped[Fraction]
    reason: Mapped[str]
    batch_id: Mapped[str | None] = mapped_column(ForeignKey("batch.id"))


class HandOver(KeyedRow, Base):
    """So much of a batch that went to a client, for a remedy of a course."""

    __tablename__ = "hand_over"

    recorded: Mapped[datetime]
    batch_id: Mapped[str] = mapped_column(ForeignKey("batch.id"), index=True)
    client_id: Mapped[str] = mapped_column(ForeignKey("client.id"), index=True)
    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"), index=True)
    remedy: Mapped[str]
    day: Mapped[date]
    amount: Mapped[Fraction]
    unit: Mapped[str]
    containers: Mapped[int]
    by: Mapped[str]


class PriceRuleRow(KeyedRow, Base):
    """How a form is priced, or (without a form) all others, as recorded at one time."""

    __tablename__ = "price_rule"

    recorded: Mapped[datetime]
    form: Mapped[str]
    markup: Mapped[Fraction]
    fee: Mapped[Fraction]
    tax: Mapped[Fraction]
    step: Mapped[Fraction]
    currency: Mapped[str]


class StockMinimum(KeyedRow, Base):
    """How much of a material is to be left, as recorded at one time."""

    __tablename__ = "stock_minimum"
    __table_args__ = (
        CheckConstraint("held IN ('dried', 'powder', 'extract', 'liquid', 'other')", name="held"),
    )

    recorded: Mapped[datetime]
    material: Mapped[str]
    held: Mapped[str]
    unit: Mapped[str]
    ratio: Mapped[Fraction | None]
    ethanol: Mapped[Fraction | None]
    amount: Mapped[Fraction]


class DispensarySettingRow(KeyedRow, Base):
    """How supply is reckoned and amounts are rounded, as recorded at one time."""

    __tablename__ = "dispensary_setting"

    recorded: Mapped[datetime]
    as_needed: Mapped[Fraction]
    spillage: Mapped[Fraction]
    ml: Mapped[Fraction]
    grams: Mapped[Fraction]
    capsules: Mapped[Fraction]
    weighed: Mapped[Fraction]
    measured: Mapped[Fraction]
    order_days: Mapped[int]


class ReturnedRow(KeyedRow, Base):
    """What was left of a remedy on a day; the last one of a day holds, without an amount none."""

    __tablename__ = "returned"

    recorded: Mapped[datetime]
    course_id: Mapped[str] = mapped_column(ForeignKey("course.id"), index=True)
    remedy: Mapped[str]
    day: Mapped[date]
    amount: Mapped[Fraction | None]
    unit: Mapped[str]
    within: Mapped[Fraction]
    lost: Mapped[Fraction]
    is_kept: Mapped[bool]
    note: Mapped[str]
