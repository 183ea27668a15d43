"""The practitioner's copy: the whole course, by which it can be made again and answered for.

The client's facts, formulas, directions, amounts against their ranges, ethanol, findings with
their sources, decisions with their reasons; what was entered in error is struck out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable, Spacer

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.courses import Course
from sennight.domain.courses.least_time import early_end_words, early_ends
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.phase_words import ceiling_words, phase_remarks
from sennight.domain.courses.revising import plan_course
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed, plain_date, plain_dates
from sennight.domain.exposure.ethanol import EthanolRow
from sennight.domain.exposure.exposure import Exposure
from sennight.domain.practices import PracticeCard
from sennight.domain.safety.findings import Severity
from sennight.domain.safety.wording import WordedFinding
from sennight.domain.tag_words import TagWords
from sennight.domain.take_home.names import plan_name
from sennight.publish.pdf.amount_tables import RUNS_TOLD, amount_table, ethanol_table
from sennight.publish.pdf.client_rows import born_words, client_rows
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import plain_sheet, ruled
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import Ruled, kept, rows, section, under
from sennight.publish.pdf.taken import HerbNames, flare_rows, remedy_rows
from sennight.publish.safety_record import SafetyRecord

TITLE = "Practitioner’s copy"
_HEADS = {
    Severity.AVOID: "To avoid",
    Severity.CAUTION: "Cautions",
    Severity.NOTE: "Notes",
}


@dataclass(frozen=True, slots=True)
class WholeCourse:
    """What the copy is made from: the course as it is laid out, and what follows from it."""

    layout: Layout
    herbs: HerbNames
    names: Mapping[str, str]
    """The herbs' common names alone."""
    words: TagWords
    record: SafetyRecord
    exposures: Sequence[Exposure]
    ethanol: Sequence[EthanolRow]


def practitioner_pdf(
    whole: WholeCourse, card: PracticeCard, *, today: date, paper: str = "A4"
) -> bytes:
    """The sheet that stays with the practice."""
    client = whole.layout.course.client

    def story(page: Page) -> list[Flowable]:
        return [
            *_opening(whole, today),
            *_table(page, "The client", ruled(page, client_rows(client, whole.words, today))),
            *_remedies(page, whole),
            *_phases(page, whole.layout.course),
            *amount_table(page, whole.exposures, whole.names),
            *ethanol_table(page, whole.ethanol, whole.layout.course),
            *_severities(page, whole),
            *_decided(page, whole, card.practitioner),
            *_decisions(page, whole),
        ]

    return plain_sheet(TITLE, story, card=card, paper=paper, about=client.name)


def _opening(whole: WholeCourse, today: date) -> list[Flowable]:
    course = whole.layout.course
    client = course.client
    weight = f", {client.weight_kg} kg" if client.weight_kg else ""
    return [
        Spacer(0, 6),
        text(f"{client.name}{born_words(client, today)}{weight}", "name"),
        text(f"{course.protocol.name or 'Course'}, {plain_dates(whole.layout.days)}."),
        text(f"Made on {plain_date(today)}.", "quiet"),
    ]


def _phases(page: Page, course: Course) -> list[Flowable]:
    """What the phases hold beside remedies and directions, where they hold any."""
    names = {remedy.id: remedy.name for remedy in course.remedies}
    cells: list[list[Flowable | Sequence[Flowable]]] = [
        [
            text(plan_name(phase.id) if phase.is_rescue else phase_title(phase.id), "name"),
            [text(remark) for remark in remarks],
        ]
        for phase in course.protocol.phases
        if (remarks := phase_remarks(phase, names, course.client.day))
    ]
    told = [("All phases", ceiling_words(bound, names)) for bound in course.protocol.ceilings]
    told += [
        (phase_title(early.phase), early_end_words(early))
        for early in early_ends(plan_course(course))
    ]
    cells += [[text(head, "name"), [text(words)]] for head, words in told]
    return _table(page, "More about the phases", rows(page, cells)) if cells else []


def _table(page: Page, head: str, table: Ruled) -> list[Flowable]:
    return [*section(page, head, table), *kept(page, table)]


def _remedies(page: Page, whole: WholeCourse) -> list[Flowable]:
    """What is taken, how and when, and what it is made of; then the flare-up plans."""
    all_days = Span(date.min, date.max)
    taken = remedy_rows(whole.layout, whole.herbs, all_days)
    head = "Remedies, doses and formulas"
    story = _table(page, head, ruled(page, taken)) if taken else [text("No remedy is taken.")]
    flare = flare_rows(whole.layout, whole.herbs, all_days)
    return [*story, *(_table(page, "Flare-up plans", ruled(page, flare)) if flare else [])]


def _severities(page: Page, whole: WholeCourse) -> list[Flowable]:
    story: list[Flowable] = [*section(page, "Safety check"), text(whole.record.checked)]
    if not whole.record.findings:
        return [*story, Spacer(0, 6), text("No findings.")]
    for severity, head in _HEADS.items():
        cells = [
            _cells(whole, finding)
            for finding in whole.record.findings
            if finding.severity is severity
        ]
        if cells:
            story += [Spacer(0, 10), *under(page, text(head, "phase"), rows(page, cells))]
    return story


def _cells(whole: WholeCourse, finding: WordedFinding) -> list[list[Flowable]]:
    """At the side in what and when; beside it the finding, what could be done, the source."""
    course = whole.layout.course
    remedies = listed([course.remedy(remedy).name for remedy in finding.remedies])
    side: list[Flowable] = [text(remedies, "name")] if remedies else []
    side += [text(words, "quiet") for words in _days(finding.days)]
    return [
        side,
        [
            text(finding.heading, "name"),
            text(finding.under_heading),
            *(text(f"What you can do: {words}") for words in finding.instead),
            *_sources(finding),
        ],
    ]


def _sources(finding: WordedFinding) -> Iterator[Flowable]:
    """What each text says where several are told as one, else the source; then the ids."""
    for reason in finding.reasons:
        yield text(reason, "quiet")
    source = "" if finding.reasons else f"Source: {finding.source.rstrip('.')}. "
    yield text(f"{source}{finding.id}", "quiet")


def _days(days: Sequence[Span]) -> Sequence[str]:
    if len(days) <= RUNS_TOLD:
        return [plain_dates(span) for span in days]
    whole = plain_dates(Span(days[0].first, days[-1].end))
    return [whole, f"{len(days)} separate periods"]


def _decided(page: Page, whole: WholeCourse, by: str) -> list[Flowable]:
    """What was decided about findings, and by whom; what was entered in error is struck out."""
    course = whole.layout.course
    decided = [
        *_about_findings(page, "Accepted, with the reason", course.accepts, whole.record),
        *_about_findings(page, "Discussed with the client", course.discussed, whole.record),
    ]
    return [*decided, text(f"Decided by {by}.", "quiet")] if decided and by else decided


def _about_findings(
    page: Page, heading: str, accepts: Sequence[Accept], record: SafetyRecord
) -> list[Flowable]:
    standing = {
        name: finding.id
        for line in record.findings
        for finding in line.parts or (line,)
        for name in finding.accepted_as
    }
    content = []
    for accept in accepts:
        gone = [] if accept.finding in standing else [text("No longer found.", "quiet")]
        lapsed = record.lapsed.get(standing.get(accept.finding, ""), "")
        on = f"{plain_date(accept.on)}. " if accept.on else ""
        lines = [
            text(f"{on}{accept.reason}", struck=accept.is_void),
            *gone,
            *([text(lapsed, "quiet")] if lapsed and not accept.is_void else []),
            text(accept.finding, "quiet"),
        ]
        content.append([[text(record.head(accept.finding), "name")], lines])
    return _table(page, heading, rows(page, content)) if content else []


def _decisions(page: Page, whole: WholeCourse) -> list[Flowable]:
    """Each change to the course with its day and reason; one entered in error is struck out."""
    course = whole.layout.course
    if not course.revisions:
        return []
    told = [
        text(revision_sentence(revision, course), struck=revision.is_void)
        for revision in course.revisions
    ]
    return [*section(page, "Decisions"), *told]
