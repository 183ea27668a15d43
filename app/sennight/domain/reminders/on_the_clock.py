"""Series of doses on the clock: which share a reminder, and where clocks change."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

from sennight.domain.dates import ONE_DAY, Span
from sennight.domain.day import as_minutes
from sennight.domain.directions.directions import DAILY, DayRule
from sennight.domain.reminders.clock_changes import days_of_changes, shown_at, skipped_days
from sennight.domain.reminders.overlaps import DoseSeries, DueDose
from sennight.domain.reminders.runs import WEEK, Run


def clusters(dose_series: Iterable[DoseSeries], within: int) -> Iterator[list[DoseSeries]]:
    """Strands whose doses share reminders: those so many minutes from the cluster's first."""
    cluster: list[DoseSeries] = []
    for series in sorted(dose_series, key=lambda series: series.dose.minute):
        if cluster and series.dose.minute - cluster[0].dose.minute > within:
            yield cluster
            cluster = []
        cluster.append(series)
    if cluster:
        yield cluster


def on_the_clock(series: DoseSeries, zone: str | None) -> Iterator[DoseSeries]:
    """The series, with each day on which clocks skip its time at the time that they show.

    Some readers drop a time that does not exist, others show it an hour early; RFC 5545 section
    3.3.5 reads it by the offset before the gap, which is what is written here.
    """
    dose = series.dose
    rest: DoseSeries | None = series
    for day in skipped_days(zone, dose.minute, series.span) if zone else ():
        if zone is None or rest is None or day not in rest:
            continue
        earlier = rest.before(day)
        if earlier:
            yield earlier
        shown = shown_at(zone, day, dose.minute)
        moved = replace(dose, minute=as_minutes(shown.time()))
        yield DoseSeries(Span.of_days(shown.date(), shown.date()), DAILY, moved)
        rest = rest.from_on(day + ONE_DAY)
    if rest:
        yield rest


def cut_at_changes(run: Run, minute: int, zone: str | None) -> Iterator[Run]:
    """The run as pieces that every reader repeats right.

    Some repeat every n days in steps of n times 24 hours, and so are an hour late from the next
    change of the clocks on; some move what is weekly by an hour where they walk over a day that
    has no such time.
    """
    cuts = _cuts(run, minute, zone) if zone else ()
    for first, end in pairwise((run.first, *cuts, run.last + ONE_DAY)):
        piece = run.within(Span(first, end))
        if piece:
            yield piece


def _cuts(run: Run, minute: int, zone: str) -> tuple[date, ...]:
    span = Span.of_days(run.first, run.last)
    if run.is_weekly:
        return skipped_days(zone, minute, span)
    return days_of_changes(zone, minute, span) if run.every > 1 else ()


def moved_by(days: int, span: Span, rule: DayRule, dose: DueDose) -> DoseSeries:
    """A dose on the days of a rule, said for the calendar's dates so many days later."""
    by = timedelta(days=days)
    weekdays = tuple(sorted((day + days) % WEEK for day in rule.weekdays))
    return DoseSeries(Span(span.first + by, span.end + by), DayRule(weekdays, rule.every), dose)
