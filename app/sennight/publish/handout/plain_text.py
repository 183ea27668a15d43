"""The neutral document as plain text: for an e-mail, a reader that speaks, a phone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import assert_never

from sennight.domain.remedies.letters import letter_of
from sennight.domain.take_home.document import (
    Block,
    Bullets,
    Entry,
    Grid,
    Mark,
    Section,
    Sentence,
    Steps,
    TakeHome,
)
from sennight.publish.pdf.typeface import NO_BREAK, bound

WIDTH = 76


def plain_text(document: TakeHome, *, named: bool = True) -> str:
    """Card and sheet as text in lines of 76 letters at most, but for longer words.

    Unless it is `named` it does not say whose it is.
    """
    head = document.letterhead
    who = [line for line in (head.practice, head.practitioner, head.address, head.email) if line]
    lines = [
        *([*who, ""] if who else []),
        f"{document.title}: {document.client}" if named else document.title,
        document.days,
        *_wrapped(document.made),
    ]
    for section in (*document.card, *document.sheet):
        lines += _section(section)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _section(section: Section) -> Iterator[str]:
    yield from ("", "", section.title.upper(), "")
    for number, block in enumerate(section.blocks):
        if number and isinstance(block, Entry | Grid):
            yield ""
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    match block:
        case Sentence():
            yield from _wrapped(block.words)
        case Bullets():
            yield from _wrapped(block.lead)
            for item in block.items:
                yield from _wrapped(item, "- ", "  ")
        case Steps():
            for when, how in block.rows:
                yield from _wrapped(f"{when}: {how}", "- ", "  ")
        case Entry():
            yield _named(block.head) if isinstance(block.head, Mark) else block.head
            for piece in block.blocks:
                yield from (f"  {line}" for line in _block(piece))
        case Grid():
            yield from _grid(block)
        case _:
            assert_never(block)


def _named(mark: Mark) -> str:
    return f"{letter_of(mark.index)}  {mark.name}"


def _grid(grid: Grid) -> Iterator[str]:
    yield from _wrapped(grid.days)
    for row in grid.rows:
        doses = (
            f"{column.mark.name}, {cell}"
            for column, cell in zip(grid.columns, row.cells, strict=True)
            if cell
        )
        head = f"{row.time} ({row.moment})" if row.moment else row.time
        yield from _wrapped(f"{head}: {'; '.join(doses)}.", "  ", "    ")
    for column in grid.columns:
        if column.notes or column.steps:
            notes = " ".join(note.words for note in column.notes)
            yield from _wrapped(f"{_named(column.mark)}: {notes}", "  ", "    ")
        for days, dose in column.steps:
            yield from _wrapped(f"{days}: {dose}", "    - ", "      ")


def _wrapped(words: str, first: str = "", further: str = "") -> Iterable[str]:
    """Lines in which a number stays with its unit and a day with its month."""
    lines = wrap(
        bound(words),
        WIDTH,
        initial_indent=first,
        subsequent_indent=further,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(NO_BREAK, " ") for line in lines]
