"""Checks for red flags: rows and values, and the repository, which only ever adds."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from sennight.domain.safety.red_flags import RedFlagCheck
from sennight.store.rows import grouped, plain_rows
from sennight.store.tables.clients import RedFlagCheckRow, RedFlagTick
from sennight.store.touched import touched


class RedFlagRepository:
    """The checks for red flags of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, client_id: str, check: RedFlagCheck, *, recorded: datetime) -> None:
        """Keep a check for good."""
        touched(self._session).clients.add(client_id)
        row = RedFlagCheckRow(
            client_id=client_id, day=check.day, recorded=recorded, cleared=check.cleared or None
        )
        self._session.add(row)
        self._session.flush()
        self._session.add_all(
            RedFlagTick(red_flag_check_id=row.id, place=place, flag=flag)
            for place, flag in enumerate(check.ticked)
        )
        self._session.flush()

    def of_client(self, client_id: str) -> tuple[RedFlagCheck, ...]:
        """A client's checks, in the order in which they were recorded."""
        query = select(RedFlagCheckRow).where(RedFlagCheckRow.client_id == client_id)
        rows = plain_rows(self._session, RedFlagCheckRow, query.order_by(RedFlagCheckRow.id))
        ids = [row.id for row in rows]
        ticks = select(RedFlagTick).where(RedFlagTick.red_flag_check_id.in_(ids))
        of_check = grouped(
            plain_rows(self._session, RedFlagTick, ticks.order_by(RedFlagTick.place)),
            lambda tick: tick.red_flag_check_id,
        )
        return tuple(
            RedFlagCheck(row.day, tuple(tick.flag for tick in of_check[row.id]), row.cleared or "")
            for row in rows
        )
