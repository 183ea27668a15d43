"""Files that belong to consultations: rows and values, and the repository, which only adds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from sennight.store.contents import content_of, keep_content
from sennight.store.entries import Attachment
from sennight.store.errors import MissingRecordError
from sennight.store.tables.consultations import AttachmentRow, AttachmentVoid
from sennight.store.tables.papers import PaperContentRow


class AttachmentRepository:
    """The attached files of one transaction."""

    def __init__(self, session: Session) -> None:
        self._session = session

    def add(self, consultation_id: int, name: str, content: bytes, *, recorded: datetime) -> int:
        """Keep a file for good; its id."""
        digest = keep_content(self._session, content)
        row = AttachmentRow(
            consultation_id=consultation_id, name=name, digest=digest, recorded=recorded
        )
        self._session.add(row)
        self._session.flush()
        return row.id

    def strike_out(self, attachment_id: int, *, reason: str, on: date, recorded: datetime) -> None:
        """Keep that a file was attached in error; IntegrityError where it was said before."""
        self._session.add(
            AttachmentVoid(
                attachment_id=attachment_id, reason=reason, struck=on, recorded=recorded
            )
        )
        self._session.flush()

    def of_consultations(self, ids: Sequence[int]) -> Mapping[int, tuple[Attachment, ...]]:
        """The files of consultations, in the order in which they were attached; no bytes."""
        query = (
            select(
                AttachmentRow.consultation_id,
                AttachmentRow.id,
                AttachmentRow.name,
                PaperContentRow.size,
                AttachmentRow.recorded,
                AttachmentVoid.reason,
                AttachmentVoid.struck,
            )
            .join(PaperContentRow, PaperContentRow.digest == AttachmentRow.digest)
            .outerjoin(AttachmentVoid, AttachmentVoid.attachment_id == AttachmentRow.id)
            .where(AttachmentRow.consultation_id.in_(ids))
            .order_by(AttachmentRow.id)
        )
        files: dict[int, tuple[Attachment, ...]] = {}
        for consultation_id, number, name, size, when, reason, struck in self._session.execute(
            query
        ):
            file = Attachment(number, name, size, when, reason or "", struck)
            files[consultation_id] = (*files.get(consultation_id, ()), file)
        return files

    def content(self, attachment_id: int) -> tuple[str, bytes]:
        """A file's name and bytes; raises MissingRecordError, UnreadablePaperError."""
        row = self._session.get(AttachmentRow, attachment_id)
        if row is None:
            raise MissingRecordError("attachment", str(attachment_id))
        return row.name, content_of(self._session, row.digest)
