"""Consultations: rows and values, and the repository; every wording is kept.

The index of words is kept with each save: the words of before go, those of now come, and what
was struck out is found no more.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from datetime import date, datetime, time

from sqlalchemy import Select, func, select, text
from sqlalchemy.orm import Session

from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    Part,
)
from sennight.store.attachments import AttachmentRepository
from sennight.store.entries import ConsultationEntry, ConsultationFound, ConsultationVersion
from sennight.store.errors import MissingRecordError, UnreadableError
from sennight.store.rows import grouped, plain_rows
from sennight.store.tables.consultations import (
    ConsultationHead,
    ConsultationHeadings,
    ConsultationPartRow,
    ConsultationVersionRow,
    ConsultationVoid,
)

MOST_FOUND = 50
"""The most that a search gives: typing more narrows it."""

_BLOCK = 500
"""Of so many at a time the checksums are looked at."""

_FIND = text(
    """
    SELECT consultation.id, consultation.client_id,
           snippet(consultation_index, 0, '', '', '…', 12)
    FROM consultation_index
    JOIN consultation ON consultation.id = consultation_index.rowid
    WHERE consultation_index MATCH :query
      AND (:client = '' OR consultation.client_id = :client)
    ORDER BY bm25(consultation_index), consultation.id DESC
    LIMIT :most
    """
)


_NEXT = text(
    """
    SELECT next_day, next_at
    FROM consultation_version AS newest
    JOIN consultation ON consultation.id = newest.consultation_id
    WHERE consultation.client_id = :client
      AND newest.next_day > :today
      AND newest.version = (
          SELECT max(version) FROM consultation_version AS other
          WHERE other.consultation_id = newest.consultation_id)
      AND NOT EXISTS (
          SELECT 1 FROM consultation_void AS void
          WHERE void.consultation_id = newest.consultation_id)
    ORDER BY next_day, next_at
    LIMIT 1
    """
)


def consultation_digest(consultation: Consultation) -> str:
    """The SHA-256 of all that a consultation says, in hexadecimal."""
    after = consultation.next
    content = {
        "day": consultation.day.isoformat(),
        "kind": str(consultation.kind),
        "minutes": consultation.minutes,
        "next": [after.day.isoformat(), _minutes(after.at)] if after else None,
        "parts": [[part.heading, part.text] for part in consultation.parts],
    }
    written = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(written.encode("utf-8")).hexdigest()


def consultation_from_rows(
    row: ConsultationVersionRow, parts: Sequence[ConsultationPartRow]
) -> ConsultationVersion:
    """A version as its rows hold it, and whether it still fits its checksum."""
    at = None if row.next_at is None else time(*divmod(row.next_at, 60))
    consultation = Consultation(
        row.day,
        ConsultationKind(row.kind),
        tuple(Part(part.heading, part.words) for part in parts),
        row.minutes,
        Appointment(row.next_day, at) if row.next_day else None,
    )
    is_whole = consultation_digest(consultation) == row.digest
    return ConsultationVersion(row.saved, consultation, is_whole)


class ConsultationRepository:
    """The consultations of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session
        self.attachments = AttachmentRepository(session)

    def add(self, client_id: str, consultation: Consultation, *, saved: datetime) -> int:
        """Keep a new consultation; its id."""
        head = ConsultationHead(client_id=client_id)
        self._session.add(head)
        self._session.flush()
        self._save(head.id, 1, consultation, saved)
        return head.id

    def correct(
        self, consultation_id: int, consultation: Consultation, *, saved: datetime
    ) -> None:
        """Keep another wording beside the earlier ones; raises MissingRecordError."""
        query = select(func.max(ConsultationVersionRow.version)).where(
            ConsultationVersionRow.consultation_id == consultation_id
        )
        newest = self._session.scalar(query)
        if newest is None:
            raise MissingRecordError("consultation", str(consultation_id))
        self._save(consultation_id, newest + 1, consultation, saved)

    def _save(
        self, consultation_id: int, version: int, consultation: Consultation, saved: datetime
    ) -> None:
        after = consultation.next
        row = ConsultationVersionRow(
            consultation_id=consultation_id,
            version=version,
            saved=saved,
            day=consultation.day,
            kind=str(consultation.kind),
            minutes=consultation.minutes,
            next_day=after.day if after else None,
            next_at=_minutes(after.at) if after else None,
            digest=consultation_digest(consultation),
        )
        self._session.add(row)
        self._session.flush()
        self._session.add_all(
            ConsultationPartRow(
                consultation_version_id=row.id, place=place, heading=part.heading, words=part.text
            )
            for place, part in enumerate(consultation.parts)
        )
        self._session.flush()
        self._forget_words(consultation_id)
        self._session.execute(
            text("INSERT INTO consultation_index (rowid, words) VALUES (:id, :words)"),
            {"id": consultation_id, "words": consultation.words},
        )

    def _forget_words(self, consultation_id: int) -> None:
        self._session.execute(
            text("DELETE FROM consultation_index WHERE rowid = :id"), {"id": consultation_id}
        )

    def strike_out(
        self, consultation_id: int, *, reason: str, on: date, recorded: datetime
    ) -> None:
        """Keep that a consultation was written down in error; it is not found any more.

        IntegrityError where it is struck out already.
        """
        void = ConsultationVoid(
            consultation_id=consultation_id, reason=reason, struck=on, recorded=recorded
        )
        self._session.add(void)
        self._session.flush()
        self._forget_words(consultation_id)

    def of_client(self, client_id: str) -> tuple[ConsultationEntry, ...]:
        """A client's consultations, the newest day first."""
        of_client = ConsultationHead.client_id == client_id
        return self._entries(select(ConsultationHead).where(of_client))

    def get(self, consultation_id: int) -> ConsultationEntry:
        """One consultation; raises MissingRecordError."""
        query = select(ConsultationHead).where(ConsultationHead.id == consultation_id)
        entries = self._entries(query)
        if not entries:
            raise MissingRecordError("consultation", str(consultation_id))
        return entries[0]

    def _entries(self, query: Select[ConsultationHead]) -> tuple[ConsultationEntry, ...]:
        heads = plain_rows(self._session, ConsultationHead, query)
        ids = [head.id for head in heads]
        versions = self._versions(ids)
        files = self.attachments.of_consultations(ids)
        voids = select(ConsultationVoid).where(ConsultationVoid.consultation_id.in_(ids))
        struck = {
            void.consultation_id: void
            for void in plain_rows(self._session, ConsultationVoid, voids)
        }
        entries = (
            ConsultationEntry(
                head.id,
                head.client_id,
                versions[head.id],
                files.get(head.id, ()),
                struck[head.id].reason if head.id in struck else "",
                struck[head.id].struck if head.id in struck else None,
            )
            for head in heads
        )
        return tuple(sorted(entries, key=lambda e: (e.consultation.day, e.id), reverse=True))

    def damaged(self) -> Iterator[int]:
        """The ids of those of which a wording does not fit its checksum, or cannot be read."""
        ids = list(self._session.scalars(select(ConsultationHead.id)))
        for start in range(0, len(ids), _BLOCK):
            block = ids[start : start + _BLOCK]
            with suppress(UnreadableError, ValueError):
                versions = self._versions(block)
                if all(version.is_whole for held in versions.values() for version in held):
                    continue
            yield from (number for number in block if not self._fits(number))

    def _fits(self, consultation_id: int) -> bool:
        try:
            return all(v.is_whole for v in self._versions([consultation_id])[consultation_id])
        except (UnreadableError, ValueError):
            return False

    def _versions(self, ids: list[int]) -> Mapping[int, tuple[ConsultationVersion, ...]]:
        chosen = select(ConsultationVersionRow).where(
            ConsultationVersionRow.consultation_id.in_(ids)
        )
        order = (ConsultationVersionRow.consultation_id, ConsultationVersionRow.version)
        rows = plain_rows(self._session, ConsultationVersionRow, chosen.order_by(*order))
        written = select(ConsultationPartRow).where(
            ConsultationPartRow.consultation_version_id.in_([row.id for row in rows])
        )
        parts = grouped(
            plain_rows(
                self._session, ConsultationPartRow, written.order_by(ConsultationPartRow.place)
            ),
            lambda part: part.consultation_version_id,
        )
        by_head = grouped(rows, lambda row: row.consultation_id)
        return {
            head: tuple(consultation_from_rows(row, parts[row.id]) for row in versions)
            for head, versions in by_head.items()
        }

    def find(self, typed: str, *, client_id: str = "") -> tuple[ConsultationFound, ...]:
        """The consultations that hold all the words typed, or words that begin so, best first.

        Of one client where `client_id` is given; nothing where no word was typed.
        """
        query = search_query(typed)
        if not query:
            return ()
        rows = self._session.execute(
            _FIND, {"query": query, "client": client_id, "most": MOST_FOUND}
        )
        return tuple(ConsultationFound(*row) for row in rows)

    def next_appointment(self, client_id: str, today: date) -> Appointment | None:
        """The appointment that comes next after a day; None where none is made."""
        rows = self._session.execute(_NEXT, {"client": client_id, "today": today.isoformat()})
        row = rows.one_or_none()
        if row is None:
            return None
        at = None if row.next_at is None else time(*divmod(row.next_at, 60))
        return Appointment(date.fromisoformat(row.next_day), at)

    def headings(self) -> tuple[str, ...]:
        """The headings that the practice chose; none where it chose none."""
        row = self._headings_row()
        return tuple(row.headings.splitlines()) if row else ()

    def save_headings(self, headings: tuple[str, ...], *, saved: datetime) -> None:
        """Keep the headings as a new version; ones that are there already add none."""
        row = self._headings_row()
        if self.headings() != headings:
            version = row.version + 1 if row else 1
            lines = "\n".join(headings)
            self._session.add(ConsultationHeadings(version=version, saved=saved, headings=lines))
            self._session.flush()

    def _headings_row(self) -> ConsultationHeadings | None:
        query = select(ConsultationHeadings).order_by(ConsultationHeadings.version.desc())
        return self._session.scalars(query.limit(1)).one_or_none()


def search_query(typed: str) -> str:
    """What was typed in the terms of FTS5: every word, or what begins with it.

    Only letters and digits are let through, so nothing of the query language can be typed.
    """
    letters = "".join(sign if sign.isalnum() else " " for sign in typed)
    return " ".join(f'"{word}"*' for word in letters.split())


def _minutes(at: time | None) -> int | None:
    return None if at is None else at.hour * 60 + at.minute
