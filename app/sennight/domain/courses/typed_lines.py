"""Lines and steps as they are typed: `3 d: 1 cup bd`, or `every 1-3 h prn for 3 days, then bd`."""

from __future__ import annotations

import re

from sennight.domain.courses.protocols import Step
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.parser import LARGEST, DirectionsError
from sennight.domain.directions.understanding import read_usual_directions, read_usual_timing

_AFTER = re.compile(
    r"\s*(?:after\s+)?(?P<count>[0-9]{1,4})\s*(?:(?P<days>d|days?)|w|wks?|weeks?)?\s*",
    re.IGNORECASE,
)


def steps_text(steps: tuple[Step, ...]) -> str:
    """Steps as they are typed: `3 d: 1 cup bd; 8 w: 1 cup od`."""
    return "; ".join(f"{step.after}: {step.directions}" for step in steps)


def parse_steps(text: str) -> tuple[Step, ...]:
    """Steps from `3 d: 1 cup bd; 8 w: 1 cup od`, none from an empty text.

    Days and weeks are counted from the phase's start and rise. Raises DirectionsError, with its
    place in the whole text.
    """
    steps: list[Step] = []
    start = 0
    for part in text.split(";") if text.strip() else ():
        step = _parse_step(text, part, start)
        if steps and step.after_days <= steps[-1].after_days:
            end = start + part.index(":")
            raise DirectionsError(
                text, start + _indent(part), end, f"more than {steps[-1].after}",
                "steps come in the order of their days",
            )  # fmt: skip
        steps.append(step)
        start += len(part) + 1
    return tuple(steps)


def _parse_step(text: str, part: str, start: int) -> Step:
    head, colon, tail = part.partition(":")
    after = _AFTER.fullmatch(head)
    if not colon or not after or not 1 <= int(after["count"]) <= LARGEST:
        end = start + len(head.rstrip())
        begin = min(start + _indent(head), end)
        expected = "when it begins and a colon, as in 4 w: 1 cup bd, or 3 d: 1 cup bd"
        raise DirectionsError(text, begin, end, expected)
    days = int(after["count"]) * (1 if after["days"] else 7)
    padding = " " * (start + len(head) + 1)
    return Step(days, read_usual_directions(padding + tail))


def _indent(part: str) -> int:
    return len(part) - len(part.lstrip())


# A line with what follows, said in one go

Take = tuple[Directions, tuple[Step, ...]]
"""Directions, and the steps that follow them."""

_THEN = re.compile(
    r"[\s,;]*\bfor\s+(?:the\s+first\s+)?(?P<count>[0-9]{1,3}|a|one|two|three|four|five|six)\s*"
    r"(?P<unit>d|days?|w|wks?|weeks?)\s*[,;]?\s*(?:and\s+)?then\b[\s,;]*",
    re.IGNORECASE,
)
_NUMBERS = {"a": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


def parse_take(text: str) -> Take:
    """Directions, and what follows them after so many days: `1 cup tds for 3 weeks, then bd`.

    What follows has the amount said before it where it names none. Without “then” there are no
    steps. Raises DirectionsError, with its place in the whole text.
    """
    breaks = list(_THEN.finditer(text))
    first = _read_part(text, 0, breaks[0].start() if breaks else len(text))
    steps: list[Step] = []
    days, before = 0, first
    for place, match in enumerate(breaks):
        days += _days_of(match)
        end = breaks[place + 1].start() if place + 1 < len(breaks) else len(text)
        before = _following(text, match.end(), end, before)
        steps.append(Step(days, before))
    return first, tuple(steps)


def _days_of(match: re.Match[str]) -> int:
    count = _NUMBERS.get(match["count"].lower()) or int(match["count"])
    return count * (7 if match["unit"].lower().startswith("w") else 1)


def _read_part(text: str, start: int, end: int) -> Directions:
    return read_usual_directions(" " * start + text[start:end])


def _following(text: str, start: int, end: int, before: Directions) -> Directions:
    """A later part; the amount before it holds where its words are a rhythm alone."""
    try:
        return before.timed(read_usual_timing(" " * start + text[start:end]))
    except DirectionsError as without_amount:
        try:
            return _read_part(text, start, end)
        except DirectionsError as whole:
            further = max(without_amount, whole, key=lambda error: error.start)
            raise further from None
