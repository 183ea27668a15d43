"""Drafts: rows and values, and the repository."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from sennight.store.entries import Draft
from sennight.store.tables.drafts import DraftRow


class DraftRepository:
    """The drafts in one transaction; a form has one of each record."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def get(self, kind: str, subject: str) -> Draft | None:
        """A draft; None where there is none."""
        row = self._session.get(DraftRow, (kind, subject))
        return None if row is None else _from_row(row)

    def all(self) -> tuple[Draft, ...]:
        """All drafts, the newest first."""
        query = select(DraftRow).order_by(DraftRow.typed.desc(), DraftRow.kind, DraftRow.subject)
        return tuple(_from_row(row) for row in self._session.scalars(query))

    def put(self, draft: Draft) -> None:
        """Keep a draft in the place of the one before."""
        self._session.merge(
            DraftRow(
                kind=draft.kind,
                subject=draft.subject,
                title=draft.title,
                typed=draft.typed,
                content=draft.content,
            )
        )

    def drop(self, kind: str, subject: str) -> None:
        """Forget a draft, where there is one."""
        row = self._session.get(DraftRow, (kind, subject))
        if row is not None:
            self._session.delete(row)


def _from_row(row: DraftRow) -> Draft:
    return Draft(row.kind, row.subject, row.title, row.typed, row.content)
