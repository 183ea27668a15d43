"""A diary sheet that was given in the sample practice, and photos of it filled in."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path

from sennight.domain.courses.stretches import lay_out
from sennight.domain.dates import Span
from sennight.domain.take_home.choices import SheetChoices
from sennight.practice.courses import course_entry
from sennight.practice.diary_sheets import diary_papers
from sennight.practice.papers import About, NameParts, give_papers
from sennight.publish.diary.document import Diary, diary_sheet
from sennight.reading_sheets.grid_file import Grid, read_grid
from support.handout_samples import CARD
from support.sample_practice import Sample
from support.sheet_photos import Conditions, SheetPhoto, sheet_photo

GIVEN = datetime(2027, 1, 4, 9, tzinfo=UTC)
_FIRST = date(2027, 1, 4)


@dataclass(frozen=True)
class GivenSheet:
    """The sheet as it was given."""

    diary: Diary
    grid: Grid


def give_sheet(sample: Sample, folder: Path, weeks: int = 4) -> GivenSheet:
    """Give a sheet of some weeks for the sample's course."""
    entry = course_entry(sample.practice, sample.course)
    days = Span(_FIRST, _FIRST + timedelta(weeks=weeks))
    diary = diary_sheet(lay_out(entry.course), CARD, days, SheetChoices("A4"))
    about = About(entry.client_id, NameParts("X"), sample.course)
    give_papers(sample.practice, about, diary_papers(diary), folder, now=GIVEN, today=GIVEN.date())
    return GivenSheet(diary, read_grid(diary.grid))


@cache
def _photo(pdf: bytes, grid: bytes, page: int, seed: int, corrections: float) -> SheetPhoto:
    seen = Conditions(turn=2, tilt=0.05, long_side=2600, upside_down=page > 0)
    draw = random.Random(seed)  # noqa: S311 - a simulation
    return sheet_photo(pdf, read_grid(grid).pages[page], draw, seen, corrections=corrections)


def photo_of(
    given: GivenSheet, page: int = 0, *, seed: int = 3, corrections: float = 0.0
) -> SheetPhoto:
    """A photo of a page, filled in at random; later pages upside down."""
    return _photo(given.diary.pdf, given.diary.grid, page, seed, corrections)
