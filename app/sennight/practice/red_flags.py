"""Red flags asked for at intake and review: the list, what was there, and the letter.

Every check stays in the file.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from sennight.domain.courses.clients import Client
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.red_flags import RedFlagCheck, flags_of
from sennight.domain.safety.rules import RedFlag
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.opening import OpenPractice
from sennight.practice.safety import safety_rules

if TYPE_CHECKING:
    from sennight.publish.pdf.plain_sheet import Row

__all__ = [
    "RedFlag",
    "RedFlagCheck",
    "Referral",
    "flags_of",
    "last_check",
    "list_checks",
    "record_check",
    "red_flags",
    "referral_letter",
]


def red_flags() -> tuple[RedFlag, ...]:
    """The signs to ask for, with what to do and where that comes from."""
    return safety_rules().flags


def record_check(
    practice: OpenPractice, client_id: str, check: RedFlagCheck, *, now: datetime
) -> None:
    """Keep what was there on a day; ValueError for a flag that is not known.

    A sign that the check before found is cleared only for a reason: ValueError without one.
    Raises MissingRecordError.
    """
    known = {flag.id for flag in red_flags()}
    for flag in check.ticked:
        if flag not in known:
            raise ValueError(f"no red flag “{flag}”; expected one of {', '.join(sorted(known))}")
    with practice.file.writing() as unit:
        unit.clients.get(client_id)
        _require_reason(unit.red_flags.of_client(client_id)[-1:], check)
        unit.red_flags.add(client_id, check, recorded=now)


def _require_reason(before: tuple[RedFlagCheck, ...], check: RedFlagCheck) -> None:
    """Raise ValueError where what was found before is gone without a word why."""
    gone = {flag for last in before for flag in last.ticked} - set(check.ticked)
    signs = [flag.sign for flag in red_flags() if flag.id in gone]
    if signs and not check.cleared.strip():
        raise ValueError(
            f"no reason why “{signs[0]}” has gone; expected who looked, and what was found"
        )


def list_checks(practice: OpenPractice, client_id: str) -> tuple[RedFlagCheck, ...]:
    """A client's checks in the order in which they were recorded; raises MissingRecordError."""
    with practice.file.reading() as unit:
        unit.clients.get(client_id)
        return unit.red_flags.of_client(client_id)


def last_check(practice: OpenPractice, client_id: str) -> RedFlagCheck | None:
    """What stands by the last check; None where red flags were never asked for."""
    checks = list_checks(practice, client_id)
    return checks[-1] if checks else None


@dataclass(frozen=True, slots=True)
class Referral:
    """Who is referred, and by which check for red flags.

    `taken` are the herbal remedies that are taken now, `note` the practitioner's own words.
    """

    client: Client
    check: RedFlagCheck
    taken: Sequence[Row] = ()
    note: str = ""


def referral_letter(
    referral: Referral, card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """A letter to the doctor who is to see the client."""
    from sennight.publish.pdf.referral_letter import ReferralFacts, ReferralReason, referral_pdf

    check = referral.check
    why = ReferralReason(check.day, flags_of(check, red_flags()), referral.note)
    facts = ReferralFacts(referral.client, referral.taken, vocabulary().words)
    return referral_pdf(facts, card, why, today=today, paper=paper)
