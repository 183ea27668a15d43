"""The neutral document: what a client takes home, before it is set on paper or as plain text.

Every paper is set from this one value, so that all of them say the same; another language would
be another maker of it. It holds no place, size or colour, only what is said and what it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sennight.domain.dates import Span
from sennight.domain.remedies.forms import Form


class Part(StrEnum):
    """The parts of the document, by what they are for."""

    NOW = "now"
    DATES = "dates"
    HELP = "help"
    STOP = "stop"
    REMEDIES = "remedies"
    DAYS = "days"
    FLARE = "flare"
    ADVICE = "advice"


class Tone(StrEnum):
    """How a sentence is meant."""

    PLAIN = "plain"
    STRONG = "strong"
    QUIET = "quiet"


@dataclass(frozen=True, slots=True)
class Mark:
    """A remedy's mark: its place in the course, which gives letter and dye, and its form."""

    index: int
    name: str
    form: Form


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence or a few that belong together; `link` is an address that they lead to."""

    words: str
    tone: Tone = Tone.PLAIN
    link: str = ""


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list, with the words that lead to it."""

    items: tuple[str, ...]
    lead: str = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """A table of a remedy's doses over time: each row its days, and how it is taken then."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Entry:
    """What is said about one thing: a remedy by its mark, or a heading by its words."""

    head: Mark | str
    blocks: tuple[Sentence | Bullets | Steps, ...]


@dataclass(frozen=True, slots=True)
class GridColumn:
    """A remedy at the head of a column, and on which days it is taken or left out.

    Where its amount changes on the days of the grid, `steps` has the days of each amount.
    """

    mark: Mark
    notes: tuple[Sentence, ...] = ()
    steps: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class GridRow:
    """A time of the day: its clock time, what the client calls it, a cell for each column."""

    time: str
    moment: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """Remedy × moment of the day, with amounts; empty cells are doses that there are not."""

    days: str
    columns: tuple[GridColumn, ...]
    rows: tuple[GridRow, ...]


Block = Sentence | Bullets | Steps | Entry | Grid


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the document under its title."""

    part: Part
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Letterhead:
    """Who gives it: the practice, the practitioner, where it is and how it is written to."""

    practice: str
    practitioner: str
    address: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class TakeHome:
    """The whole document: the card for the fridge door, then the sheet.

    `made` says when it was made and what it replaces, `days` which days it is for: `window`.
    """

    title: str
    client: str
    days: str
    made: str
    window: Span
    letterhead: Letterhead
    card: tuple[Section, ...]
    sheet: tuple[Section, ...]
