"""What a calendar entry tells of doses, as lines of time, remedy and amount."""

from __future__ import annotations

import re
from datetime import datetime


def dose_lines(at: datetime, title: str, text: str) -> list[str]:
    """`07:30 Joint tea: 1 cup`, as the text has it; where it has none, time and title."""
    lines = [line for line in text.split("\n") if re.match(r"\d\d:\d\d ", line)]
    return lines or [f"{at:%H:%M} {title}"]
