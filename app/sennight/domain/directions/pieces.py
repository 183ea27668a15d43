"""The pieces that directions fall into, whatever their spelling."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum, auto


class Part(Enum):
    """What a piece says."""

    AMOUNT = auto()
    APPLY = auto()
    COUNT = auto()
    DAILY = auto()
    TIME = auto()
    HOURS = auto()
    NEEDED = auto()
    MOST = auto()
    UP_TO = auto()
    GAP = auto()
    FOOD = auto()
    WEEKDAYS = auto()
    DAYS = auto()
    CYCLE = auto()
    AND = auto()
    COMMA = auto()
    UNKNOWN = auto()


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of directions: what it says in the short form, and where it stands in the text."""

    part: Part
    words: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Question:
    """Directions that could be misread: the words at fault, why, and what could be meant.

    Each of `choices` can be written in the place of `text[start:end]`.
    """

    text: str
    start: int
    end: int
    why: str
    choices: tuple[str, ...]


Said = tuple[tuple[Part, str], ...]
"""What a spelling says: parts, each with its words in the short form."""


@dataclass(frozen=True, slots=True)
class Spelling:
    """A pattern, and what the text that it matches says."""

    pattern: str
    says: Callable[[re.Match[str]], Said]
