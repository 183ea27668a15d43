"""Papers that are given to a client: their kinds, and what their files are called.

A file's name says whose it is (by initials, unless more is asked for), the protocol, the paper,
the day it was written and the number of the giving. The number counts within the practice, so no
two papers of one practice have the same name, whatever the clients and protocols are called.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import assert_never

LONGEST_PART = 72
"""Bytes of a client's or a protocol's name in a file's name: file systems allow 255 in all."""

_DEVICE = re.compile(r"con|prn|aux|nul|(?:com|lpt)[0-9¹²³]")
"""Names that Windows keeps for devices, whatever suffix a file has."""


class PaperKind(StrEnum):
    """What a paper is; the values are kept in the practice file."""

    HANDOUT = "handout"
    DIARY = "diary"
    DIARY_GRID = "diary-grid"
    REMINDERS = "reminders"
    EMAIL = "email"
    PRACTITIONER = "practitioner"
    START_LETTER = "letter"
    REFERRAL = "referral"
    REACTION_REPORT = "reaction"
    LABELS = "labels"
    REVIEW = "review"
    RECALL = "recall"


def kind_words(kind: PaperKind) -> str:
    """What a paper is called where papers are listed."""
    match kind:
        case PaperKind.HANDOUT:
            return "Handout"
        case PaperKind.DIARY:
            return "Diary sheet"
        case PaperKind.DIARY_GRID:
            return "Diary sheet: where its boxes are"
        case PaperKind.PRACTITIONER:
            return "Practitioner’s copy"
        case PaperKind.START_LETTER:
            return "Letter to doctor and pharmacist"
        case PaperKind.REMINDERS:
            return "Calendar file"
        case PaperKind.EMAIL:
            return "E-mail with the calendar"
        case PaperKind.REFERRAL:
            return "Referral letter"
        case PaperKind.REACTION_REPORT:
            return "Report of a reaction"
        case PaperKind.LABELS:
            return "Labels"
        case PaperKind.REVIEW:
            return "Review summary"
        case PaperKind.RECALL:
            return "Recall letter"
        case _:
            assert_never(kind)


@dataclass(frozen=True, slots=True)
class NameParts:
    """What the names of a client's papers begin with.

    `named` has the client's whole name in place of the initials.
    """

    client: str
    protocol: str = ""
    named: bool = False

    @property
    def stem(self) -> str:
        """Client and protocol, fit for every file system; empty where both are empty."""
        whose = self.client if self.named else "".join(initials(self.client))
        return "-".join(part for part in (plain(whose), plain(self.protocol)) if part)


def initials(name: str) -> tuple[str, ...]:
    """The initials of a name: U, E for Una Example."""
    words = re.split(r"[\W_]+", unicodedata.normalize("NFC", name))
    return tuple(word[0].upper() for word in words if word)


def paper_name(parts: NameParts, label: str, *, day: date, number: int, suffix: str) -> str:
    """The name of a paper's file, written on a day as part of the so-manieth giving."""
    words = (parts.stem, label, day.isoformat(), f"no{number}")
    return "-".join(word for word in words if word) + suffix


def protocol_file_name(name: str) -> str:
    """The name of a protocol's own file, fit for every file system."""
    stem = plain(name)
    if not stem or _DEVICE.fullmatch(stem):
        stem = f"protocol-{stem}".rstrip("-")
    return f"{stem}.toml"


def plain(text: str) -> str:
    """Letters and figures of any script, the rest as hyphens; at most LONGEST_PART bytes."""
    letters = unicodedata.normalize("NFC", text).lower()
    words = re.sub(r"[\W_]+", "-", letters).strip("-")
    return words.encode("utf-8", "ignore")[:LONGEST_PART].decode("utf-8", "ignore").strip("-")
