"""Reactions of clients: rows and values, and the repository, which only ever adds."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from sennight.domain.courses.clients import Harm, Outcome, Reaction
from sennight.store.rows import grouped, plain_rows
from sennight.store.tables.clients import ReactionHerb, ReactionRow, ReactionVoid
from sennight.store.touched import touched


def reactions_of(
    session: Session, client_ids: Select[tuple[str]]
) -> Mapping[str, tuple[Reaction, ...]]:
    """Each client's reactions, in the order in which they were recorded."""
    query = select(ReactionRow).where(ReactionRow.client_id.in_(client_ids))
    rows = plain_rows(session, ReactionRow, query.order_by(ReactionRow.id))
    if not rows:
        return {}
    herbs = select(ReactionHerb).where(ReactionHerb.reaction_id.in_([row.id for row in rows]))
    of_reaction = grouped(
        plain_rows(session, ReactionHerb, herbs.order_by(ReactionHerb.place)),
        lambda herb: herb.reaction_id,
    )
    voids = select(ReactionVoid).where(ReactionVoid.reaction_id.in_([row.id for row in rows]))
    struck = {void.reaction_id: void for void in plain_rows(session, ReactionVoid, voids)}
    of_client = grouped(rows, lambda row: row.client_id)
    return {
        client_id: tuple(
            reaction_from_row(row, of_reaction[row.id], struck.get(row.id)) for row in client_rows
        )
        for client_id, client_rows in of_client.items()
    }


def reaction_from_row(
    row: ReactionRow, herbs: list[ReactionHerb], void: ReactionVoid | None
) -> Reaction:
    """The reaction that a row holds, with its herbs in their order; struck out where `void`."""
    return Reaction(
        row.day,
        row.remedy,
        tuple(herb.herb for herb in herbs),
        row.what,
        Harm(row.harm) if row.harm else None,
        Outcome(row.outcome) if row.outcome else None,
        void.reason if void else "",
        void.struck if void else None,
    )


class ReactionRepository:
    """The reactions of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(
        self, client_id: str, reaction: Reaction, *, course_id: str | None, recorded: datetime
    ) -> None:
        """Keep a reaction for good."""
        touched(self._session).clients.add(client_id)
        row = ReactionRow(
            client_id=client_id,
            course_id=course_id,
            day=reaction.day,
            remedy=reaction.remedy,
            what=reaction.what,
            recorded=recorded,
            harm=reaction.harm,
            outcome=reaction.outcome,
        )
        self._session.add(row)
        self._session.flush()
        if reaction.is_void:
            self._session.add(
                ReactionVoid(
                    reaction_id=row.id,
                    reason=reaction.void,
                    struck=reaction.void_on,
                    recorded=recorded,
                )
            )
        self._session.add_all(
            ReactionHerb(reaction_id=row.id, place=place, herb=herb)
            for place, herb in enumerate(reaction.herbs)
        )
        self._session.flush()

    def strike_out(
        self, client_id: str, place: int, *, reason: str, on: date, recorded: datetime
    ) -> None:
        """Keep that a client's reaction, by its place, was written down in error.

        IndexError for a place without one; IntegrityError where it is struck out already.
        """
        touched(self._session).clients.add(client_id)
        query = select(ReactionRow.id).where(ReactionRow.client_id == client_id)
        ids = self._session.scalars(query.order_by(ReactionRow.id)).all()
        self._session.add(
            ReactionVoid(reaction_id=ids[place], reason=reason, struck=on, recorded=recorded)
        )
        self._session.flush()
