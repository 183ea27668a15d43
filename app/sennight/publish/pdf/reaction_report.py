"""The printed report of a reaction, to send where local rules ask for one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.directions.plain_words import plain_date
from sennight.domain.practices import PracticeCard
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import Row, plain_sheet, ruled
from sennight.publish.pdf.style import Page

TITLE = "Report of a suspected reaction"
WHERE = (
    "In the UK send it to the Yellow Card scheme of the MHRA, elsewhere to the body where you "
    "practise. It contains health information: send it only in a way that keeps it private."
)


@dataclass(frozen=True, slots=True)
class ReactionReport:
    """What a report says; `client` is a name or initials, dates are inclusive.

    `made_of` is what the remedy holds of each herb, with the Latin name and part, `doses` how the
    remedy was taken and when. `others` are the other remedies of the course that were taken then.
    `stopped` is the first day without it, where it was stopped.
    """

    client: str
    born: date | None
    day: date
    remedy: str
    herbs: Sequence[str]
    made_of: Sequence[str]
    doses: Sequence[str]
    stopped: date | None
    others: Sequence[str]
    what: str
    medicines: Sequence[str]
    conditions: Sequence[str]


def reaction_pdf(
    report: ReactionReport, card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """The report, with lines to fill in by hand for what is not recorded."""

    def story(page: Page) -> list[Flowable]:
        return [
            Spacer(0, 4),
            text(f"To a herbal remedy. Made on {plain_date(today)}.", "quiet"),
            Spacer(0, 8),
            text(WHERE),
            Spacer(0, 8),
            ruled(page, _rows(report)),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=report.client)


def _rows(report: ReactionReport) -> list[Row]:
    born = report.born.strftime("%Y") if report.born else ""
    stopped = (plain_date(report.stopped),) if report.stopped else ("",)
    return [
        ("Client", (report.client,)),
        ("Year of birth", (born,)),
        ("Sex", ("",)),
        ("What happened", (report.what,)),
        ("When", (plain_date(report.day),)),
        ("Time after the last dose", ("",)),
        ("Remedy", (report.remedy,)),
        ("Herbs suspected", report.herbs),
        ("Made of", report.made_of or ("",)),
        ("How it was taken", report.doses),
        ("Stopped on", stopped),
        ("Maker, batch", ("",)),
        ("Other remedies", report.others or ("None.",)),
        ("Medicines", report.medicines or ("None recorded.",)),
        ("Conditions", report.conditions or ("None recorded.",)),
        ("Outcome", ("", "")),
        ("Doctor or hospital", ("",)),
        ("Taken again since?", ("",)),
        ("Signature, date", ("",)),
    ]
