"""A letter to the doctor who is to see a client, because of red flags."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.clients import Client
from sennight.domain.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.domain.safety_rules import RedFlag
from sennight.publish.handout_style import Page, text
from sennight.publish.plain_sheet import Row, plain_sheet, ruled

TITLE = "Referral"


@dataclass(frozen=True, slots=True)
class Referral:
    """Why a client is referred: the day on which the signs were there, and further words."""

    seen: date
    found: Sequence[RedFlag]
    note: str = ""


def referral_pdf(
    client: Client, card: PracticeCard, why: Referral, *, today: date, paper: str = "A4"
) -> bytes:
    """The letter."""

    def story(page: Page) -> list[Flowable]:
        born = f", born {plain_date(client.born)}" if client.born else ""
        return [
            text(plain_date(today), "quiet"),
            Spacer(0, 10),
            text("Dear colleague,"),
            Spacer(0, 6),
            text(
                f"I saw {client.name}{born} on {plain_date(why.seen)} and ask you to see them, "
                "because of the following:"
            ),
            Spacer(0, 6),
            ruled(page, _rows(client, why)),
            Spacer(0, 12),
            text(
                "I give this client herbal treatment and am glad to send what they take. I have "
                "not made a diagnosis."
            ),
            Spacer(0, 24),
            text(card.practitioner or card.name),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper)


def _rows(client: Client, why: Referral) -> list[Row]:
    rows: list[Row] = [
        (flag.urgency.replace("-", " ").capitalize(), (flag.sign, flag.action))
        for flag in why.found
    ]
    words = [fact.tag.replace("-", " ") for fact in client.medicines]
    rows.append(("Medicines", words or ("None recorded.",)))
    conditions = [fact.tag.replace("-", " ") for fact in client.conditions]
    rows.append(("Conditions", conditions or ("None recorded.",)))
    rows.append(("In my words", (why.note,)))
    return rows
