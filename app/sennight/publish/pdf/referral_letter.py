"""A letter to the doctor who is to see a client, because of red flags."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.clients import Client, Topic
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.rules import RedFlag
from sennight.domain.tag_words import upper_first
from sennight.knowledge.vocabulary import vocabulary
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import Row, plain_sheet, ruled
from sennight.publish.pdf.style import Page

TITLE = "Referral"


@dataclass(frozen=True, slots=True)
class ReferralReason:
    """Why a client is referred: the day on which the signs were there, and further words."""

    seen: date
    signs: Sequence[RedFlag]
    note: str = ""


def referral_pdf(
    client: Client, card: PracticeCard, why: ReferralReason, *, today: date, paper: str = "A4"
) -> bytes:
    """The letter."""

    def story(page: Page) -> list[Flowable]:
        born = f", born {plain_date(client.born)}" if client.born else ""
        return [
            Spacer(0, 4),
            text(plain_date(today), "quiet"),
            Spacer(0, 12),
            text("Dear colleague,"),
            Spacer(0, 6),
            text(
                f"I saw {client.name}{born} on {plain_date(why.seen)}. Please see them "
                "because of what I found:"
            ),
            Spacer(0, 6),
            ruled(page, _rows(client, why)),
            Spacer(0, 12),
            text(
                "This client has herbal treatment from me; I am happy to send you a list of what "
                "they take. I have not made a diagnosis."
            ),
            Spacer(0, 12),
            text("With kind regards,"),
            Spacer(0, 34),
            text(card.practitioner or card.name),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper)


def _rows(client: Client, why: ReferralReason) -> list[Row]:
    rows: list[Row] = [
        (upper_first(flag.urgency.replace("-", " ")), (f"{flag.sign}.", f"{flag.action}."))
        for flag in why.signs
    ]
    for name, topic in (
        ("Conditions", Topic.CONDITIONS),
        ("Medicines", Topic.MEDICINES),
        ("Allergies", Topic.ALLERGIES),
    ):
        rows.append((name, _facts(client, topic)))
    if why.note:
        rows.append(("In my words", (why.note,)))
    return rows


def _facts(client: Client, topic: Topic) -> Sequence[str]:
    words = vocabulary().words
    none = "Asked: none." if topic in client.asked else "Not asked."
    return [upper_first(fact.label(words)) for fact in client.facts(topic)] or [none]
