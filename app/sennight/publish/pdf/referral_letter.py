"""A letter to the doctor who is to see a client, because of red flags."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.clients import Client
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.herbs.general_rules import Urgency
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.rules import RedFlag
from sennight.domain.tag_words import TagWords, upper_first
from sennight.publish.pdf.client_rows import born_words, client_rows
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import Row, plain_sheet, ruled, signed
from sennight.publish.pdf.style import Page

TITLE, EMERGENCY = "Referral", "Emergency referral"
NOTHING_TAKEN = "No herbal remedy from me at present."


@dataclass(frozen=True, slots=True)
class ReferralReason:
    """Why a client is referred: the day on which the signs were there, and further words."""

    seen: date
    signs: Sequence[RedFlag]
    note: str = ""


@dataclass(frozen=True, slots=True)
class ReferralFacts:
    """What the doctor has to know: the client, and the herbal remedies that are taken now."""

    client: Client
    taken: Sequence[Row]
    words: TagWords


def referral_pdf(
    facts: ReferralFacts,
    card: PracticeCard,
    why: ReferralReason,
    *,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The letter."""
    client = facts.client
    title = EMERGENCY if any(flag.urgency is Urgency.EMERGENCY for flag in why.signs) else TITLE

    def story(page: Page) -> list[Flowable]:
        return [
            Spacer(0, 4),
            text(plain_date(today), "quiet"),
            Spacer(0, 8),
            ruled(page, [("To", ("", "")), ("Client’s telephone", ("",))]),
            Spacer(0, 8),
            text("Dear colleague,"),
            Spacer(0, 6),
            text(
                f"On {plain_date(why.seen)} I saw {client.name}{born_words(client, today)}. "
                "Please see them because of what I found:"
            ),
            Spacer(0, 6),
            ruled(page, _rows(facts, why, today)),
            Spacer(0, 12),
            text("I have not made a diagnosis. Please call me if you have any questions."),
            *signed(card),
        ]

    return plain_sheet(title, story, card=card, paper=paper, about=client.name)


def _rows(facts: ReferralFacts, why: ReferralReason, today: date) -> list[Row]:
    rows: list[Row] = [
        (upper_first(flag.urgency.replace("-", " ")), (f"{flag.sign}.", f"{flag.action}."))
        for flag in why.signs
    ]
    if why.note:
        rows.append(("In my words", (why.note,)))
    rows += client_rows(facts.client, facts.words, today)
    return [*rows, *(facts.taken or [("Herbal remedies", (NOTHING_TAKEN,))])]
