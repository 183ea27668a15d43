"""A letter to doctor and pharmacist at the start: what is taken, and what was checked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from reportlab.platypus import CondPageBreak, Flowable, Spacer

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.findings import Severity
from sennight.domain.tag_words import TagWords
from sennight.publish.pdf.client_rows import born_words, client_rows
from sennight.publish.pdf.paragraphs import items, text
from sennight.publish.pdf.plain_sheet import plain_sheet, ruled, signed
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import section, under
from sennight.publish.pdf.taken import HerbNames, flare_rows, remedy_rows
from sennight.publish.safety_record import SafetyRecord

TITLE = "Herbal treatment"
ROOM_FOR_LIST = 70
"""Points that a list's heading has to have beneath it."""


@dataclass(frozen=True, slots=True)
class StartLetter:
    """What the letter is made from."""

    layout: Layout
    herbs: HerbNames
    words: TagWords
    record: SafetyRecord


def start_letter_pdf(
    letter: StartLetter, card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """The letter, for the course from today on."""
    client = letter.layout.course.client

    def story(page: Page) -> list[Flowable]:
        return [
            Spacer(0, 4),
            text(plain_date(today), "quiet"),
            Spacer(0, 8),
            ruled(page, [("To", ("", ""))]),
            Spacer(0, 8),
            text("Dear colleague,"),
            Spacer(0, 6),
            text(_opening(letter, today)),
            *_taken(page, letter, today),
            *_known(page, letter, today),
            *_checked(page, letter),
            Spacer(0, 10),
            text(
                "Please tell me if you see any reason against this, or if a medicine is started, "
                "stopped or changed in dose. I have not asked your patient to stop or "
                "change any medicine that you prescribed."
            ),
            *signed(card),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=client.name)


def _opening(letter: StartLetter, today: date) -> str:
    course, days = letter.layout.course, letter.layout.days
    begins = "begins" if days.first >= today else "began"
    return (
        f"{course.client.name}{born_words(course.client, today)} {begins} a course of herbal "
        f"treatment with me on {plain_date(days.first)}. It is planned until "
        f"{plain_date(days.last)}."
    )


def _taken(page: Page, letter: StartLetter, today: date) -> list[Flowable]:
    layout = letter.layout
    ahead = Span(max(today, layout.days.first), layout.days.end)
    table = ruled(page, remedy_rows(layout, letter.herbs, ahead) or [("", ("Nothing.",))])
    story: list[Flowable] = [*section(page, "What is taken", table), table]
    flare = flare_rows(layout, letter.herbs, ahead)
    if flare:
        heading = text("Only if there is a flare-up:", "name")
        story += [Spacer(0, 8), *under(page, heading, ruled(page, flare))]
    return story


def _known(page: Page, letter: StartLetter, today: date) -> list[Flowable]:
    rows = client_rows(letter.layout.course.client, letter.words, today)
    table = ruled(page, rows)
    return [
        *section(page, "What I have on record", table),
        text("Please tell me what is missing or out of date.", "quiet"),
        table,
    ]


def _checked(page: Page, letter: StartLetter) -> list[Flowable]:
    """What was looked at, and what was found that a colleague should know."""
    found = [
        f"{finding.heading}: {finding.under_heading}"
        for finding in letter.record.findings
        if finding.severity is not Severity.NOTE
    ]
    story: list[Flowable] = [*section(page, "What was checked"), text(letter.record.checked)]
    if found:
        story += [CondPageBreak(ROOM_FOR_LIST), Spacer(0, 6), text("It found:", "name")]
        story += items(found)
    return story
