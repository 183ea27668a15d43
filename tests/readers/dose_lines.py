"""What a calendar entry tells of doses, as lines of time, remedy and amount."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import datetime

from sennight.domain.courses.stretches import Layout
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.schedule.doses import Dose, doses_of


def told_doses(layout: Layout) -> Iterator[tuple[Dose, str]]:
    """Every timed dose, and its amount as a calendar entry tells it."""
    for stretch in layout.stretches:
        more = " (more if needed)" if stretch.as_needed_max else ""
        told = f"{dose_words(stretch.directions, layout.course.remedy(stretch.formula))}{more}"
        yield from ((dose, told) for dose in doses_of(stretch))


def dose_lines(at: datetime, title: str, text: str) -> list[str]:
    """`07:30 Joint tea: 1 cup`, as the text has it; where it has none, time and title."""
    lines = [line for line in text.split("\n") if re.match(r"\d\d:\d\d ", line)]
    return lines or [f"{at:%H:%M} {title}"]
