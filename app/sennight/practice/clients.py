"""Clients: listing, adding, changing. Every version of a client's record is kept."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import uuid4

from sennight.domain.courses.clients import Client, Reaction
from sennight.practice.opening import OpenPractice
from sennight.store.entries import ClientEntry, ClientTitle
from sennight.store.unit import UnitOfWork

__all__ = [
    "ClientEntry",
    "ClientTitle",
    "add_client",
    "change_client",
    "client_entry",
    "client_history",
    "list_client_titles",
    "list_clients",
]


def list_clients(practice: OpenPractice, *, archived: bool = False) -> tuple[ClientEntry, ...]:
    """The clients that are not archived, or those that are, by name."""
    with practice.file.reading() as unit:
        return unit.clients.all(archived=archived)


def list_client_titles(
    practice: OpenPractice, *, archived: bool = False
) -> tuple[ClientTitle, ...]:
    """What a list shows of the same clients: quick where there are thousands."""
    with practice.file.reading() as unit:
        return unit.clients.titles(archived=archived)


def changed_client_titles(
    practice: OpenPractice, since: int
) -> tuple[tuple[ClientTitle, bool], ...]:
    """What a list shows of the clients saved after the version of that number.

    With each, whether it is in the archive.
    """
    with practice.file.reading() as unit:
        return unit.clients.titles_since(since)


def client_entry(practice: OpenPractice, client_id: str) -> ClientEntry:
    """One client; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return unit.clients.get(client_id)


def client_history(
    practice: OpenPractice, client_id: str
) -> tuple[tuple[datetime, ClientEntry], ...]:
    """Every version of a client's record and when it was saved, oldest first."""
    with practice.file.reading() as unit:
        unit.clients.get(client_id)
        return unit.clients.versions(client_id)


def add_client(
    practice: OpenPractice, client: Client, *, contact: str = "", note: str = ""
) -> str:
    """Add a client with the reactions that they tell of; returns the new id.

    Raises ValueError for a reaction without herbs or words.
    """
    entry = ClientEntry(uuid4().hex, client, contact, note)
    now = practice.file.clock()
    with practice.file.writing() as unit:
        unit.clients.save(entry, saved=now)
        _keep_told(unit, entry.id, client.reactions, now)
    return entry.id


def change_client(
    practice: OpenPractice, entry: ClientEntry, told: Iterable[Reaction] = ()
) -> None:
    """Save a client's record, and for good the reactions to things of no course that they tell of.

    Both or neither. Raises ValueError for a reaction without herbs or words, MissingRecordError.
    """
    now = practice.file.clock()
    with practice.file.writing() as unit:
        unit.clients.get(entry.id)
        unit.clients.save(entry, saved=now)
        _keep_told(unit, entry.id, told, now)


def _keep_told(unit: UnitOfWork, client_id: str, told: Iterable[Reaction], now: datetime) -> None:
    for reaction in told:
        require_herbs_and_words(reaction)
        unit.reactions.add(client_id, reaction, course_id=None, recorded=now)


def require_herbs_and_words(reaction: Reaction) -> None:
    """Raise ValueError for a reaction that says nothing."""
    if not reaction.herbs or not reaction.what.strip():
        raise ValueError("a reaction needs the herbs that are suspected and what happened")
