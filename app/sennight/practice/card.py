"""The practice's card, as printed for clients."""

from __future__ import annotations

from sennight.domain.practices import PracticeCard
from sennight.practice.opening import OpenPractice


def practice_card(practice: OpenPractice) -> PracticeCard:
    """The card; one with no name where none was saved yet."""
    with practice.file.reading() as unit:
        return unit.card.get()


def change_practice_card(practice: OpenPractice, card: PracticeCard) -> None:
    """Save the card; the former one is kept."""
    with practice.file.writing() as unit:
        unit.card.save(card, saved=practice.file.clock())
