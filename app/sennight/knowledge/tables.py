"""Reads tables of text: one record a line, a tab between columns, the columns' names on top."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

Cells = dict[str, str]


class TableError(Exception):
    """A table that cannot be read; the message names the file, the line and what was expected."""


def rows(path: Path) -> Iterator[Cells]:
    """The lines by their columns; raises TableError where a line has too few or too many."""
    head, *lines = path.read_text(encoding="utf-8").splitlines()
    columns = head.split("\t")
    for number, line in enumerate(lines, start=2):
        cells = line.split("\t")
        if len(cells) != len(columns):
            mismatch = f"{len(cells)} columns; expected {len(columns)}"
            raise TableError(f"{path.name}, line {number}: found {mismatch}")
        yield dict(zip(columns, cells, strict=True))


def words(cell: str) -> tuple[str, ...]:
    """The ids in a cell."""
    return tuple(cell.split(" ")) if cell else ()
