"""The columns of a diary sheet: times of the day side by side, each with its remedies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth

from sennight.domain.take_home.saying import Saying
from sennight.publish.diary.content import Column
from sennight.publish.diary.measures import LEFT, Paper
from sennight.publish.diary.words import time_words
from sennight.publish.pdf.typeface import SEMIBOLD

_FINER = 0.4
"""The step by which columns are brought closer until they fit, in millimetres."""
_AIR = 2.0

Group = tuple[Column, ...]
"""The columns of one time of the day, or of one remedy when needed."""


@dataclass(frozen=True, slots=True)
class TimeHead:
    """The two lines above the columns of one time, from its left edge."""

    x: float
    lines: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Heads:
    """What stands above the boxes; columns by their left edge.

    Where names are wider than their columns all are `upright`: they read from below.
    """

    top: float
    letters: float
    """Where the letters of the remedies begin."""
    bottom: float
    upright: bool
    times: tuple[TimeHead, ...]
    columns: dict[Column, float]


def _groups(columns: Iterable[Column]) -> list[Group]:
    in_order = sorted(columns, key=lambda column: column.place)
    return [
        tuple(group)
        for _, group in groupby(
            in_order, key=lambda c: (c.minute, c.index if c.minute is None else None)
        )
    ]


def _room(paper: Paper) -> float:
    return paper.right - LEFT - paper.sizes.date


def column_parts(columns: Iterable[Column], paper: Paper) -> tuple[tuple[Column, ...], ...]:
    """The columns by the pages that they go on; none at all are one page still."""
    parts: list[list[Group]] = [[]]
    for group in _pieces(_groups(columns), paper):
        wider = [*parts[-1], group]
        least = [paper.sizes.group] * len(wider)
        if parts[-1] and _total(wider, least, paper, paper.sizes.least_column) > _room(paper):
            parts.append([])
        parts[-1].append(group)
    return tuple(tuple(column for group in part for column in group) for part in parts)


def _pieces(groups: Sequence[Group], paper: Paper) -> Iterator[Group]:
    """The groups, those wider than a page in pieces."""
    most = int(_room(paper) / paper.sizes.least_column)
    for group in groups:
        for at in range(0, len(group), most):
            yield group[at : at + most]


def place_heads(columns: Sequence[Column], saying: Saying, paper: Paper, top: float) -> Heads:
    """Place the columns of a page, as far apart as they can be, beneath their names."""
    sizes, groups = paper.sizes, _groups(columns)
    names = [time_words(saying, group[0]) for group in groups]
    longest = [max(_long(words, paper) for words in pair) for pair in names]
    upright = sum(
        max(len(group) * sizes.least_column, long) + sizes.gap
        for group, long in zip(groups, longest, strict=True)
    ) > _room(paper)
    least = [sizes.group] * len(groups) if upright else longest
    step = sizes.most_column
    while step > sizes.least_column and _total(groups, least, paper, step) > _room(paper):
        step = max(sizes.least_column, step - _FINER)
    height = max(longest, default=0.0) + _AIR if upright else 2 * sizes.leading / mm
    x, times, places = LEFT + sizes.date, [], {}
    for group, narrowest, lines in zip(groups, least, names, strict=True):
        times.append(TimeHead(x, lines))
        for n, column in enumerate(group):
            places[column] = round(x + n * step, 2)
        x += max(len(group) * step, narrowest) + sizes.gap
    letters = top + height + 1
    return Heads(top, letters, letters + sizes.leading / mm, upright, tuple(times), places)


def _total(groups: Sequence[Group], least: Sequence[float], paper: Paper, step: float) -> float:
    widths = (max(len(group) * step, width) for group, width in zip(groups, least, strict=True))
    return sum(widths) + paper.sizes.gap * max(0, len(groups) - 1)


def _long(words: str, paper: Paper) -> float:
    return stringWidth(words, SEMIBOLD, paper.sizes.type) / mm
