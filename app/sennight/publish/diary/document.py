"""The diary sheet as a PDF, and its grid.

The same course, days and choices give the same bytes. The file's own properties name the
practice but not the client.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from io import BytesIO

from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm

from sennight.domain.courses.stretches import Layout
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_dates
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.practices import PracticeCard
from sennight.domain.remedies.letters import letter_of
from sennight.domain.take_home.choices import USUAL, Print, SheetChoices
from sennight.domain.take_home.saying import Saying
from sennight.dyes import dye_of
from sennight.publish.diary.content import diary_content, measures_of, names_of, weeks_of
from sennight.publish.diary.drawing import PageDrawing, PageWords
from sennight.publish.diary.grid import Asked, GridPage, lay_out_pages
from sennight.publish.diary.measures import CODE, LEFT, QUIET, Paper, paper_of
from sennight.publish.diary.record import diary_json, version_of
from sennight.publish.diary.words import how_words
from sennight.publish.pdf.one_column import PDF_VERSION
from sennight.publish.pdf.paragraphs import Text
from sennight.publish.pdf.scripts import line_width, markup
from sennight.publish.pdf.style import INK_COLOUR, QUIET_COLOUR
from sennight.publish.pdf.tags import TaggedCanvas
from sennight.publish.pdf.typeface import BOLD, HEADING, NO_BREAK, TEXT, register_faces

TITLE = "Diary sheet: boxes to tick"
_AIR = 1.5


@dataclass(frozen=True, slots=True)
class Diary:
    """A diary sheet: its pages as a PDF, and their grid as JSON."""

    pdf: bytes
    grid: bytes


def diary_sheet(
    layout: Layout,
    card: PracticeCard,
    days: Span,
    choices: SheetChoices = USUAL,
    *,
    recorded: Sequence[str] = (),
    measures: Measures = NO_OWN,
) -> Diary:
    """The diary of these days; `recorded` are names of `measures` that the client rated before.

    A booklet has it on A4. Raises ValueError where there are no days. Letters that the typefaces
    lack are printed as a visible sign.
    """
    if not days:
        raise ValueError("the course has no day left; expected a day that a diary can be for")
    register_faces()
    course = layout.course
    sheet = paper_of(choices.full_size, large=choices.letters is Print.LARGE)
    weeks = weeks_of(diary_content(layout, days))
    saying = Saying(days.first.year, choices.hours, course.client.day)
    asked = Asked(course, measures_of(layout, days, recorded, measures), saying, measures)
    words = _Words(layout, sheet, how_words(asked.measures))
    pages = lay_out_pages(weeks, asked, sheet, words.height)
    version = version_of(course, pages, sheet)
    return Diary(
        _pdf(pages, words, asked, version, card), diary_json(course, pages, sheet, version)
    )


def _pdf(
    pages: Sequence[GridPage], words: _Words, asked: Asked, version: str, card: PracticeCard
) -> bytes:
    target, paper = BytesIO(), words.paper
    canvas = TaggedCanvas(
        target,
        pagesize=(paper.width * mm, paper.height * mm),
        invariant=1,
        pageCompression=1,
        lang="en-GB",
        initialFontName=TEXT,
        pdfVersion=PDF_VERSION,
        before_save=lambda _: None,
    )
    canvas.setTitle(TITLE)
    canvas.setAuthor(card.name)
    canvas.setCreator("Sennight")
    canvas.setSubject("")
    for number, page in enumerate(pages, 1):
        drawing = PageDrawing(canvas, paper, asked, page)
        drawing.draw(words.of(page), version=version, number=number, pages=len(pages))
        canvas.showPage()
    canvas.save()
    return target.getvalue()


class _Words:
    """The words above the boxes: for whom and when, the remedies, what to do."""

    def __init__(self, layout: Layout, paper: Paper, how: str) -> None:
        self.layout, self.paper, self.how = layout, paper, how
        sizes = paper.sizes
        style = partial(ParagraphStyle, textColor=INK_COLOUR, bulletFontName=TEXT, tag="P")
        text = partial(style, fontName=TEXT, fontSize=sizes.type, leading=sizes.leading)
        self.title = style(
            "diary-title",
            fontName=HEADING,
            fontSize=sizes.heading,
            leading=sizes.heading * 1.15,
            tag="H1",
        )
        self.body = text("diary-body")
        self.quiet = text("diary-quiet", textColor=QUIET_COLOUR)

    def of(self, page: GridPage) -> PageWords:
        """The words of a page with their widths, for drawing from the top on."""
        return self._page_words(page.amounts, plain_dates(Span.of_days(page.first, page.last)))

    def height(self, amounts: dict[int, str]) -> float:
        """How much room they take, in millimetres."""
        return self._page_words(amounts, "").height / mm

    def _page_words(self, amounts: dict[int, str], dates: str) -> PageWords:
        client = markup(self.layout.course.client.name)
        narrow = (self.paper.code_left - QUIET - LEFT) * mm
        wide = (self.paper.right - LEFT) * mm
        days = Text(dates or "–", self.body)
        beside = (Text(f"Diary: {client}", self.title), days, Text(self.how, self.quiet))
        key = Text(self._key(amounts), self.body)
        upper = max(sum(words.wrap(narrow, 1000)[1] for words in beside), (CODE + QUIET) * mm)
        return PageWords(beside, days, key, upper, upper + key.wrap(wide, 1000)[1] + _AIR * mm)

    @property
    def _whole_line(self) -> float:
        """The room for a remedy with its letter, in points."""
        return (self.paper.right - LEFT) * mm - 3 * self.paper.sizes.type

    def _key(self, amounts: dict[int, str]) -> str:
        """Each remedy with its letter in its dye, and the amount with which the page begins."""
        parts = []
        names = names_of(self.layout.course)
        for index, amount in amounts.items():
            dye = dye_of(index).light
            letter = f'<font name="{BOLD}" color="{dye}">{letter_of(index)}</font>'
            said = f"{names[index]}: {amount}" if amount else names[index]
            if line_width(said, self.paper.sizes.type) < self._whole_line:
                said = said.replace(" ", NO_BREAK)
            parts.append(f"{letter}{NO_BREAK}{markup(said)}")
        return f"{NO_BREAK * 4} ".join(parts)
