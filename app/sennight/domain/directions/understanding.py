"""Understands directions in any usual spelling, by writing them in the short form.

    "2 capsules three times daily after food"     2 capsule tds pc
    "1 cup mornings and evenings, Mon–Fri"        1 cup bd on mon tue wed thu fri

The text is cut into pieces by the table of `spellings`; the pieces are put in the order of the
short form; its own parser reads that, and what it refuses is shown at the word that was typed.
What could be misread is a question, never a guess.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from string import ascii_lowercase, ascii_uppercase
from typing import TypeVar, assert_never

from sennight.domain.directions.arranging import arranged
from sennight.domain.directions.directions import Directions, Timing, Unit
from sennight.domain.directions.misreadings import ELSEWHERE, MISREADINGS, Elsewhere, Misreading
from sennight.domain.directions.parser import (
    DirectionsError,
    parse_amount,
    parse_directions,
    parse_timing,
)
from sennight.domain.directions.pieces import Part, Piece, Question, Spelling
from sennight.domain.directions.spellings import SPELLINGS

Told = TypeVar("Told", Directions, Timing, tuple[Fraction, Unit])

_SAME = str.maketrans(
    {
        **dict(zip(ascii_uppercase, ascii_lowercase, strict=True)),
        **dict.fromkeys("‐‑‒–—−", "-"),
        **dict.fromkeys("\u00a0\u2009\u202f\t", " "),
        "×": "x",
        "’": "'",
        "μ": "µ",
    }
)
"""Capitals, dashes and blanks that mean the same; a text keeps its length."""

_END = (
    r"(?:(?<=[0-9])(?![0-9])|(?<=[a-z])(?![a-z0-9])|(?<![a-z0-9]))"
    r"(?!\.[a-z])\.?"
)
"""A number ends before what is no figure, a word before what is no letter, with its full stop."""

_OPENING = re.compile(r"\s*(?:(?:please|take|drink|use|swallow)(?![a-z0-9])\s*)*")
_ANY_WORD = re.compile(r"[0-9]+(?:[.:][0-9]+)*|[^\W\d_]+|\S")
_NOT_UNDERSTOOD = Spelling(_ANY_WORD.pattern, lambda match: ((Part.UNKNOWN, match[0]),))
_BLANKS = re.compile(r"\s*")
_LONGEST = 300
"""Characters: a longer text is read in the short form alone, so that reading is always quick."""

_TRAILING_ZERO = re.compile(r"\.[0-9]*0(?![0-9])")


@dataclass(frozen=True, slots=True)
class Understood:
    """Directions, read from any usual spelling."""

    directions: Directions

    @property
    def short_form(self) -> str:
        """What is stored, exported and shown."""
        return str(self.directions)


class AmbiguousDirectionsError(DirectionsError):
    """Directions that could be misread, where no question can be put."""

    def __init__(self, question: Question) -> None:
        self.question = question
        written = " or ".join(f"“{choice}”" for choice in question.choices)
        expected = f"{written}, whichever is meant" if written else "what is meant, in full"
        super().__init__(question.text, question.start, question.end, expected, question.why)


def read_usual_directions(text: str) -> Directions:
    """Directions from any usual spelling; raises DirectionsError, a question among them."""
    return _answered(_understood(text, parse_directions))


def read_usual_timing(text: str) -> Timing:
    """A rhythm without an amount from any usual spelling; raises DirectionsError as above."""
    return _answered(_understood(text, parse_timing))


def read_usual_amount(text: str) -> tuple[Fraction, Unit]:
    """An amount by itself from any usual spelling, `2 capsules`; raises DirectionsError."""
    return _answered(_understood(text, parse_amount))


def _answered(result: Told | Question) -> Told:
    if isinstance(result, Question):
        raise AmbiguousDirectionsError(result)
    return result


def understand(text: str) -> Understood | Question:
    """What directions say, or what has to be asked about them.

    Raises DirectionsError, which says where and why, for what is neither.
    """
    result = _understood(text, parse_directions)
    return result if isinstance(result, Question) else Understood(result)


def _understood(text: str, parse: Callable[[str], Told]) -> Told | Question:
    """What a text says to a reader of the short form, or what has to be asked about it."""
    try:
        told = parse(text)
    except DirectionsError:
        if len(text.strip()) > _LONGEST:
            raise
    else:
        if not _TRAILING_ZERO.search(text):
            return told
    pieces: list[Piece] = []
    for found in _found(text):
        if isinstance(found, Question):
            return found
        pieces.append(found)
    in_order = arranged(text, pieces)
    return in_order if isinstance(in_order, Question) else _read(text, in_order, parse)


def _found(text: str) -> Iterator[Piece | Question]:
    """The pieces of a text from left to right, up to the first that could be misread."""
    plain = text.translate(_SAME)
    opening = _OPENING.match(plain)
    at = opening.end() if opening else 0
    while at < len(plain):
        match, rule = _matching(plain, at)
        start, at = match.span()
        yield from _said(text, match, rule, (start, at))
        blanks = _BLANKS.match(plain, at)
        at = blanks.end() if blanks else at


def _said(
    text: str, match: re.Match[str], rule: _Rule, place: tuple[int, int]
) -> Iterator[Piece | Question]:
    start, end = place
    match rule:
        case Misreading():
            yield Question(text, start, end, rule.why, rule.choices(match))
        case Elsewhere():
            raise DirectionsError(text, start, end, rule.expected, rule.why)
        case Spelling():
            for part, words in rule.says(match):
                yield Piece(part, words, start, end)
        case _:
            assert_never(rule)


def _read(text: str, pieces: Sequence[Piece], parse: Callable[[str], Told]) -> Told:
    """The short form's reading of pieces in its order, its errors shown where they were typed."""
    unknown = next((piece for piece in pieces if piece.part is Part.UNKNOWN), None)
    try:
        told = parse(" ".join(piece.words for piece in pieces))
    except DirectionsError as error:
        start, end = _place(text, pieces, error)
        raise DirectionsError(text, start, end, error.expected, error.why) from None
    if unknown is not None:
        raise DirectionsError(
            text, unknown.start, unknown.end, "amounts and times alone", "this is not understood"
        )
    return told


def _place(text: str, pieces: Sequence[Piece], error: DirectionsError) -> tuple[int, int]:
    """Where the piece stands in the text that an error of the short form points at."""
    before = 0
    for piece in pieces:
        after = before + len(piece.words)
        if error.start < after:
            if text[piece.start : piece.end].lower() == piece.words.lower():
                return piece.start + error.start - before, piece.start + error.end - before
            return piece.start, piece.end
        before = after + 1
    end = len(text.rstrip())
    return end, end


# The table, made ready when the first text needs it

_Rule = Misreading | Elsewhere | Spelling


@lru_cache(maxsize=1)
def _rules() -> tuple[tuple[re.Pattern[str], _Rule], ...]:
    rules: tuple[_Rule, ...] = (*MISREADINGS, *ELSEWHERE, *SPELLINGS)
    written = ((re.compile(f"(?:{_blanks(rule.pattern)}){_END}"), rule) for rule in rules)
    return (*written, (_ANY_WORD, _NOT_UNDERSTOOD))


def _blanks(pattern: str) -> str:
    """A blank that may be missing stands for any blanks and hyphens, another for one or more."""
    return pattern.replace(" ?", r"[\s-]*").replace(" ", r"(?:\s*-\s*|\s+)")


def _matching(plain: str, at: int) -> tuple[re.Match[str], _Rule]:
    """The first rule of the table that fits; the last fits every word."""
    return next((match, rule) for pattern, rule in _rules() if (match := pattern.match(plain, at)))
