"""What the measurements of speed share: the processor's time, and other work to compare it with.

The bounds are ratios to python-dateutil in the same run, so that they hold on any machine.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta
from time import process_time

from dateutil.rrule import DAILY, WEEKLY, rrule

from sennight.domain.courses.stretches import Stretch
from sennight.domain.day import as_time


def quickest(work: Callable[[], object], runs: int = 15) -> float:
    """Processor seconds of the quickest of several runs, least disturbed by other work."""
    spent = []
    for _ in range(runs):
        begin = process_time()
        work()
        spent.append(process_time() - begin)
    return min(spent)


def listed_by_dateutil(stretches: Iterable[Stretch]) -> list[datetime]:
    """The doses of stretches in order, each time of each line as a rule of dateutil."""
    found: list[datetime] = []
    for stretch in stretches:
        for minute in stretch.times:
            later = timedelta(days=minute // 1440)
            first = datetime.combine(stretch.span.first + later, as_time(minute))
            until = datetime.combine(stretch.span.last + later, as_time(minute))
            if stretch.days.weekdays:
                days = [(n + later.days) % 7 for n in stretch.days.weekdays]
                found += list(rrule(WEEKLY, first, byweekday=days, until=until))
            else:
                found += list(rrule(DAILY, first, interval=stretch.days.every, until=until))
    return sorted(found)
