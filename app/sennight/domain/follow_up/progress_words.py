"""How it goes, in sentences; they tell, and neither cheer nor propose."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import plain_date, plain_dates
from sennight.domain.follow_up.measures import Verdict
from sennight.domain.follow_up.progress import Progress


def progress_sentence(progress: Progress) -> str:
    """`Pain: from 7 to 4.5, 4 January to 15 February 2027. Better, by enough to matter.`"""
    unit = f" {progress.measure.unit}" if progress.measure and progress.measure.unit else ""
    name = f"{progress.name[:1].upper()}{progress.name[1:]}"
    first, last = progress.ratings[0], progress.ratings[-1]
    if len(progress.ratings) == 1:
        told = f"{plain_number(first.value)}{unit} on {plain_date(first.day)}"
        return f"{name}: {told}. One rating is not a trend."
    days = plain_dates(Span.of_days(first.day, last.day))
    change = f"from {plain_number(first.value)} to {plain_number(last.value)}{unit}"
    return f"{name}: {change}, {days}. {change_words(progress)}."


def change_words(progress: Progress) -> str:
    """What the change means, of two ratings or more."""
    is_held = progress.matters is not None
    match progress.verdict:
        case None:
            return _without_direction(progress)
        case Verdict.BETTER:
            return "Better, by enough to matter"
        case Verdict.AT_THE_EDGE:
            return "Better, on the borderline: it passes one of two published thresholds"
        case Verdict.SLIGHTLY_BETTER:
            return "Better, but by less than matters" if is_held else f"Better; {UNKNOWN}"
        case Verdict.SAME:
            return "The same"
        case Verdict.SLIGHTLY_WORSE:
            return "Worse, not clearly by enough to matter" if is_held else f"Worse; {UNKNOWN}"
        case Verdict.WORSE:
            return "Worse, by enough to matter"
        case _:
            assert_never(progress.verdict)


UNKNOWN = "no published figure says how much of a change matters"


def _without_direction(progress: Progress) -> str:
    change = progress.last - progress.first
    if change == 0:
        return "The same"
    return f"{'Up' if change > 0 else 'Down'} by {plain_number(abs(change))}"


def ratings_words(progress: Progress) -> str:
    """Every rating with its day, for those who hear a chart."""
    return "; ".join(f"{plain_number(s.value)} on {plain_date(s.day)}" for s in progress.ratings)
