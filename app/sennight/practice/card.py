"""The practice's card, as printed for clients."""

from __future__ import annotations

from pathlib import Path

from sennight.domain.practices import PracticeCard
from sennight.practice.opening import OpenPractice, open_practice


def practice_card(practice: OpenPractice) -> PracticeCard:
    """The card; one with no name where none was saved yet."""
    with practice.file.reading() as unit:
        return unit.card.get()


def is_untouched(practice: OpenPractice) -> bool:
    """Whether nothing of one's own is in the practice yet: no card and no client."""
    with practice.file.reading() as unit:
        return not unit.card.get().name and not unit.clients.newest_version()


def change_practice_card(practice: OpenPractice, card: PracticeCard) -> None:
    """Save the card; the former one is kept."""
    with practice.file.writing() as unit:
        unit.card.save(card, saved=practice.file.clock())


def begin_practice(path: Path, card: PracticeCard) -> None:
    """Create a practice file with its card; raises PracticeFileError where it cannot be made."""
    with open_practice(path) as practice:
        change_practice_card(practice, card)
