"""Remedies on the shelf. A change makes a new version; courses keep the one they were given."""

from __future__ import annotations

from datetime import datetime

from sennight.domain.remedies.contents import has_drops_in_nothing, is_over_the_whole
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.opening import OpenPractice
from sennight.store.entries import ShelfRemedy, ShelfTitle

__all__ = [
    "ShelfRemedy",
    "list_remedies",
    "list_remedy_titles",
    "remedy_history",
    "remedy_saves",
    "save_remedy",
    "shelf_remedy",
    "why_not_kept",
]


def list_remedies(practice: OpenPractice) -> tuple[ShelfRemedy, ...]:
    """The current version of every remedy, by name."""
    with practice.file.reading() as unit:
        return unit.remedies.all()


def list_remedy_titles(practice: OpenPractice) -> tuple[ShelfTitle, ...]:
    """The name and form of every remedy, by name: quick where there are many."""
    with practice.file.reading() as unit:
        return unit.remedies.titles()


def shelf_remedy(practice: OpenPractice, remedy_id: str) -> ShelfRemedy:
    """The current version of one remedy; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return unit.remedies.get(remedy_id)


def remedy_history(practice: OpenPractice, remedy_id: str) -> tuple[ShelfRemedy, ...]:
    """Every version of a remedy, oldest first; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.remedies.get(remedy_id)
        return unit.remedies.versions(remedy_id)


def remedy_saves(
    practice: OpenPractice, remedy_id: str
) -> tuple[tuple[datetime, ShelfRemedy], ...]:
    """The same, each with the time when it was saved; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.remedies.get(remedy_id)
        return unit.remedies.saves(remedy_id)


def why_not_kept(remedy: Remedy) -> str:
    """Why a formula is not kept as it is; empty where it can be.

    What is kept may be given, and what is given must be readable as a course file.
    """
    if not remedy.ingredients:
        return "It has no herb yet, so nothing was saved."
    if is_over_the_whole(remedy):
        return "It comes to over 100 percent, so nothing was saved. Make some of it less."
    if has_drops_in_nothing(remedy):
        return "Say into how many grams the drops go. Until then nothing is saved."
    return ""


def save_remedy(practice: OpenPractice, remedy: Remedy, *, note: str | None = None) -> ShelfRemedy:
    """Save a remedy under its own id: a new one, or the next version of one on the shelf.

    A note of None keeps the one it has. Saving what is there already adds no version.
    """
    with practice.file.writing() as unit:
        return unit.remedies.save(remedy, note=note, saved=practice.file.clock())
