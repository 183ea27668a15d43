"""Clients: rows and values, and the repository."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Select, and_, select
from sqlalchemy.orm import Session

from sennight.domain.clients import Client, Fact
from sennight.domain.day import ClientDay
from sennight.store.entries import ClientEntry
from sennight.store.errors import MissingRecordError
from sennight.store.tables.clients import ClientFact, ClientHead, ClientVersion


def client_to_row(entry: ClientEntry, *, version: int, saved: datetime) -> ClientVersion:
    """A new version of a client's record."""
    client = entry.client
    rising, breakfast, mid_morning, lunch, mid_afternoon, supper, bedtime = client.day.minutes
    kinds = (
        ("condition", client.conditions),
        ("medicine", client.medicines),
        ("allergy", client.allergies),
    )
    return ClientVersion(
        client_id=entry.id,
        version=version,
        saved=saved,
        name=client.name,
        born=client.born,
        zone=client.zone,
        weight_kg=client.weight_kg,
        contact=entry.contact,
        note=entry.note,
        archived=entry.archived,
        rising=rising,
        breakfast=breakfast,
        mid_morning=mid_morning,
        lunch=lunch,
        mid_afternoon=mid_afternoon,
        supper=supper,
        bedtime=bedtime,
        facts=[
            ClientFact(kind=kind, place=n, tag=fact.tag, since=fact.since, until=fact.until)
            for kind, facts in kinds
            for n, fact in enumerate(facts)
        ],
    )


def client_from_row(row: ClientVersion) -> ClientEntry:
    """The record that a version holds."""

    def facts(kind: str) -> tuple[Fact, ...]:
        return tuple(Fact(f.tag, f.since, f.until) for f in row.facts if f.kind == kind)

    day = ClientDay(
        (
            row.rising,
            row.breakfast,
            row.mid_morning,
            row.lunch,
            row.mid_afternoon,
            row.supper,
            row.bedtime,
        )
    )
    client = Client(
        name=row.name,
        born=row.born,
        zone=row.zone,
        weight_kg=row.weight_kg,
        conditions=facts("condition"),
        medicines=facts("medicine"),
        allergies=facts("allergy"),
        day=day,
    )
    return ClientEntry(row.client_id, client, row.contact, row.note, row.archived)


def current_clients() -> Select[ClientVersion]:
    """The current version of every client."""
    return select(ClientVersion).join(
        ClientHead,
        and_(
            ClientHead.id == ClientVersion.client_id,
            ClientHead.version == ClientVersion.version,
        ),
    )


class ClientRepository:
    """The clients of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def row(self, client_id: str) -> ClientVersion:
        """The current version's row; raises MissingRecordError."""
        query = current_clients().where(ClientHead.id == client_id)
        row = self._session.scalars(query).one_or_none()
        if row is None:
            raise MissingRecordError("client", client_id)
        return row

    def get(self, client_id: str) -> ClientEntry:
        """One client's current record; raises MissingRecordError."""
        return client_from_row(self.row(client_id))

    def all(self, *, archived: bool) -> tuple[ClientEntry, ...]:
        """The clients that are archived, or those that are not, by name."""
        query = current_clients().where(ClientVersion.archived.is_(archived))
        found = [client_from_row(row) for row in self._session.scalars(query)]
        return tuple(sorted(found, key=lambda e: (e.client.name.casefold(), e.id)))

    def versions(self, client_id: str) -> tuple[tuple[datetime, ClientEntry], ...]:
        """Every version of a client's record and when it was saved, oldest first."""
        query = (
            select(ClientVersion)
            .where(ClientVersion.client_id == client_id)
            .order_by(ClientVersion.version)
        )
        return tuple((row.saved, client_from_row(row)) for row in self._session.scalars(query))

    def save(self, entry: ClientEntry, *, saved: datetime) -> None:
        """Keep a client's record as a new version; one that says nothing new adds none."""
        head = self._session.get(ClientHead, entry.id)
        if head is None:
            head = ClientHead(id=entry.id, version=0)
            self._session.add(head)
        elif self.get(entry.id) == entry:
            return
        head.version += 1
        self._session.flush()
        self._session.add(client_to_row(entry, version=head.version, saved=saved))
        self._session.flush()
