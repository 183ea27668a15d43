"""Letters to all who had something that is called back: what it is, and what to do now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial

from reportlab.platypus import Flowable, Spacer

from sennight.domain.directions.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_letters, ruled, signed
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import columns

TITLE = "Please stop taking a remedy"


@dataclass(frozen=True, slots=True)
class Had:
    """What a client was handed over: the remedy, its batch, how much and when."""

    remedy: str
    batch: str
    amount: str
    day: date


@dataclass(frozen=True, slots=True)
class ToClient:
    """A client, how they are reached, and what they had."""

    name: str
    contact: str
    had: tuple[Had, ...]


def recall_letters_pdf(
    clients: Sequence[ToClient], card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """A letter to each, with a line to say why by hand."""
    letters = [partial(_letter, client, card, today) for client in clients]
    return plain_letters(TITLE, letters, card=card, paper=paper)


def _letter(client: ToClient, card: PracticeCard, today: date, page: Page) -> list[Flowable]:
    who = [text(client.name), *(text(line) for line in client.contact.splitlines() if line)]
    rows = [(had.remedy, had.batch, had.amount, plain_date(had.day)) for had in client.had]
    heads = ("Remedy", "Batch", "Amount", "Handed over")
    return [
        Spacer(0, 4),
        *who,
        Spacer(0, 8),
        text(plain_date(today), "quiet"),
        Spacer(0, 8),
        text("We are recalling what we gave you:"),
        Spacer(0, 6),
        columns(page, heads, rows, (8, 5, 4, 7)),
        Spacer(0, 6),
        ruled(page, [("Why", ())]),
        Spacer(0, 8),
        text("Do not use any more of it. Keep what is left in its container and bring it to us."),
        Spacer(0, 4),
        text(_unwell(card)),
        *signed(card),
    ]


def _unwell(card: PracticeCard) -> str:
    told = (
        "If you have felt unwell since you started it, call us or your doctor today, and show "
        "them "
        "this letter and the label."
    )
    return f"{told} In an emergency call {card.emergency}." if card.emergency else told
