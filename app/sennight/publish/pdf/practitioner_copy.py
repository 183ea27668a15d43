"""The practitioner's copy: what was checked, findings with their sources, accepted reasons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.courses import Course
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed, plain_date, plain_dates
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.findings import Severity
from sennight.domain.safety.wording import WordedFinding
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import Ruled, kept, rows, section
from sennight.publish.safety_record import SafetyRecord

TITLE = "Practitioner’s copy"
_HEADS = {
    Severity.AVOID: "To avoid",
    Severity.CAUTION: "With caution",
    Severity.NOTE: "To note",
}
_RUNS_TOLD = 3
"""How many runs of days are told one by one."""


def practitioner_pdf(
    course: Course,
    card: PracticeCard,
    record: SafetyRecord,
    *,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The sheet that stays with the practice."""

    def story(page: Page) -> list[Flowable]:
        return [
            Spacer(0, 6),
            text(f"{course.client.name}: {course.protocol.name or 'course'}", "phase"),
            text(f"From {plain_date(course.start)}. Made on {plain_date(today)}.", "quiet"),
            Spacer(0, 6),
            text(record.checked),
            *_severities(page, course, record),
            *_decided(page, course, record),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=course.client.name)


def _severities(page: Page, course: Course, record: SafetyRecord) -> list[Flowable]:
    if not record.findings:
        return [Spacer(0, 12), text("Nothing was found among what is recorded.")]
    story: list[Flowable] = []
    for severity, head in _HEADS.items():
        cells = [
            _cells(course, finding) for finding in record.findings if finding.severity is severity
        ]
        if cells:
            story += _part(page, head, rows(page, cells))
    return story


def _part(page: Page, head: str, table: Ruled) -> list[Flowable]:
    return [*section(page, head, table), *kept(page, table)]


def _cells(course: Course, finding: WordedFinding) -> list[list[Flowable]]:
    """At the side in what and when; beside it the finding, what could be done, the source."""
    remedies = listed([course.remedy(remedy).name for remedy in finding.remedies])
    side = [text(remedies, "name")] if remedies else []
    return [
        [*side, *(text(words, "quiet") for words in _days(finding.days))],
        [
            text(finding.heading, "name"),
            text(finding.under_heading),
            *(text(f"Instead: {words}", "aside") for words in finding.instead),
            text(f"Source: {finding.source.rstrip('.')}. {finding.id}", "small"),
        ],
    ]


def _days(days: Sequence[Span]) -> Sequence[str]:
    if len(days) <= _RUNS_TOLD:
        return [plain_dates(span) for span in days]
    whole = plain_dates(Span(days[0].first, days[-1].end))
    return [whole, f"in {len(days)} runs of days"]


def _decided(page: Page, course: Course, record: SafetyRecord) -> list[Flowable]:
    if not course.accepts:
        return []
    standing = {name for finding in record.findings for name in finding.accepted_as}
    cells: list[list[Flowable | Sequence[Flowable]]] = []
    for decision in course.accepts:
        gone = [] if decision.finding in standing else [text("No longer found.", "quiet")]
        lines = [text(decision.reason), *gone, text(decision.finding, "small")]
        cells.append([text(record.head(decision.finding), "name"), lines])
    return _part(page, "Decided to go ahead, and why", rows(page, cells))
