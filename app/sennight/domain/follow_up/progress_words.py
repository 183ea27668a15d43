"""How it goes, in sentences; they tell, and neither cheer nor propose."""

from __future__ import annotations

from collections.abc import Iterable
from typing import assert_never

from sennight.domain.amounts import plain_number
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed, plain_date, plain_dates
from sennight.domain.follow_up.measures import Measure, Verdict
from sennight.domain.follow_up.progress import Progress
from sennight.domain.tag_words import upper_first


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


OWN_SOURCE = "set in this practice"
UNKNOWN = "no published figure says how much of a change matters"


def threshold_words(measure: Measure) -> str:
    """`a change of 2 points and of 30 % matters (Farrar et al., Pain 2001;94:149-158)`."""
    held = []
    if measure.matters is not None:
        unit = measure.unit or ("point" if measure.matters == 1 else "points")
        held.append(f"of {plain_number(measure.matters)} {unit}")
    if measure.matters_percent is not None:
        held.append(f"of {plain_number(measure.matters_percent)} %")
    if not held:
        return UNKNOWN
    return f"a change {' and '.join(held)} matters ({measure.source or OWN_SOURCE})"


def thresholds_told(shown: Iterable[Progress]) -> str:
    """From which change on those that are shown matter, and who says so; nothing unheld.

    Measures of one threshold, as pains of several joints, are named together.
    """
    names: dict[str, list[str]] = {}
    for each in shown:
        if each.measure is not None and each.matters is not None:
            names.setdefault(threshold_words(each.measure), []).append(each.name)
    return " ".join(f"{upper_first(listed(of))}: {words}." for words, of in names.items())


def _without_direction(progress: Progress) -> str:
    change = progress.last - progress.first
    if change == 0:
        return "The same"
    return f"{'Up' if change > 0 else 'Down'} by {plain_number(abs(change))}"


def ratings_words(progress: Progress) -> str:
    """Every rating with its day, for those who hear a chart."""
    return "; ".join(f"{plain_number(s.value)} on {plain_date(s.day)}" for s in progress.ratings)
