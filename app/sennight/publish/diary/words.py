"""The words on a diary sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import assert_never

from sennight.domain.courses.courses import Course
from sennight.domain.day import DAY_MINUTES
from sennight.domain.directions.plain_words import WEEKDAY_NAMES
from sennight.domain.follow_up.measures import Better, Measures, is_activity
from sennight.domain.tag_words import upper_first
from sennight.domain.take_home.saying import Saying
from sennight.publish.diary.content import (
    OVERALL,
    OVERALL_MEASURE,
    Column,
    DiaryDay,
    is_in_minutes,
    named_time,
    names_of,
)

_WRONG = "Wrong? Scribble right over it."
HOW = f"Dark pen. Tick doses; week’s last day: cross one box a row. {_WRONG}"
"""In one line of the standard print, so that the boxes keep their room; the next one too."""
HOW_NEAREST = f"Dark pen. Tick doses; week’s last day: cross nearest box. {_WRONG}"
STIFF = "Stiff on waking, min"
NOTHING = "Nothing to take"
NEEDED = "If needed"
IN_THE_DAY = "In the day"


def how_words(measures: Sequence[str]) -> str:
    """What is to be done with the boxes."""
    return HOW_NEAREST if any(map(is_in_minutes, measures)) else HOW


def scale_words(measure: str) -> str:
    """A measure with its whole scale: about as long as what stands beside its boxes, or longer."""
    return STIFF if is_in_minutes(measure) else f"{upper_first(measure)}, 0 to 10"


def rating_words(measure: str, known: Measures) -> str:
    """What stands beside the boxes of a measure: its name, and what an end of its scale means.

    Short, so that the boxes keep their room. No end is named where nothing is held of a
    measure but its name.
    """
    of = known.of(measure) or (OVERALL_MEASURE if measure == OVERALL else None)
    if of is None or is_in_minutes(measure):
        return scale_words(measure)
    if is_activity(measure):
        return f"{upper_first(of.name)}: 0 unable"
    match of.better:
        case Better.LESS:
            return f"{upper_first(measure)}: 10 worst"
        case Better.MORE:
            return f"{upper_first(measure)}: 10 best"
        case _:
            assert_never(of.better)


def time_words(saying: Saying, column: Column) -> tuple[str, str]:
    """A time's name in two lines: with its clock time, but for half an hour from a meal."""
    if column.minute is None:
        return (IN_THE_DAY if column.is_advice else NEEDED), ""
    day = saying.client_day
    named = named_time(day, column.minute)
    if named.moment is None:
        late = column.minute >= DAY_MINUTES
        return ("After midnight" if late else "At"), saying.clock(column.minute)
    words = saying.moment(day.minute(named.moment))
    if named.shift:
        return ("Before" if named.shift < 0 else "After"), words
    return upper_first(words), saying.clock(column.minute)


def day_words(day: date) -> str:
    """A day's name: `Mon 4 Jan`."""
    return f"{WEEKDAY_NAMES[day.weekday()][:3]} {day.day} {day.strftime('%b')}"


def week_words(
    course: Course, saying: Saying, week: Sequence[DiaryDay], columns: Sequence[Column]
) -> str:
    """A week of boxes for a screen reader: each column with the days that have a box."""
    sentences = [f"Week {week[0].week}: boxes to tick"]
    for column in columns:
        days = [WEEKDAY_NAMES[day.day.weekday()][:3] for day in week if column in day.taken]
        if days:
            when = " ".join(part for part in time_words(saying, column) if part)
            name = names_of(course)[column.index]
            sentences.append(f"{name}, {when}: {' '.join(days)}")
    return ". ".join(sentences) + "."
