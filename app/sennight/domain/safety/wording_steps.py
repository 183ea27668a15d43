"""What could be done about a finding, in words."""

from __future__ import annotations

from typing import assert_never

from sennight.domain.day import clock
from sennight.domain.directions.plain_words import counted, plain_date, plain_moment
from sennight.domain.safety.names import Names
from sennight.domain.safety.steps import (
    FormWithoutEthanol,
    GiveLess,
    KeepHours,
    KeepNeededDoseApart,
    LastDoseBefore,
    LastDoseOn,
    LessInOneDose,
    MoveDose,
    NoMomentIsFree,
    NotBefore,
    Step,
)
from sennight.domain.tag_words import lower_first


def _long(days: int) -> str:
    """`10 days`, `2 weeks`."""
    weeks, rest = divmod(days, 7)
    return counted(days, "day") if rest else counted(weeks, "week")


def step_words(step: Step, names: Names) -> str:
    """A step as a sentence."""
    match step:
        case LastDoseBefore(day):
            return f"Take the last dose before {plain_date(day)}."
        case NotBefore(herb, day):
            return f"Start {lower_first(names.herb(herb))} on {plain_date(day)} or later."
        case LastDoseOn(herb, day, break_days):
            again = f", or stop for {_long(break_days)} from then" if break_days else ""
            name = lower_first(names.herb(herb))
            return f"Take {name} for the last time on {plain_date(day)}{again}."
        case GiveLess():
            return "Give less, or fewer of these herbs at once."
        case LessInOneDose():
            return "Give smaller doses, or another form."
        case FormWithoutEthanol():
            return "Give a tea, a capsule or a liquid without alcohol."
        case KeepHours(hours):
            return f"Keep {counted(hours, 'hour')} between them."
        case MoveDose(remedy, minute, moment, to_minute):
            at = f"{clock(to_minute)} ({plain_moment(moment)})"
            return f"Take {names.remedy(remedy)} at {at} instead of {clock(minute)}."
        case NoMomentIsFree(remedy):
            far = "No times of the client's day are far enough from the medicines and other doses"
            return f"{far} for {names.remedy(remedy)}."
        case KeepNeededDoseApart(remedy, hours):
            gap = counted(hours, "hour")
            name = names.remedy(remedy)
            return f"When {name} is taken as needed, keep it {gap} from the medicine."
        case _:
            assert_never(step)
