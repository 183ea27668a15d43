"""Diary sheets as our own publisher prints them: every paper, print and number of remedies."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from itertools import product
from typing import NamedTuple

from sennight.domain.courses.courses import Course
from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.take_home.choices import Print, SheetChoices
from sennight.publish.diary.document import diary_sheet
from sennight.reading_sheets.grid_file import Grid, read_grid
from support.handout_samples import CARD, START, many_remedies, three_months

DAYS = Span(START, START + timedelta(weeks=8))
REMEDIES = (3, 4, 5, 6, 7, 8)
PAPERS = ("A4", "Letter")
PRINTS = (Print.STANDARD, Print.LARGE)
CASES = tuple(product(REMEDIES, PAPERS, PRINTS))
"""Twenty-four sheets."""


class PrintedSheet(NamedTuple):
    """A sheet, its `diary.json`, and what that says."""

    pdf: bytes
    content: bytes
    grid: Grid


@cache
def printed(remedies: int, paper: str = "A4", letters: Print = Print.STANDARD) -> PrintedSheet:
    """A sheet for eight weeks."""
    return _sheet(many_remedies(remedies), paper, letters)


@cache
def printed_course(paper: str = "A4", letters: Print = Print.STANDARD) -> PrintedSheet:
    """A sheet for eight weeks of a course with phases, a pause, a flare-up and doses as needed."""
    return _sheet(three_months(), paper, letters)


def _sheet(course: Course, paper: str, letters: Print) -> PrintedSheet:
    sheet = diary_sheet(lay_out(course), CARD, DAYS, SheetChoices(paper, letters))
    return PrintedSheet(sheet.pdf, sheet.grid, read_grid(sheet.grid))
