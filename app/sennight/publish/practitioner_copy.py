"""The practitioner's copy: findings with their sources, accepted reasons, what was checked."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses import Course
from sennight.domain.plain_words import listed, plain_date, plain_dates
from sennight.domain.practices import PracticeCard
from sennight.domain.safety_findings import Finding, Severity
from sennight.publish.handout_style import Page, section, text
from sennight.publish.plain_sheet import Row, plain_sheet, ruled

TITLE = "Practitioner’s copy"
_HEADS = {
    Severity.AVOID: "To avoid",
    Severity.CAUTION: "With caution",
    Severity.NOTE: "To note",
}


def practitioner_pdf(
    course: Course,
    card: PracticeCard,
    found: Sequence[Finding],
    *,
    checked: str,
    today: date,
    paper: str = "A4",
) -> bytes:
    """The sheet that stays with the practice; `checked` says what was looked at."""

    def story(page: Page) -> list[Flowable]:
        return [
            text(f"{course.client.name}: {course.protocol.name or 'course'}", "name"),
            text(f"From {plain_date(course.start)}. Made on {plain_date(today)}.", "quiet"),
            *_severities(page, course, found),
            *_decided(page, course, found),
            *section(page, "What was checked"),
            text(checked),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper)


def _severities(page: Page, course: Course, found: Sequence[Finding]) -> list[Flowable]:
    if not found:
        return [Spacer(0, 12), text("Nothing was found among what is recorded.")]
    story: list[Flowable] = []
    for severity, head in _HEADS.items():
        rows = [_row(course, one) for one in found if one.severity is severity]
        if rows:
            story += [*section(page, head), ruled(page, rows)]
    return story


def _row(course: Course, one: Finding) -> Row:
    spans = "; ".join(plain_dates(span) for span in one.days)
    remedies = listed([course.remedy(remedy).name for remedy in one.remedies])
    where = f"{remedies}, {spans}." if one.remedies else f"{spans}."
    return one.id, (one.text, where, *one.instead, f"Source: {one.source}.")


def _decided(page: Page, course: Course, found: Sequence[Finding]) -> list[Flowable]:
    if not course.accepts:
        return []
    standing = {one.id for one in found}
    rows: list[Row] = [
        (
            one.finding,
            (one.reason,) if one.finding in standing else (one.reason, "No longer found."),
        )
        for one in course.accepts
    ]
    return [*section(page, "Decided to go ahead, and why"), ruled(page, rows)]
