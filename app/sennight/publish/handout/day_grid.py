"""The client's day on paper: a grid of remedies and times, or a list where a grid is too wide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from reportlab.platypus import Flowable, Paragraph, Spacer

from sennight.domain.take_home.document import Grid, GridColumn, GridRow, Tone
from sennight.publish.handout.marks import MarkLine, marked_in_parts
from sennight.publish.handout.paper import Paper
from sennight.publish.pdf.style import HAIRLINE, HAIRLINE_COLOUR, INK_COLOUR
from sennight.publish.pdf.tables import Ruled

PAD = 6
_MOST_IN_ROW = 5
"""A row of the list has no more remedies; its time comes again on the next."""
_TALLEST_HEAD = 0.3
"""The tallest head of a table, of a page's height."""
_TIME_SHARE = 0.3
_STEPS_SHARE, _DATES_SHARE = 0.36, 0.56
"""The shares of the width for the days of steps, beside sentences and beside amounts alone."""
_NARROW = 82.0
"""A column of a remedy that is narrower than this takes room from that of the times."""
_WIDEST = 0.27
"""The widest column of a remedy, of the page's measure."""


def day_grid(paper: Paper, grid: Grid) -> list[Flowable]:
    """The days, the table, and what is said of single remedies below it."""
    cells = _cells(paper, grid)
    widths = _widths(paper, cells)
    table = _table(paper, cells, widths) if widths else None
    if table is None or _head_of(paper, table) > paper.page.text_height * _TALLEST_HEAD:
        table = _list(paper, grid)
    notes = [_note(paper, column) for column in grid.columns if column.notes]
    steps = [part for column in grid.columns if column.steps for part in _steps(paper, column)]
    return [paper.text(grid.days, "strong"), Spacer(0, 2), table, Spacer(0, 3), *notes, *steps]


def _steps(paper: Paper, column: GridColumn) -> list[Flowable]:
    """A remedy whose amount changes, and from when to when each amount holds."""
    head = marked_in_parts(paper, column.mark, [(f"{column.mark.name}:", True)])
    table = steps_table(paper, column.steps, head.style.leftIndent, share=_DATES_SHARE)
    return [head, *table]


def steps_table(
    paper: Paper, steps: Sequence[tuple[str, str]], indent: float, *, share: float = _STEPS_SHARE
) -> list[Flowable]:
    """Days and what is taken on them, side by side where the paper is wide enough."""
    pairs = [(paper.text(when, "head"), paper.text(how)) for when, how in steps]
    if not paper.is_wide:
        return [
            paper.text(words, style, indent=indent)
            for when, how in steps
            for words, style in ((when, "head"), (how, "body"))
        ]
    rows: list[list[list[Flowable]]] = [[[when], [how]] for when, how in pairs]
    return [ruled(paper, rows, indent, paper.page.measure * share)]


def ruled(paper: Paper, rows: list[list[list[Flowable]]], indent: float, first: float) -> Ruled:
    """Rows of two cells between hairlines, the first so many points wide."""
    table = Ruled(
        rows,
        colWidths=[first, paper.page.measure - first],
        style=[
            *EDGES,
            ("LEFTPADDING", (0, 0), (0, -1), indent),
            ("RIGHTPADDING", (0, 0), (0, -1), 8),
            ("TOPPADDING", (0, 0), (-1, -1), 1),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ("LINEABOVE", (0, 0), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ],
        hAlign="LEFT",
    )
    table.whole_page = paper.page.text_height
    return table


EDGES = (
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
)
"""The style of a table whose cells touch each other."""
Cells = list[list[list[Flowable]]]


def _cells(paper: Paper, grid: Grid) -> Cells:
    head: list[list[Flowable]] = [[paper.text("Time", "quiet")]]
    head += [
        [MarkLine(column.mark, paper.body), paper.text(column.mark.name, "head")]
        for column in grid.columns
    ]
    return [head, *(_row(paper, row) for row in grid.rows)]


def _row(paper: Paper, row: GridRow) -> list[list[Flowable]]:
    cells: list[list[Flowable]] = [
        [paper.text(cell, "strong")] if cell else [] for cell in row.cells
    ]
    return [_time(paper, row), *cells]


def _time(paper: Paper, row: GridRow) -> list[Flowable]:
    return [paper.pair(row.time, row.moment)]


def _widths(paper: Paper, cells: Cells) -> list[float]:
    """The widths of the columns in points; none where a word would not fit."""
    measure = paper.page.measure
    needs = [
        max(_longest_word(flowable) for row in cells for flowable in row[n]) + 2 * PAD
        for n in range(len(cells[0]))
    ]
    count = len(needs) - 1
    time = max(needs[0], min(measure * _TIME_SHARE, measure - count * max(_NARROW, *needs[1:])))
    each = min((measure - time) / count, measure * _WIDEST)
    return [] if max(needs[1:]) > each else [time, *[each] * count]


def _head_of(paper: Paper, table: Ruled) -> float:
    """The height of the head, which comes again on each further page."""
    table.wrap(paper.page.measure, paper.page.text_height)
    return table.head_height


def _longest_word(flowable: Flowable) -> float:
    if isinstance(flowable, Paragraph):
        return float(flowable.minWidth())
    return flowable.least if isinstance(flowable, MarkLine) else 0.0


def _table(paper: Paper, cells: Cells, widths: list[float]) -> Ruled:
    table = Ruled(
        [[cell or "" for cell in row] for row in cells],
        colWidths=widths,
        style=[
            *_usual_style(),
            ("LEFTPADDING", (1, 0), (-1, -1), PAD),
            ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
            ("LINEBEFORE", (1, 0), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
            ("VALIGN", (0, 0), (-1, 0), "BOTTOM"),
            ("VALIGN", (1, 1), (-1, -1), "MIDDLE"),
        ],
        repeatRows=1,
        hAlign="LEFT",
    )
    table.is_headed_twice = True
    table.whole_page = paper.page.text_height
    return table


def _usual_style() -> list[Any]:
    return [
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 0),
        ("TOPPADDING", (0, 0), (-1, -1), 1),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
        ("LINEABOVE", (0, 0), (-1, 0), 0.8, INK_COLOUR),
        ("LINEABOVE", (0, 1), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ("LINEBELOW", (0, -1), (-1, -1), HAIRLINE, HAIRLINE_COLOUR),
        ("LINEBELOW", (0, "splitlast"), (-1, "splitlast"), HAIRLINE, HAIRLINE_COLOUR),
    ]


def _list(paper: Paper, grid: Grid) -> Ruled:
    """Each time with the remedies that are taken at it, one below the other."""
    content: list[list[list[Flowable]]] = [
        [_time(paper, row), part] for row in grid.rows for part in _doses(paper, grid, row)
    ]
    time = max(
        paper.page.measure * _TIME_SHARE,
        *(_longest_word(flowable) + 2 * PAD for row in content for flowable in row[0]),
    )
    table = Ruled(
        content,
        colWidths=[time, paper.page.measure - time],
        style=[*_usual_style(), ("RIGHTPADDING", (0, 0), (0, -1), PAD)],
        hAlign="LEFT",
    )
    table.whole_page = paper.page.text_height
    return table


def _doses(paper: Paper, grid: Grid, row: GridRow) -> Iterator[list[Flowable]]:
    """The remedies of a time, a few for each row, so that a row never fills a page."""
    doses: list[Flowable] = [
        marked_in_parts(paper, column.mark, [(f"{column.mark.name},", False), (cell, True)])
        for column, cell in zip(grid.columns, row.cells, strict=True)
        if cell
    ]
    for at in range(0, len(doses), _MOST_IN_ROW):
        yield doses[at : at + _MOST_IN_ROW]


def _note(paper: Paper, column: GridColumn) -> Flowable:
    said = [(f"{column.mark.name}:", False)]
    said += [(note.words, note.tone is Tone.STRONG) for note in column.notes]
    return marked_in_parts(paper, column.mark, said)
