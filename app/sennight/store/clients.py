"""Clients: rows and values, and the repository."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time
from functools import partial
from typing import Any, cast

from sqlalchemy import (
    Executable,
    Result,
    Select,
    Table,
    Text,
    and_,
    bindparam,
    func,
    select,
    type_coerce,
)
from sqlalchemy.orm import Session

from sennight.domain.courses.clients import Client, Fact, Reaction, Sex, Topic
from sennight.domain.day import ClientDay, Moment
from sennight.store.decoding import decoding
from sennight.store.entries import ClientEntry, ClientTitle
from sennight.store.errors import MissingRecordError
from sennight.store.reactions import reactions_of
from sennight.store.rows import as_rows, bare_rows, grouped, plain_rows
from sennight.store.tables.clients import ClientFact, ClientHead, ClientVersion, ReactionRow
from sennight.store.tables.courses import CourseHead
from sennight.store.touched import touched


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
        asked=" ".join(client.asked) or None,
        sex=client.sex,
        facts=[
            ClientFact(
                kind=kind,
                place=n,
                tag=fact.tag,
                since=fact.since,
                until=fact.until,
                at=_times_out(fact.at),
                name=fact.name or None,
                dose=fact.dose or None,
                classes=None if fact.classes is None else " ".join(fact.classes),
                not_for=" ".join(fact.not_for) or None,
            )
            for kind, facts in kinds
            for n, fact in enumerate(facts)
        ],
    )


def _times_out(at: tuple[Moment | time, ...]) -> str | None:
    words = [str(t) if isinstance(t, Moment) else t.strftime("%H:%M") for t in at]
    return " ".join(words) or None


def _times_in(text: str | None) -> tuple[Moment | time, ...]:
    words = (text or "").split()
    return tuple(Moment(w) if w in tuple(Moment) else time.fromisoformat(w) for w in words)


def _fact(row: ClientFact) -> Fact:
    return Fact(
        row.tag,
        row.since,
        row.until,
        _times_in(row.at),
        row.name or "",
        row.dose or "",
        None if row.classes is None else tuple(row.classes.split()),
        tuple((row.not_for or "").split()),
    )


def client_from_row(
    row: ClientVersion, facts: Iterable[ClientFact], reactions: tuple[Reaction, ...] = ()
) -> ClientEntry:
    """The record that a version holds, with its facts in their order, and the reactions."""
    with decoding("a client's record"):
        return _client(row, facts, reactions)


def _client(
    row: ClientVersion, facts: Iterable[ClientFact], reactions: tuple[Reaction, ...]
) -> ClientEntry:
    of_kind: dict[str, list[Fact]] = {"condition": [], "medicine": [], "allergy": []}
    for fact in facts:
        of_kind[fact.kind].append(_fact(fact))
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
        conditions=tuple(of_kind["condition"]),
        medicines=tuple(of_kind["medicine"]),
        allergies=tuple(of_kind["allergy"]),
        reactions=reactions,
        day=day,
        asked=tuple(Topic(word) for word in (row.asked or "").split()),
        sex=Sex(row.sex) if row.sex else None,
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


def _day(text: str | None) -> date | None:
    try:
        return None if text is None else date.fromisoformat(text)
    except ValueError:
        return None


def _without_reactions(entry: ClientEntry) -> ClientEntry:
    return replace(entry, client=replace(entry.client, reactions=()))


class ClientRepository:
    """The clients of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def version_id(self, client_id: str) -> int:
        """The number of the row that holds the current record; raises MissingRecordError."""
        query = current_clients().where(ClientHead.id == client_id)
        version_id: int | None = self._session.scalar(query.with_only_columns(ClientVersion.id))
        if version_id is None:
            raise MissingRecordError("client", client_id)
        return version_id

    def get(self, client_id: str) -> ClientEntry:
        """One client's current record; raises MissingRecordError."""
        entries = self.read(current_clients().where(ClientHead.id == client_id))
        if not entries:
            raise MissingRecordError("client", client_id)
        return next(iter(entries.values()))

    def current(self, client_id: str) -> tuple[int, ClientEntry]:
        """The current record and the number of its row; raises MissingRecordError."""
        self._session.flush()
        row = self._one(_CURRENT, client=client_id).one_or_none()
        if row is None:
            raise MissingRecordError("client", client_id)
        facts = self._one(_FACTS, version=row.id).all()
        any_reaction = self._one(_ANY_REACTION, client=client_id).first()
        if any_reaction:  # seldom: these are read in a way of their own
            query = current_clients().where(ClientHead.id == client_id)
            return next(iter(self.read(query).items()))
        (version,) = as_rows(ClientVersion, (row,))
        return row.id, client_from_row(version, as_rows(ClientFact, facts))

    def _one(self, statement: Executable, **values: object) -> Result[Any]:
        """The result of a statement that is at hand: to put one together costs more."""
        return self._session.connection().execute(statement, values)

    def newest_version(self) -> int:
        """The number of the version of a record that was saved last; 0 where there is none."""
        return self._session.scalar(select(func.max(ClientVersion.id))) or 0

    def titles(self, *, archived: bool) -> tuple[ClientTitle, ...]:
        """What a list shows of the clients, by name; for thousands at a time.

        Nothing but the name and the day of birth is read; a day that cannot be is left out.
        """
        head, version = ClientHead.__table__.c, ClientVersion.__table__.c
        query = select(head.id, version.name, type_coerce(version.born, Text)).where(
            version.client_id == head.id,
            version.version == head.version,
            version.archived.is_(archived),
        )
        rows = bare_rows(self._session, query)
        order = sorted(
            [(name.casefold(), client_id, name, born) for client_id, name, born in rows]
        )
        made = partial(tuple.__new__, ClientTitle)
        return tuple([made((client_id, name, _day(born))) for _, client_id, name, born in order])

    def titles_since(self, version: int) -> tuple[tuple[ClientTitle, bool], ...]:
        """The titles of the records saved after the version of that number; which are archived."""
        head, row = ClientHead.__table__.c, ClientVersion.__table__.c
        query = select(head.id, row.name, type_coerce(row.born, Text), row.archived).where(
            row.client_id == head.id, row.version == head.version, row.id > version
        )
        return tuple(
            (ClientTitle(client_id, name, _day(born)), bool(archived))
            for client_id, name, born, archived in bare_rows(self._session, query)
        )

    def names(self) -> dict[str, str]:
        """The current name of every client, archived or not, by id."""
        head, version = ClientHead.__table__.c, ClientVersion.__table__.c
        query = select(head.id, version.name).where(
            version.client_id == head.id, version.version == head.version
        )
        return dict(bare_rows(self._session, query))

    def listed_names(self) -> dict[str, str]:
        """The names of the clients that are not archived, by id, in the order of the names."""
        head, version = ClientHead.__table__.c, ClientVersion.__table__.c
        query = select(head.id, version.name).where(
            version.client_id == head.id,
            version.version == head.version,
            version.archived.is_(False),
        )
        rows = bare_rows(self._session, query)
        return dict(sorted(rows, key=lambda row: (row[1].casefold(), row[0])))

    def all(self, *, archived: bool) -> tuple[ClientEntry, ...]:
        """The clients that are archived, or those that are not, by name."""
        entries = self.read(current_clients().where(ClientVersion.archived.is_(archived)))
        return tuple(sorted(entries.values(), key=lambda e: (e.client.name.casefold(), e.id)))

    def versions(self, client_id: str) -> tuple[tuple[datetime, ClientEntry], ...]:
        """Every version of a client's record and when it was saved, oldest first."""
        query = select(ClientVersion).where(ClientVersion.client_id == client_id)
        entries = self.read(query)
        saved = query.with_only_columns(ClientVersion.id, ClientVersion.saved)
        rows = self._session.execute(saved.order_by(ClientVersion.version)).all()
        return tuple((when, entries[version_id]) for version_id, when in rows)

    def read(self, query: Select[ClientVersion]) -> dict[int, ClientEntry]:
        """The records of a query of versions, by the number of the version's row."""
        ids = query.with_only_columns(ClientVersion.id)
        facts = select(ClientFact).where(ClientFact.client_version_id.in_(ids))
        of_version = grouped(
            plain_rows(self._session, ClientFact, facts.order_by(ClientFact.place)),
            lambda fact: fact.client_version_id,
        )
        rows = plain_rows(self._session, ClientVersion, query)
        reactions = reactions_of(self._session, query.with_only_columns(ClientVersion.client_id))
        return {
            row.id: client_from_row(row, of_version[row.id], reactions.get(row.client_id, ()))
            for row in rows
        }

    def save(self, entry: ClientEntry, *, saved: datetime) -> None:
        """Keep a client's record as a new version; one that says nothing new adds none.

        Reactions are kept apart, for good: what the record says of them is not looked at.
        """
        head = self._session.get(ClientHead, entry.id)
        if head is None:
            head = ClientHead(id=entry.id, version=0)
            self._session.add(head)
        else:
            before = self.get(entry.id)
            if _without_reactions(before) == _without_reactions(entry):
                return
            self._touch(before, entry)
        head.version += 1
        self._session.flush()
        self._session.add(client_to_row(entry, version=head.version, saved=saved))
        self._session.flush()

    def _touch(self, before: ClientEntry, after: ClientEntry) -> None:
        """What is found may change with any fact, what courses bring with the client's day."""
        touched(self._session).clients.add(after.id)
        if before.client.day != after.client.day:
            ids = select(CourseHead.id).where(CourseHead.client_id == after.id)
            touched(self._session).courses |= dict.fromkeys(self._session.scalars(ids))


# Statements of each save of a course. To put one together costs more than to run it.
_HEAD = cast("Table", ClientHead.__table__)
_VERSION = cast("Table", ClientVersion.__table__)
_FACT = cast("Table", ClientFact.__table__)
_REACTION = cast("Table", ReactionRow.__table__)
_CURRENT = (
    select(*_VERSION.c)
    .where(_HEAD.c.id == _VERSION.c.client_id, _HEAD.c.version == _VERSION.c.version)
    .where(_HEAD.c.id == bindparam("client"))
)
_FACTS = (
    select(*_FACT.c)
    .where(_FACT.c.client_version_id == bindparam("version"))
    .order_by(_FACT.c.place)
)
_ANY_REACTION = select(_REACTION.c.id).where(_REACTION.c.client_id == bindparam("client")).limit(1)
