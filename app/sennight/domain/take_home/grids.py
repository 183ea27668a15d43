"""The client's day as a grid: remedy × moment of the day."""

from __future__ import annotations

from collections.abc import Iterator

from sennight.domain.day import DAY_MINUTES, MEALS
from sennight.domain.directions.directions import AtTimes, Directions, Food
from sennight.domain.directions.plain_words import listed, plain_days
from sennight.domain.remedies.dose_words import dose_words
from sennight.domain.schedule.day_kinds import DayKind, KindLine
from sennight.domain.take_home.document import Grid, GridColumn, GridRow, Sentence, Tone
from sennight.domain.take_home.facts import TakeHomeFacts
from sennight.domain.take_home.names import plan_name

_FOOD = {
    Food.WITH: "Take with food.",
    Food.BEFORE: "Take before food.",
    Food.AFTER: "Take after food.",
}
NEEDED = "When needed"
BY_STEPS = "see below"
"""Stands for an amount that changes on the days of a table."""


def grid_of(facts: TakeHomeFacts, kind: DayKind) -> Grid | Sentence:
    """The day of a kind; a sentence where nothing is taken."""
    days = facts.saying.spans(kind.spans)
    days = f"{plan_name(kind.flare)}: {days}" if kind.flare else days
    if kind.is_break:
        return Sentence(f"A break: take nothing. {days}.", Tone.STRONG)
    if not kind.lines:
        return Sentence(f"Nothing to take. {days}.", Tone.STRONG)
    saying = facts.saying
    minutes = sorted({minute for line in kind.lines for minute in line.stretch.times})
    rows = [
        GridRow(
            saying.clock(minute),
            saying.moment(minute),
            tuple(_cell(facts, line, minute) for line in kind.lines),
        )
        for minute in minutes
    ]
    needed = tuple(_needed_cell(facts, line) for line in kind.lines)
    if any(needed):
        rows.append(GridRow(NEEDED, "", needed))
    columns = tuple(
        GridColumn(
            facts.mark(line.stretch.remedy), tuple(_notes(facts, line)), _steps(facts, line)
        )
        for line in kind.lines
    )
    return Grid(days, columns, tuple(rows))


def _cell(facts: TakeHomeFacts, line: KindLine, minute: int) -> str:
    return _dose(facts, line) if minute in line.stretch.times else ""


def _needed_cell(facts: TakeHomeFacts, line: KindLine) -> str:
    return _dose(facts, line) if line.stretch.directions.as_needed else ""


def _steps(facts: TakeHomeFacts, line: KindLine) -> tuple[tuple[str, str], ...]:
    """The amounts that change on these days, each with its days."""
    remedy = facts.layout.course.remedy(line.stretch.formula)
    doses = (
        (span, dose_words(directions, remedy))
        for directions, spans in line.doses
        for span in spans
    )
    return tuple((facts.saying.days(span), dose) for span, dose in sorted(doses))


def _dose(facts: TakeHomeFacts, line: KindLine) -> str:
    if line.doses:
        return BY_STEPS
    return dose_words(line.stretch.directions, facts.layout.course.remedy(line.stretch.formula))


def _notes(facts: TakeHomeFacts, line: KindLine) -> Iterator[Sentence]:
    """On which days, with what food, how often when needed, and when it is left out.

    What has to be kept apart from a medicine stands beside the clock times too.
    """
    saying, directions = facts.saying, line.stretch.directions
    if directions.days.weekdays:
        yield Sentence(f"Only {plain_days(directions.days)}.")
    if line.first_days:
        yield Sentence(saying.counted_days(directions, line.first_days))
    if directions.food and not _is_told_by_times(directions):
        yield Sentence(_FOOD[directions.food])
    if directions.as_needed:
        yield Sentence(saying.needed(directions))
    if line.days_off:
        yield Sentence(f"Days off: {saying.spans(line.days_off)}.", Tone.STRONG)
    for sentence in facts.told:
        minutes = [m for m in sentence.minutes if m in line.stretch.times]
        if minutes and line.stretch.remedy in sentence.remedies:
            clocks = listed([saying.clock(minute) for minute in minutes])
            yield Sentence(f"At {clocks}: {sentence.says}.", Tone.STRONG)


def _is_told_by_times(directions: Directions) -> bool:
    """Whether the rows say already how each dose stands to food: before or after a meal."""
    rhythm = directions.rhythm
    if directions.food is Food.WITH or directions.as_needed or not isinstance(rhythm, AtTimes):
        return False
    return all(when in MEALS for when in rhythm.times)


def night_note(facts: TakeHomeFacts) -> tuple[Sentence, ...]:
    """To which day a dose after midnight belongs, where there is one."""
    stretches = [line.stretch for kind in facts.kinds for line in kind.lines]
    late = [m for stretch in stretches for m in stretch.times if m >= DAY_MINUTES]
    if not late:
        return ()
    clock = facts.saying.clock(min(late))
    words = (
        f"A dose after midnight counts for the day before: Friday’s {clock} dose comes in the "
        "night between Friday and Saturday."
    )
    return (Sentence(words),)
