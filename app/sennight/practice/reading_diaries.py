"""Diary sheets read from photos: what was taken, done and rated, and what a person must look at.

A day's count is given only where all its boxes were read and none of them is unclear.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import assert_never

from sennight.domain.follow_up.diaries import Followed, Reported, Score, Taken
from sennight.practice.sheet_pages import (
    AdviceSays,
    DoseSays,
    Grid,
    Says,
    ScoreSays,
    SheetFileError,
    Unread,
    file_content,
    pages_in,
)
from sennight.reading_sheets.grid_file import GridError, read_grid

_Asked = tuple[date, str, str | int]
"""What boxes ask together: a day, the kind, and the remedy, the advice or the measure."""


@dataclass(frozen=True, slots=True)
class SheetsRead:
    """What was read from photos.

    `unclear` and `blank` are told in words: boxes to look at, days without any mark. `troubles`
    are the photos that could not be read, `read` the pages that were.
    """

    taken: tuple[Taken, ...]
    followed: tuple[Followed, ...]
    scores: tuple[Score, ...]
    unclear: tuple[str, ...]
    blank: tuple[date, ...]
    troubles: tuple[str, ...]
    read: tuple[str, ...]


def grid_of(path: Path) -> Grid:
    """The grid in a file; raises SheetFileError."""
    try:
        return read_grid(file_content(path))
    except GridError as error:
        raise SheetFileError(f"{path}: {error}") from error


def read_photos(
    photos: Sequence[Path], grids: Sequence[Grid], advice: Sequence[str] = ()
) -> SheetsRead:
    """Read sheets of one course; `advice` are the words of its lines that are ticked off.

    Raises SheetFileError where a file cannot be read, or grids are of several courses.
    """
    if len({grid.course for grid in grids}) > 1:
        raise SheetFileError("the grids are of several courses; expected those of one")
    states: dict[Says, set[str]] = {}
    troubles, read, codes = [], [], set()
    for path in photos:
        for page in pages_in(path, grids):
            where = path.with_name(page.source)
            if isinstance(page, Unread):
                troubles.append(f"{where}: {page.trouble.value}")
                continue
            read.append(f"{where}: page {page.page.number} of {len(page.grid.pages)}")
            codes.add(page.page.code)
            for box in page.boxes:
                states.setdefault(box.says, set()).add(str(box.state))
    return count_boxes(grids, states, codes, advice, troubles, read)


def count_boxes(
    grids: Sequence[Grid],
    states: Mapping[Says, Set[str]],
    codes: Set[str],
    advice: Sequence[str] = (),
    troubles: Sequence[str] = (),
    read: Sequence[str] = (),
) -> SheetsRead:
    """What boxes come to: their states, by what a mark says, and the codes of the pages read.

    A box that was read twice has both states, and is open where they differ.
    """
    return _Counting(grids, states, codes, advice).result(troubles, read)


def entries_toml(read: SheetsRead) -> str:
    """What was read, as entries of a course file; what is open stands in comments."""
    from sennight.publish.course_file.writer import diary_toml

    comments = [f"# look at: {sentence}\n" for sentence in read.unclear]
    comments += [f"# nothing is marked on {day}\n" for day in read.blank]
    reported = Reported(read.taken, read.followed, read.scores)
    return diary_toml(reported) + "".join(comments)


def entries_csv(read: SheetsRead) -> str:
    """What was read as a table; what is open stands in it without a value."""
    from sennight.publish.csv.courses import csv_bytes
    from sennight.publish.csv.diary_table import HEADS, diary_rows

    rows = [
        *diary_rows(Reported(read.taken, read.followed, read.scores)),
        *(("look at", None, sentence, None) for sentence in read.unclear),
        *(("nothing is marked", day, None, None) for day in read.blank),
    ]
    return csv_bytes(HEADS, rows).decode()


def _asked(says: Says) -> _Asked:
    match says:
        case DoseSays():
            return says.day, "dose", says.remedy
        case AdviceSays():
            return says.day, "advice", says.number
        case ScoreSays():
            return says.day, "score", says.measure
        case _:
            assert_never(says)


class _Counting:
    """From boxes to counts: what is marked is counted where nothing about it is open."""

    def __init__(
        self,
        grids: Sequence[Grid],
        states: Mapping[Says, Set[str]],
        pages: Set[str],
        advice: Sequence[str],
    ) -> None:
        self.states, self.advice = states, advice
        self.boxes: dict[_Asked, list[Says]] = defaultdict(list)
        for grid in grids:
            codes = {page.code for page in grid.pages}
            if codes & pages:
                for page in grid.pages:
                    for box in page.boxes:
                        if box.says not in (known := self.boxes[_asked(box.says)]):
                            known.append(box.says)

    def result(self, troubles: Sequence[str], read: Sequence[str]) -> SheetsRead:
        """All that was read."""
        seen = {
            asked: boxes
            for asked, boxes in sorted(self.boxes.items(), key=_order)
            if any(box in self.states for box in boxes)
        }
        blank = self._blank(seen)
        taken, followed, scores, unclear = [], [], [], []
        for (day, kind, name), boxes in seen.items():
            if kind != "score" and day in blank:
                continue
            marked = [box for box in boxes if self.states.get(box) == {"marked"}]
            open_boxes = tuple(self._open(boxes))
            if open_boxes or (kind == "score" and len(marked) > 1):
                unclear.append(self._told(day, name, marked, open_boxes))
            elif kind == "dose":
                taken.append(Taken(day, str(name), len(marked)))
            elif kind == "advice":
                followed.append(Followed(day, self._advice(int(name)), len(marked)))
            elif marked and isinstance(marked[0], ScoreSays):
                scores.append(Score(day, str(name), Fraction(marked[0].value)))
        lists = (tuple(taken), tuple(followed), tuple(scores), tuple(unclear))
        return SheetsRead(*lists, tuple(sorted(blank)), tuple(troubles), tuple(read))

    def _blank(self, seen: dict[_Asked, list[Says]]) -> set[date]:
        """Days with boxes of which none holds anything: nobody says whether doses were missed."""
        days: dict[date, bool] = {}
        for (day, kind, _), boxes in seen.items():
            if kind != "score":
                empty = all(self.states.get(box, {"empty"}) == {"empty"} for box in boxes)
                days[day] = days.get(day, True) and empty
        return {day for day, is_empty in days.items() if is_empty}

    def _open(self, boxes: list[Says]) -> Iterator[str]:
        for box in boxes:
            states = self.states.get(box)
            if states is None:
                yield "a box on a page that was not read"
            elif states not in ({"empty"}, {"marked"}):
                yield str(box)

    def _told(
        self, day: date, name: str | int, marked: list[Says], open_boxes: tuple[str, ...]
    ) -> str:
        what = "; ".join(dict.fromkeys(open_boxes)) or "more than one number is marked"
        label = self._advice(name) if isinstance(name, int) else name
        return f"{day}, {label}: {len(marked)} marked; look at: {what}"

    def _advice(self, number: int) -> str:
        return self.advice[number - 1] if number <= len(self.advice) else f"advice {number}"


def _order(item: tuple[_Asked, list[Says]]) -> tuple[date, str, str]:
    (day, kind, name), _ = item
    return day, kind, str(name)
