"""What is typed for a line, said in plain words, or what is wrong with it and where."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from sennight.domain.courses.editing import parse_steps
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.plain_words import (
    MONTH_NAMES,
    plain_directions,
    plain_doses,
    plain_from,
)
from sennight.domain.directions.understanding import read_usual_directions

Explained = tuple[str, tuple[int, int] | None]
"""What a text means and None; or what was expected, and from where to where it is wrong."""


@lru_cache(maxsize=512)
def explain_directions(text: str, day: ClientDay) -> Explained:
    """Directions in plain words for a client's day; nothing for an empty text."""
    try:
        return (read_back(text, read_usual_directions(text), day), None) if text else ("", None)
    except ValueError as error:
        return _wrong(text, error)


def read_back(text: str, directions: Directions, day: ClientDay) -> str:
    """What was understood: the short form where another was typed, plain words, doses a day."""
    doses, said = plain_doses(directions, day), plain_directions(directions, day)
    told = f"{said} ({doses})" if doses else said
    short = str(directions)
    return told if " ".join(text.split()).lower() == short.lower() else f"{short}: {told}"


@lru_cache(maxsize=512)
def explain_steps(text: str, day: ClientDay) -> Explained:
    """Steps in plain words, each from the week of the phase in which it begins."""
    try:
        steps = parse_steps(text)
        parts = (
            f"{plain_from(step.after)}: {plain_directions(step.directions, day)}" for step in steps
        )
        return "; ".join(parts), None
    except ValueError as error:
        return _wrong(text, error)


def _wrong(text: str, error: ValueError) -> Explained:
    """The message, and the place; the whole text where it holds for this client's day alone."""
    message = str(error)
    place = (error.start, error.end) if isinstance(error, DirectionsError) else (0, len(text))
    return f"{message[:1].upper()}{message[1:]}", place


def short_date(day: date) -> str:
    """A day in a narrow column: 1 Mar 2027."""
    return f"{day.day} {MONTH_NAMES[day.month - 1][:3]} {day.year}"
