"""The practice's card: rows and values, and the repository."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from sennight.domain.practices import PracticeCard
from sennight.store.tables.cards import CardAddress, CardVersion


def card_to_row(card: PracticeCard, *, version: int, saved: datetime) -> CardVersion:
    """A new version of the card."""
    return CardVersion(
        version=version,
        saved=saved,
        name=card.name,
        practitioner=card.practitioner,
        phone=card.phone,
        email=card.email,
        emergency=card.emergency,
        on_labels="\n".join(card.on_labels),
        address=[CardAddress(place=n, text=text) for n, text in enumerate(card.address)],
    )


def card_from_row(row: CardVersion) -> PracticeCard:
    """The card that a version holds."""
    address = tuple(line.text for line in row.address)
    return PracticeCard(
        row.name,
        row.practitioner,
        address,
        row.phone,
        row.email,
        row.emergency or "",
        tuple((row.on_labels or "").splitlines()),
    )


class CardRepository:
    """The practice's card in one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def _row(self) -> CardVersion | None:
        query = select(CardVersion).order_by(CardVersion.version.desc()).limit(1)
        return self._session.scalars(query).one_or_none()

    def get(self) -> PracticeCard:
        """The current card; one with no name where none was saved yet."""
        row = self._row()
        return PracticeCard("") if row is None else card_from_row(row)

    def save(self, card: PracticeCard, *, saved: datetime) -> None:
        """Keep the card as a new version; one that says nothing new adds none."""
        row = self._row()
        if row is not None and card_from_row(row) == card:
            return
        version = row.version + 1 if row else 1
        self._session.add(card_to_row(card, version=version, saved=saved))
        self._session.flush()
