"""The bytes of papers and attached files: kept once, under their digest, for good."""

from __future__ import annotations

import hashlib

from sqlalchemy.orm import Session

from sennight.store.errors import MissingRecordError, UnreadablePaperError
from sennight.store.packing import packed, unpacked
from sennight.store.tables.papers import PaperContentRow


def keep_content(session: Session, content: bytes) -> str:
    """Keep bytes, once however often they come; their SHA-256 in hexadecimal."""
    digest = hashlib.sha256(content).hexdigest()
    if session.get(PaperContentRow, digest) is None:
        session.add(PaperContentRow(digest=digest, size=len(content), content=packed(content)))
        session.flush()
    return digest


def content_of(session: Session, digest: str) -> bytes:
    """The bytes of a digest; raises MissingRecordError, UnreadablePaperError."""
    row = session.get(PaperContentRow, digest)
    if row is None:
        raise MissingRecordError("paper", digest)
    content = unpacked(row.content)
    if hashlib.sha256(content).hexdigest() != digest:
        raise UnreadablePaperError("it does not match its checksum")
    return content
