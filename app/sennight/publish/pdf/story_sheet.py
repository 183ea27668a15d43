"""The story of a client as a printed record: day by day, the newest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.clients import Client
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.follow_up.story import StoryItem
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.client_rows import born_words
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import rows

TITLE = "Record of consultations"


def story_pdf(
    items: Sequence[StoryItem],
    client: Client,
    card: PracticeCard,
    *,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The items, a row a day, with the client's name at the foot of each page.

    What was struck out has a line through it, and says why.
    """

    def story(page: Page) -> list[Flowable]:
        made = f"{client.name}{born_words(client, today)}. Printed on {plain_date(today)}."
        days = [
            [text(plain_date(day), "name"), list(_told(of_day))]
            for day, of_day in groupby(items, key=lambda item: item.day)
        ]
        body = rows(page, days) if days else text("Nothing is on record yet.")
        return [Spacer(0, 4), text(made, "quiet"), Spacer(0, 8), body]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=client.name)


def _told(items: Iterator[StoryItem]) -> Iterator[Flowable]:
    for item in items:
        title = f"{item.title}: {item.about}" if item.about else item.title
        yield text(title, "name" if item.parts else "body", struck=bool(item.void))
        for part in item.parts:
            written = f"{part.heading}: {part.text}" if part.heading else part.text
            for line in written.splitlines():
                yield text(line, struck=bool(item.void))
        if item.void:
            yield text(f"Struck out: {item.void}", "quiet")
