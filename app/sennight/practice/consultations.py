"""Consultations: writing, correcting, finding them, and the files that belong to them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from sennight.domain.follow_up.consultations import (
    HEADINGS,
    Consultation,
    checked_headings,
)
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import copy_to_read
from sennight.store.entries import (
    Attachment,
    ConsultationEntry,
    ConsultationFound,
    ConsultationVersion,
)

__all__ = [
    "LARGEST_FILE",
    "SUFFIXES",
    "Attachment",
    "AttachmentError",
    "ConsultationEntry",
    "ConsultationFound",
    "ConsultationVersion",
    "add_consultation",
    "attach_contents",
    "attach_file",
    "attachment_to_read",
    "client_consultations",
    "consultation_entry",
    "consultation_headings",
    "correct_consultation",
    "find_consultations",
    "read_to_attach",
    "save_headings",
    "strike_out_attachment",
    "strike_out_consultation",
]

LARGEST_FILE = 20_000_000
"""Bytes that an attached file may have: a scan of many pages, and a backup stays quick."""

_BEGINNINGS = {
    ".pdf": b"%PDF-",
    ".png": b"\x89PNG\r\n\x1a\n",
    ".jpg": b"\xff\xd8\xff",
    ".jpeg": b"\xff\xd8\xff",
}
"""What files begin with: PDF by ISO 32000-1 7.5.2, PNG by ISO/IEC 15948 5.2, JPEG by T.81 B.1."""

SUFFIXES = tuple(_BEGINNINGS)
"""The endings of the files that can be attached."""


class AttachmentError(Exception):
    """A file that cannot be attached; the message says why and what to do."""


def consultation_headings(practice: OpenPractice) -> tuple[str, ...]:
    """The headings under which this practice writes."""
    with practice.file.reading() as unit:
        return unit.consultations.headings() or HEADINGS


def save_headings(practice: OpenPractice, headings: tuple[str, ...]) -> None:
    """Write under other headings from now on; raises ValueError, with why."""
    checked = checked_headings(headings)
    with practice.file.writing() as unit:
        unit.consultations.save_headings(checked, saved=practice.file.clock())


def client_consultations(practice: OpenPractice, client_id: str) -> tuple[ConsultationEntry, ...]:
    """A client's consultations, the newest day first, those that were struck out among them."""
    with practice.file.reading() as unit:
        return unit.consultations.of_client(client_id)


def consultation_entry(practice: OpenPractice, consultation_id: int) -> ConsultationEntry:
    """One consultation; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return unit.consultations.get(consultation_id)


def add_consultation(
    practice: OpenPractice,
    client_id: str,
    consultation: Consultation,
    *,
    files: Sequence[Path] = (),
) -> int:
    """Keep a consultation for good, with copies of files; its id.

    Raises MissingRecordError, ValueError where nothing was written, and AttachmentError, after
    which nothing is kept.
    """
    _insist_written(consultation)
    contents = [(path.name, read_to_attach(path)) for path in files]
    now = practice.file.clock()
    with practice.file.writing() as unit:
        unit.clients.get(client_id)
        number = unit.consultations.add(client_id, consultation, saved=now)
        for name, content in contents:
            unit.consultations.attachments.add(number, name, content, recorded=now)
        return number


def correct_consultation(
    practice: OpenPractice, consultation_id: int, consultation: Consultation
) -> bool:
    """Keep another wording; the earlier ones stay. False where it says the same.

    Raises MissingRecordError, and ValueError where nothing is left of it or it was struck out.
    """
    _insist_written(consultation)
    with practice.file.writing() as unit:
        before = unit.consultations.get(consultation_id)
        _insist_stands(before)
        if before.consultation == consultation:
            return False
        unit.consultations.correct(consultation_id, consultation, saved=practice.file.clock())
        return True


def _insist_written(consultation: Consultation) -> None:
    if consultation.is_empty:
        raise ValueError("nothing was written; write under at least one heading")


def _insist_stands(entry: ConsultationEntry) -> None:
    if entry.is_void:
        raise ValueError("this consultation has already been struck out")


def strike_out_consultation(
    practice: OpenPractice, consultation_id: int, *, reason: str, on: date
) -> None:
    """Say that a consultation was written down in error; it stays on record, struck out.

    Raises ValueError where that was said before.
    """
    with practice.file.writing() as unit:
        _insist_stands(unit.consultations.get(consultation_id))
        unit.consultations.strike_out(
            consultation_id, reason=reason, on=on, recorded=practice.file.clock()
        )


def find_consultations(
    practice: OpenPractice, typed: str, *, client_id: str = ""
) -> tuple[ConsultationFound, ...]:
    """The consultations that hold all the words typed, or words that begin so, best first."""
    with practice.file.reading() as unit:
        return unit.consultations.find(typed, client_id=client_id)


# Files


def attach_file(practice: OpenPractice, consultation_id: int, path: Path) -> int:
    """Keep a copy of a file with a consultation; its id.

    Raises AttachmentError where it is too large, of another kind, or cannot be read.
    """
    content = read_to_attach(path)
    with practice.file.writing() as unit:
        unit.consultations.get(consultation_id)
        return unit.consultations.attachments.add(
            consultation_id, path.name, content, recorded=practice.file.clock()
        )


def attach_contents(
    practice: OpenPractice, consultation_id: int, files: Sequence[tuple[str, bytes]]
) -> None:
    """Keep files that the program made, by name, with a consultation; all or none.

    Raises MissingRecordError, and ValueError where the consultation is struck out.
    """
    with practice.file.writing() as unit:
        _insist_stands(unit.consultations.get(consultation_id))
        for name, content in files:
            unit.consultations.attachments.add(
                consultation_id, name, content, recorded=practice.file.clock()
            )


def read_to_attach(path: Path) -> bytes:
    """The bytes of a file, if it can be attached; raises AttachmentError."""
    beginning = _BEGINNINGS.get(path.suffix.lower())
    if beginning is None:
        raise AttachmentError(f"{path.name} is not a PDF, PNG or JPEG; save it as one of these.")
    try:
        size = path.stat().st_size
        content = path.read_bytes() if size <= LARGEST_FILE else b""
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        raise AttachmentError(f"{path.name} cannot be read ({why}).") from error
    if size > LARGEST_FILE:
        raise AttachmentError(
            f"{path.name} has {size / 1e6:.0f} MB, and a file may have {LARGEST_FILE // 10**6} MB "
            "at most. Save it with fewer pages or a lower resolution."
        )
    if not content.startswith(beginning):
        kind = path.suffix.lower().removeprefix(".").upper()
        raise AttachmentError(
            f"{path.name} is called {kind} but does not begin like one; open it and save it again."
        )
    return content


def attachment_to_read(practice: OpenPractice, attachment_id: int) -> Path:
    """A copy of an attached file for another program to show, in a private folder.

    It goes when the practice is closed. Raises FolderError, and DamagedFileError if it changed.
    """
    with practice.file.reading() as unit:
        name, content = unit.consultations.attachments.content(attachment_id)
    return copy_to_read(practice, Path(name).name or str(attachment_id), content)


def strike_out_attachment(
    practice: OpenPractice, attachment_id: int, *, reason: str, on: date
) -> None:
    """Say that a file was attached in error; it stays on record, struck out."""
    with practice.file.writing() as unit:
        unit.consultations.attachments.strike_out(
            attachment_id, reason=reason, on=on, recorded=practice.file.clock()
        )
