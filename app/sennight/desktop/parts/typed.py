"""What is typed for a line, said in plain words, or what is wrong with it and where."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import lru_cache

from sennight.desktop.kit.translating import translate
from sennight.domain.courses.protocols import Step
from sennight.domain.courses.typed_lines import parse_steps, parse_take
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.pieces import Question
from sennight.domain.directions.plain_words import (
    MONTH_NAMES,
    plain_directions,
    plain_doses,
    plain_from,
    plain_timing,
)
from sennight.domain.directions.understanding import (
    AmbiguousDirectionsError,
    read_usual_directions,
    read_usual_timing,
)

Explained = tuple[str, tuple[int, int] | None]
"""What a text means and None; or what was expected, and from where to where it is wrong."""


@lru_cache(maxsize=512)
def explain_directions(text: str, day: ClientDay) -> Explained:
    """Directions in plain words for a client's day; nothing for an empty text."""
    try:
        return (read_back(text, read_usual_directions(text), day), None) if text else ("", None)
    except ValueError as error:
        return _wrong(text, error)


@lru_cache(maxsize=512)
def explain_take(text: str, day: ClientDay) -> Explained:
    """The same for directions that may say what follows: `1 cup tds for 3 weeks, then bd`."""
    try:
        first, steps = parse_take(text)
        if not steps:
            return explain_directions(text, day)
        return "; ".join([plain_directions(first, day), *_steps_said(steps, day)]), None
    except ValueError as error:
        return _wrong(text, error) if text else ("", None)


def read_back(text: str, directions: Directions, day: ClientDay) -> str:
    """What was understood: the short form where another was typed, plain words, doses a day."""
    doses, said = plain_doses(directions, day), plain_directions(directions, day)
    told = f"{said} ({doses})" if doses else said
    short = str(directions)
    return told if " ".join(text.split()).lower() == short.lower() else f"{short}: {told}"


def explain_timing(text: str, day: ClientDay) -> Explained:
    """When advice is for, in plain words; nothing for an empty text."""
    if not text.strip():
        return "", None
    try:
        return plain_timing(read_usual_timing(text), day), None
    except ValueError as error:
        return _wrong(text, error)


@lru_cache(maxsize=512)
def explain_steps(text: str, day: ClientDay) -> Explained:
    """Steps in plain words, each from the week of the phase in which it begins."""
    try:
        return "; ".join(_steps_said(parse_steps(text), day)), None
    except ValueError as error:
        return _wrong(text, error)


def _steps_said(steps: Iterable[Step], day: ClientDay) -> list[str]:
    return [
        f"{plain_from(step.after)}: {plain_directions(step.directions, day)}" for step in steps
    ]


def question_in(
    text: str, read: Callable[[str], object] = read_usual_directions
) -> Question | None:
    """What has to be asked about a text before it can be read; None where nothing has."""
    try:
        read(text)
    except AmbiguousDirectionsError as error:
        return error.question
    except ValueError:
        return None
    return None


def _wrong(text: str, error: ValueError) -> Explained:
    """The message, and the place; the whole text where it holds for this client's day alone."""
    if isinstance(error, AmbiguousDirectionsError) and error.question.choices:
        asked = translate("Typed", "“{words}”: {why}. Which is meant: {choices}?")
        words = text[error.start : error.end]
        choices = translate("Typed", ", or ").join(error.question.choices)
        return asked.format(words=words, why=error.why, choices=choices), (error.start, error.end)
    message = str(error)
    place = (error.start, error.end) if isinstance(error, DirectionsError) else (0, len(text))
    return f"{message[:1].upper()}{message[1:]}", place


def short_date(day: date) -> str:
    """A day in a narrow column: 1 Mar 2027."""
    return f"{day_and_month(day)} {day.year}"


def day_and_month(day: date) -> str:
    """A day of which the year is plain: 1 Mar."""
    return f"{day.day} {MONTH_NAMES[day.month - 1][:3]}"
