"""The diary sheets that were given for a course, by which photos of them are read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from datetime import date

from sennight.domain.courses.courses import Course
from sennight.practice.consultations import ConsultationEntry, attach_contents
from sennight.practice.courses import course_history, version_on
from sennight.practice.opening import OpenPractice
from sennight.practice.papers import PaperKind
from sennight.practice.reading_diaries import SheetsRead, count_boxes
from sennight.practice.sheet_pages import AdviceSays, Grid, Says, ScoreSays, SeenPage
from sennight.reading_sheets.grid_file import Box, GridError, read_grid


@dataclass(frozen=True, slots=True)
class GivenSheets:
    """The grids of all sheets that were given for a course, the newest first.

    Each was made by the course as it then stood. `advice` has the words of every line that is
    ticked off on any of them; the numbers of advice in the grids count through it, from 1.
    `consultation` is the newest one of the client, None where there is none: pictures can be
    kept with it.
    """

    grids: tuple[Grid, ...]
    advice: tuple[str, ...]
    consultation: ConsultationEntry | None = None

    @property
    def measures(self) -> frozenset[str]:
        """The ids of all that is rated on any of the sheets."""
        boxes = (box for grid in self.grids for page in grid.pages for box in page.boxes)
        return frozenset(box.says.measure for box in boxes if isinstance(box.says, ScoreSays))

    def count(self, states: Mapping[Says, Set[str]], codes: Set[str]) -> SheetsRead:
        """What boxes come to: their states, and the codes of the pages that were read."""
        return count_boxes(self.grids, states, codes, self.advice)


def given_sheets(practice: OpenPractice, course_id: str) -> GivenSheets:
    """The sheets given for a course.

    Raises MissingRecordError, and DamagedFileError where one of them does not fit its checksum.
    """
    history = course_history(practice, course_id)
    words: dict[str, int] = {}
    grids = []
    with practice.file.reading() as unit:
        for paper in unit.papers.of_course(course_id):
            if paper.kind == PaperKind.DIARY_GRID:
                lines = _ticked(version_on(history, paper.when.date()).course)
                try:
                    grid = read_grid(unit.papers.content(paper.id))
                except GridError:
                    continue  # of a later format: its sheet is then told as another one
                grids.append(_renumbered(grid, lines, words))
        client = unit.courses.get(course_id).client_id
        entries = unit.consultations.of_client(client)
    standing = next((entry for entry in entries if not entry.is_void), None)
    return GivenSheets(tuple(grids), tuple(words), standing)


def _ticked(course: Course) -> tuple[str, ...]:
    from sennight.publish.diary.content import names_of

    return names_of(course)[len(course.remedies) :]


def _renumbered(grid: Grid, lines: Sequence[str], words: dict[str, int]) -> Grid:
    """The grid with its lines of advice counted through all words, which grow."""

    def of(box: Box) -> Box:
        says = box.says
        if not isinstance(says, AdviceSays):
            return box
        text = lines[says.number - 1] if says.number <= len(lines) else f"advice {says.number}"
        return replace(box, says=replace(says, number=words.setdefault(text, len(words) + 1)))

    pages = tuple(replace(page, boxes=tuple(map(of, page.boxes))) for page in grid.pages)
    return replace(grid, pages=pages)


def keep_pictures(
    practice: OpenPractice, consultation_id: int, pages: Iterable[SeenPage], *, today: date
) -> None:
    """Keep the flat pictures of pages with a consultation, as PNG; all or none.

    Raises MissingRecordError, ValueError where the consultation was struck out.
    """
    from sennight.reading_sheets.photos import as_png

    contents = [
        (
            f"diary sheet {page.grid.version}, page {page.page.number}, read {today}.png",
            as_png(page.picture.pixels, page.picture.width, page.picture.height),
        )
        for page in pages
    ]
    attach_contents(practice, consultation_id, contents)
