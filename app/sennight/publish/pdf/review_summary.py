"""The review summary: what was given, taken, changed and decided, on two pages at most.

For the record, or for the client's doctor. What does not fit is counted, and is on the
practitioner's copy.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.platypus import Flowable, KeepTogether, Spacer

from sennight.domain.charts.diary import diary_drawing
from sennight.domain.charts.review import Review
from sennight.domain.charts.review_words import (
    Cut,
    ShareRow,
    how_it_goes,
    share_rows,
    taken_sentence,
)
from sennight.domain.charts.scores import score_drawing
from sennight.domain.charts.time_axis import TimeAxis
from sennight.domain.courses.courses import Revision
from sennight.domain.courses.phase_names import phase_title
from sennight.domain.courses.revision_words import revision_sentence
from sennight.domain.courses.stretches import Stretch
from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.directions.plain_words import counted, plain_date, plain_dates
from sennight.domain.dispensary.returned_words import NOT_TAKEN
from sennight.domain.follow_up.gate_words import gate_sentence
from sennight.domain.follow_up.progress_words import progress_sentence, thresholds_told
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.publish.pdf.client_rows import born_words
from sennight.publish.pdf.drawings import DrawingFlowable
from sennight.publish.pdf.one_column import CannotBeSetError
from sennight.publish.pdf.paragraphs import text
from sennight.publish.pdf.plain_sheet import Row, plain_sheet_pages
from sennight.publish.pdf.style import Page
from sennight.publish.pdf.tables import columns, section
from sennight.publish.pdf.tables import rows as ruled_rows
from sennight.publish.pdf.taken import ways

TITLE = "Review summary"
MOST_PAGES = 2
_TEXT = 9.5
"""The size of words in charts, in points."""
_LEAST_CHART = 70.0
_CHARTS = (190.0, 165.0, 140.0, 115.0, 90.0)
"""The heights of a chart, in points, of which the first is taken with which no page is added."""
_LEFT = 22.0


@dataclass(frozen=True, slots=True)
class _Limits:
    """How much is told of each thing; the rest is counted."""

    remedies: int
    ways: int
    measures: int
    decisions: int
    has_shares: bool = True
    has_lanes: bool = True


_LIMITS = (
    _Limits(30, 9, 8, 30),
    _Limits(12, 4, 6, 12),
    _Limits(10, 3, 4, 8),
    _Limits(8, 2, 3, 6, has_shares=False),
    _Limits(6, 2, 2, 3, has_shares=False),
    _Limits(5, 1, 1, 2, has_shares=False, has_lanes=False),
)
"""From much to little; the first is taken with which the pages are enough."""


def review_pdf(
    review: Review, card: PracticeCard, *, paper: str = "A4", left: Sequence[str] = ()
) -> bytes:
    """The paper; raises CannotBeSetError where two pages do not hold it whatever is left out.

    `left` is a sentence for each count of what was left in a container, the oldest first.
    """
    client = review.layout.course.client

    def made(limits: _Limits, chart: float) -> tuple[bytes, int]:
        story = partial(_story, review, left, limits, chart)
        return plain_sheet_pages(TITLE, story, card=card, paper=paper, about=client.name)

    for limits in _LIMITS:
        plain, pages = made(limits, _LEAST_CHART)
        if pages <= MOST_PAGES:
            higher = (made(limits, chart) for chart in _CHARTS if review.charts)
            return next((pdf for pdf, count in higher if count == pages), plain)
    raise CannotBeSetError(
        "the review does not fit on two pages; expected shorter names and reasons"
    )


def _story(
    review: Review, left: Sequence[str], limits: _Limits, chart: float, page: Page
) -> list[Flowable]:
    return [
        *_opening(review),
        *_given(page, review, limits),
        *_taken(page, review, limits),
        *_what_is_left(left, limits),
        *_changed(page, review, limits, chart),
        *_decided(page, review, limits),
    ]


def _opening(review: Review) -> list[Flowable]:
    course = review.layout.course
    days = plain_dates(review.layout.days)
    return [
        Spacer(0, 4),
        text(f"{course.client.name}{born_words(course.client, review.today)}", "name"),
        text(f"{course.protocol.name or 'Course'}, {days}."),
        text(f"As of {plain_date(review.today)}.", "quiet"),
    ]


def _given(page: Page, review: Review, limits: _Limits) -> list[Flowable]:
    """Each remedy taken up to today, with each way of taking and its days."""
    layout = review.layout
    past = Span(layout.course.start, review.today + ONE_DAY)
    rows: list[Row] = []
    for place, remedy in enumerate(layout.course.remedies):
        taken = [s for s in layout.stretches if s.remedy == remedy.id and s.span.touches(past)]
        if taken:
            told = list(ways(layout, _begun(taken, past), until=review.today))
            earlier = len(told) - limits.ways
            if earlier > 0:
                before = f"Before that, in {counted(earlier, 'other way')}."
                told = [before, *told[earlier:]]
            rows.append((f"{letter_of(place)} {remedy.name}", told))
    shown = rows[: limits.remedies]
    if not shown:
        return [*section(page, "Given"), text("Nothing yet.")]
    cells = [
        [text(name, "dense name"), [text(way, "dense") for way in told]] for name, told in shown
    ]
    table = ruled_rows(
        page, cells, ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 3)
    )
    more = _more(len(rows) - len(shown), "remedy", "remedies")
    return [*section(page, "Given", table), table, *more]


def _begun(taken: list[Stretch], past: Span) -> list[Stretch]:
    return [stretch for stretch in taken if stretch.span.first < past.end]


def _more(number: int, one: str, several: str) -> list[Flowable]:
    if number < 1:
        return []
    what = f"1 more {one}" if number == 1 else f"{number} more {several}"
    return [text(f"And {what}: see the practitioner’s copy.", "quiet")]


def _axis(page: Page, review: Review) -> TimeAxis:
    return TimeAxis(review.axis, _LEFT, page.measure - _TEXT, _TEXT)


def _taken(page: Page, review: Review, limits: _Limits) -> list[Flowable]:
    story: list[Flowable] = [*section(page, "Taken"), text(taken_sentence(review))]
    if review.diary.weeks and limits.has_lanes:
        story.append(Spacer(0, 4))
        story.append(DrawingFlowable(diary_drawing(review.diary, _axis(page, review))))
        legend = "One box per week. Filled: taken. Blank: missed. A line through: no entry."
        story.append(text(legend, "small"))
    rows = [row for row in share_rows(review) if row.cut in (Cut.ALL, Cut.REMEDY, Cut.PHASE)]
    if rows and limits.has_shares:
        table = _shares(page, rows)
        story += [Spacer(0, 4), table]
    return story


def _what_is_left(left: Sequence[str], limits: _Limits) -> list[Flowable]:
    """What the containers say of what was taken, the latest first, as the page of the review."""
    if not left:
        return []
    shown = [text(told, "dense") for told in left[: -limits.remedies - 1 : -1]]
    earlier = len(left) - len(shown)
    more = [text(f"And {counted(earlier, 'earlier count')}.", "quiet")] if earlier else []
    return [Spacer(0, 4), text("What is left", "name"), *shown, *more, text(NOT_TAKEN, "small")]


def _shares(page: Page, rows: list[ShareRow]) -> Flowable:
    """Doses and percentages, and what stands beside them where anything does."""
    cells = [(_named(row), row.doses, row.percent, row.remark) for row in rows]
    if any(row.remark for row in rows):
        return columns(
            page, ("", "Doses taken", "Share", "Notes"), cells, (30, 18, 12, 40), cell="dense"
        )
    return columns(
        page, ("", "Doses taken", "Share"), [row[:3] for row in cells], (40, 40, 20), cell="dense"
    )


def _named(row: ShareRow) -> str:
    """A row's name; a phase is told from the remedies above it."""
    return f"Phase: {row.name}" if row.cut is Cut.PHASE else row.name


def _changed(page: Page, review: Review, limits: _Limits, height: float) -> list[Flowable]:
    """What was rated, the worse first, each measure with its chart; then the gates."""
    opening: list[Flowable] = [*section(page, "Changed")]
    if not review.progress:
        return [*opening, text("Nothing was rated.")]
    if told := how_it_goes(review):
        opening.append(text(told, "name"))
    story: list[Flowable] = []
    for place, chart in enumerate(review.charts[: limits.measures]):
        drawing = score_drawing(
            chart, _axis(page, review), height, is_named=place == 0, is_numbered=True
        )
        sentence = text(progress_sentence(chart.progress), "dense")
        above = [Spacer(0, 4)] if place else opening
        story.append(KeepTogether([*above, sentence, DrawingFlowable(drawing)]))
    if not story:
        story = opening
    others = review.progress[limits.measures :]
    story += [text(progress_sentence(each), "dense") for each in others[: limits.remedies]]
    story += _more(len(others) - limits.remedies, "measure", "measures")
    legend = (
        "Inside the shaded band, the change from the first rating is too small to matter. Dashed "
        "line: a gate. Flag: a decision."
    )
    if any(run.span.touches(review.axis) for run in review.layout.flares):
        legend = f"{legend} Dashed frame: a flare-up."
    held = thresholds_told(review.progress[: limits.measures])
    story.append(text(f"{legend} {held}".rstrip(), "small"))
    return [*story, *_gates(review)]


def _gates(review: Review) -> Iterator[Flowable]:
    for gate in review.gates:
        if gate.run.span.first <= review.today:
            phase = gate.run.phase.id
            told = f"{phase_title(phase)}: {gate_sentence(gate, review.today)}"
            yield text(told, "dense")


def _decided(page: Page, review: Review, limits: _Limits) -> list[Flowable]:
    """The decisions that stand, the latest where there are more than fit."""
    course = review.layout.course
    standing = [revision for revision in course.revisions if _is_told(revision, review)]
    shown = standing[-limits.decisions :]
    if not standing:
        nothing = text("No decisions beyond the plan.")
        return [KeepTogether([text("Decided", "section"), nothing])]
    story: list[Flowable] = [*section(page, "Decided")]
    left = len(standing) - len(shown)
    if left:
        earlier = counted(left, "earlier decision")
        story.append(text(f"{earlier} on the practitioner’s copy.", "quiet"))
    return [*story, *(text(revision_sentence(revision, course), "dense") for revision in shown)]


def _is_told(revision: Revision, review: Review) -> bool:
    return not revision.is_void and revision.on <= review.today
