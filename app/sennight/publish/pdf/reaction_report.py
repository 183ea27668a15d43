"""The printed report of a reaction, to send where local rules ask for one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.directions.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet, ruled
from sennight.publish.pdf.style import Page

TITLE = "Report of a suspected reaction"
WHERE = (
    "Send this report to the body that collects reactions where you practise, if local rules ask "
    "for one. It tells of a person's health: send it only in a way that keeps it private."
)


@dataclass(frozen=True, slots=True)
class ReactionReport:
    """What a report says; `client` is a name or initials, dates are inclusive.

    `herbs` are names with the Latin name and part, `doses` how the remedy was taken and when.
    """

    client: str
    born: date | None
    day: date
    remedy: str
    herbs: Sequence[str]
    doses: Sequence[str]
    what: str
    medicines: Sequence[str]
    conditions: Sequence[str]


def reaction_pdf(
    report: ReactionReport, card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """The report, with lines to fill in by hand for what is not recorded."""

    def story(page: Page) -> list[Flowable]:
        born = report.born.strftime("%Y") if report.born else ""
        content = [
            ("Client", (report.client,)),
            ("Year of birth", (born,)),
            ("Sex", ("",)),
            ("What happened", (report.what,)),
            ("When", (plain_date(report.day),)),
            ("Remedy", (report.remedy,)),
            ("Herbs suspected", report.herbs),
            ("How it was taken", report.doses),
            ("Maker, batch", ("",)),
            ("Other medicines", report.medicines or ("None recorded.",)),
            ("Conditions", report.conditions or ("None recorded.",)),
            ("Stopped on", ("",)),
            ("Outcome", ("", "")),
            ("Doctor or hospital", ("",)),
            ("Taken again since?", ("",)),
            ("Signature, date", ("",)),
        ]
        return [
            Spacer(0, 4),
            text(f"To a herbal remedy. Made on {plain_date(today)}.", "quiet"),
            Spacer(0, 8),
            text(WHERE, "aside"),
            Spacer(0, 8),
            ruled(page, content),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper)
