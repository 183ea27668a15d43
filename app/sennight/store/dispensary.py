"""The dispensary: rows and values, and the repository, which only ever adds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from sennight.domain.directions.directions import Unit
from sennight.domain.dispensary.batches import Batch, HandedOver, UsedPart
from sennight.domain.dispensary.returned import Returned
from sennight.domain.dispensary.stock import Delivery, Held, Material, Movement, MovementKind
from sennight.domain.supply.quantities import Quantity
from sennight.store.decoding import decoding
from sennight.store.errors import MissingRecordError
from sennight.store.rows import grouped, plain_rows
from sennight.store.snapshots import read_remedy, write_remedy
from sennight.store.tables.dispensary import (
    BatchPart,
    BatchRow,
    DeliveryRow,
    HandOver,
    ReturnedRow,
    StockMovement,
)
from sennight.store.touched import touched

FEW = 1000
"""Up to so many batches their parts are asked for by name; of more, all parts are read."""


class DispensaryRepository:
    """Stock, batches and what was handed over, in one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def receive(self, delivery: Delivery, *, recorded: datetime) -> None:
        """Keep a delivery; what of it came in is a movement."""
        self._session.add(_delivery_row(delivery, recorded))
        self._session.flush()

    def move(self, movements: Iterable[Movement], *, recorded: datetime) -> None:
        """Keep movements."""
        self._session.add_all(_movement_row(movement, recorded) for movement in movements)
        self._session.flush()

    def make(self, batch: Batch, *, recorded: datetime) -> None:
        """Keep a batch with its parts."""
        self._session.add(_batch_row(batch, recorded))
        self._session.flush()
        self._session.add_all(
            BatchPart(
                place=place,
                batch_id=batch.id,
                herb=part.herb,
                amount=part.amount.amount,
                unit=str(part.amount.unit),
                delivery_id=part.delivery,
            )
            for place, part in enumerate(batch.parts)
        )
        self._session.flush()

    def hand_over(self, handed: HandedOver, *, recorded: datetime) -> None:
        """Keep that a client got so much of a batch."""
        touched(self._session).courses.setdefault(handed.course)
        self._session.add(
            HandOver(
                recorded=recorded,
                batch_id=handed.batch,
                client_id=handed.client,
                course_id=handed.course,
                remedy=handed.remedy,
                day=handed.day,
                amount=handed.amount.amount,
                unit=str(handed.amount.unit),
                containers=handed.containers,
                by=handed.by,
            )
        )
        self._session.flush()

    def deliveries(self) -> tuple[Delivery, ...]:
        """All deliveries, in the order in which they were recorded."""
        query = select(DeliveryRow).order_by(DeliveryRow.recorded, DeliveryRow.id)
        return tuple(_delivery(row) for row in plain_rows(self._session, DeliveryRow, query))

    def movements(self, delivery: str | None = None) -> tuple[Movement, ...]:
        """All movements, or those of one delivery, in the order in which they were recorded."""
        query = select(StockMovement).order_by(StockMovement.id)
        if delivery is not None:
            query = query.where(StockMovement.delivery_id == delivery)
        return tuple(_movement(row) for row in plain_rows(self._session, StockMovement, query))

    def batches_on(self, day: date) -> int:
        """How many batches were made on a day."""
        query = select(func.count()).where(BatchRow.made_on == day)
        return self._session.execute(query).scalar_one()

    def batches(self) -> tuple[Batch, ...]:
        """All batches, the newest first."""
        newest = BatchRow.recorded.desc()
        rows = plain_rows(self._session, BatchRow, select(BatchRow).order_by(newest))
        return self._with_parts(rows)

    def batch(self, batch_id: str) -> Batch:
        """One batch; raises MissingRecordError."""
        batches = self.batches_of((batch_id,))
        if not batches:
            raise MissingRecordError("batch", batch_id)
        return batches[0]

    def batches_by_id(self, batch_ids: Iterable[str]) -> dict[str, Batch]:
        """The batches of these ids that there are, by their ids."""
        return {batch.id: batch for batch in self.batches_of(tuple(set(batch_ids)))}

    def batches_of(self, batch_ids: Sequence[str]) -> tuple[Batch, ...]:
        """The batches of these ids that there are, in the order in which they were made."""
        query = select(BatchRow).where(BatchRow.id.in_(batch_ids)).order_by(BatchRow.recorded)
        return self._with_parts(plain_rows(self._session, BatchRow, query))

    def _with_parts(self, rows: Iterable[BatchRow]) -> tuple[Batch, ...]:
        heads = list(rows)
        query = select(BatchPart).order_by(BatchPart.batch_id, BatchPart.place)
        if len(heads) <= FEW:
            query = query.where(BatchPart.batch_id.in_([row.id for row in heads]))
        parts = grouped(plain_rows(self._session, BatchPart, query), lambda row: row.batch_id)
        return tuple(_batch(row, parts) for row in heads)

    def handed_to(self, client_id: str) -> tuple[HandedOver, ...]:
        """What a client got, the newest last."""
        query = select(HandOver).where(HandOver.client_id == client_id).order_by(HandOver.id)
        return tuple(_handed(row) for row in plain_rows(self._session, HandOver, query))

    def handed_for(self, course_id: str) -> tuple[HandedOver, ...]:
        """What was handed over for a course, the newest last."""
        query = select(HandOver).where(HandOver.course_id == course_id).order_by(HandOver.id)
        return tuple(_handed(row) for row in plain_rows(self._session, HandOver, query))

    def handed_from(self, batch_ids: Iterable[str]) -> tuple[HandedOver, ...]:
        """Who got anything of these batches, in the order in which it was recorded."""
        query = select(HandOver).where(HandOver.batch_id.in_(list(batch_ids)))
        rows = plain_rows(self._session, HandOver, query.order_by(HandOver.id))
        return tuple(_handed(row) for row in rows)

    def put_returned(self, returned: Returned, *, recorded: datetime) -> None:
        """Keep what was left of a remedy on a day, in place of what was said of it before."""
        self._put_returned(returned, returned.left.amount, recorded)

    def withdraw_returned(self, returned: Returned, *, recorded: datetime) -> None:
        """Take back what was said to be left; the record of it stays."""
        self._put_returned(returned, None, recorded)

    def _put_returned(
        self, returned: Returned, amount: Fraction | None, recorded: datetime
    ) -> None:
        touched(self._session).courses.setdefault(returned.course)
        self._session.add(
            ReturnedRow(
                recorded=recorded,
                course_id=returned.course,
                remedy=returned.remedy,
                day=returned.day,
                amount=amount,
                unit=str(returned.left.unit),
                within=returned.within,
                lost=returned.lost,
                is_kept=returned.is_kept,
                note=returned.note,
            )
        )
        self._session.flush()

    def returned_of(self, course_id: str) -> tuple[Returned, ...]:
        """What was left of a course's remedies, in order of the days."""
        query = select(ReturnedRow).where(ReturnedRow.course_id == course_id)
        rows = plain_rows(self._session, ReturnedRow, query.order_by(ReturnedRow.id))
        last = {(row.day, row.remedy): row for row in rows}
        return tuple(
            _returned(row, row.amount) for _, row in sorted(last.items()) if row.amount is not None
        )

    def all_handed(self) -> tuple[HandedOver, ...]:
        """Everything that was ever handed over, in the order in which it was recorded."""
        query = select(HandOver).order_by(HandOver.id)
        return tuple(_handed(row) for row in plain_rows(self._session, HandOver, query))

    def batches_with(self, delivery_id: str) -> tuple[str, ...]:
        """The batches that a delivery went into, directly or by way of what was made of it."""
        first = select(BatchPart.batch_id).where(BatchPart.delivery_id == delivery_id)
        reached = first.cte("reached", recursive=True)
        further = (
            select(BatchPart.batch_id)
            .join(DeliveryRow, DeliveryRow.id == BatchPart.delivery_id)
            .join(reached, reached.c.batch_id == DeliveryRow.made_as)
        )
        both = reached.union(further)
        return tuple(
            self._session.execute(select(both.c.batch_id).order_by(both.c.batch_id)).scalars()
        )


def _delivery_row(delivery: Delivery, recorded: datetime) -> DeliveryRow:
    material = delivery.material
    return DeliveryRow(
        id=delivery.id,
        recorded=recorded,
        material=material.name,
        held=str(material.held),
        unit=str(material.unit),
        ratio=material.ratio,
        ethanol=material.ethanol,
        supplier=delivery.supplier,
        batch=delivery.batch,
        best_before=delivery.best_before,
        cost=delivery.cost,
        made_as=delivery.made_as,
    )


def _delivery(row: DeliveryRow) -> Delivery:
    with decoding("a delivery"):
        material = Material(row.material, Held(row.held), Unit(row.unit), row.ratio, row.ethanol)
    return Delivery(
        row.id, material, row.supplier, row.batch, row.best_before, row.cost, row.made_as
    )


def _movement_row(movement: Movement, recorded: datetime) -> StockMovement:
    return StockMovement(
        recorded=recorded,
        delivery_id=movement.delivery,
        day=movement.day,
        kind=str(movement.kind),
        amount=movement.amount,
        reason=movement.reason,
        batch_id=movement.batch,
    )


def _movement(row: StockMovement) -> Movement:
    with decoding("a movement of stock"):
        kind = MovementKind(row.kind)
    return Movement(row.delivery_id, row.day, kind, row.amount, row.reason, row.batch_id)


def _batch_row(batch: Batch, recorded: datetime) -> BatchRow:
    return BatchRow(
        id=batch.id,
        recorded=recorded,
        number=batch.number,
        formula=write_remedy(batch.remedy),
        amount=batch.amount.amount,
        unit=str(batch.amount.unit),
        made_on=batch.made_on,
        maker=batch.maker,
        use_by=batch.use_by,
        note=batch.note,
    )


def _batch(row: BatchRow, parts: Mapping[str, list[BatchPart]]) -> Batch:
    return Batch(
        id=row.id,
        number=row.number,
        remedy=read_remedy(row.formula),
        amount=_quantity(row.amount, row.unit),
        made_on=row.made_on,
        maker=row.maker,
        use_by=row.use_by,
        parts=tuple(
            UsedPart(part.herb, _quantity(part.amount, part.unit), part.delivery_id)
            for part in parts[row.id]
        ),
        note=row.note,
    )


def _handed(row: HandOver) -> HandedOver:
    return HandedOver(
        row.batch_id,
        row.client_id,
        row.course_id,
        row.remedy,
        row.day,
        _quantity(row.amount, row.unit),
        row.containers,
        row.by,
    )


def _returned(row: ReturnedRow, amount: Fraction) -> Returned:
    return Returned(
        row.course_id,
        row.remedy,
        row.day,
        _quantity(amount, row.unit),
        row.within,
        row.lost,
        row.is_kept,
        row.note,
    )


def _quantity(amount: Fraction, unit: str) -> Quantity:
    with decoding("an amount"):
        return Quantity(amount, Unit(unit))
