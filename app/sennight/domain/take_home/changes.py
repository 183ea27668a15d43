"""What changes next in what a client takes, for the card."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from sennight.domain.courses.stretches import Stretch
from sennight.domain.dates import Span
from sennight.domain.schedule.day_kinds import DaysAlike, days_alike
from sennight.domain.take_home.facts import TakeHomeFacts


def next_change(facts: TakeHomeFacts) -> str:
    """The next day on which anything changes, and what; empty where nothing does any more."""
    days = facts.layout.days
    whole = Span(facts.window.first, days.end)
    for before, after in pairwise(days_alike(facts.layout, whole)):
        if (what := list(_what(facts, before, after))) and not facts.is_over:
            day = after.span.first
            return f"{facts.saying.day(day)}: {'; '.join(what)}.{_if_ready(facts, day)}"
    if facts.is_over:
        return ""
    return f"{facts.saying.day(days.last)} is the last day of your course."


def _if_ready(facts: TakeHomeFacts, day: date) -> str:
    """That a phase begins only if the one before has done its work."""
    is_gated = any(run.span.end == day and run.phase.gate for run in facts.layout.phases)
    return " First we look at your visit whether it is time for that." if is_gated else ""


def _what(facts: TakeHomeFacts, before: DaysAlike, after: DaysAlike) -> Iterator[str]:
    if after.is_break != before.is_break:
        yield "a break begins: take nothing" if after.is_break else "your break is over"
        return
    if after.flare != before.flare:
        begins = "your flare-up plan begins" if after.flare else "your flare-up plan is over"
        yield begins
        return
    now, then = _taken(before), _taken(after)
    off_now = {stretch.remedy for stretch in before.off}
    off = {stretch.remedy for stretch in after.off}
    for remedy in facts.layout.course.remedies:
        old, new = now.get(remedy.id), then.get(remedy.id)
        if remedy.id in off and remedy.id not in off_now:
            yield f"{remedy.name} has days off"
        elif old and not new and remedy.id not in off:
            yield f"{remedy.name} ends"
        elif new and not old:
            again = "again" if remedy.id in off_now else "too"
            yield f"take {remedy.name} {again}"
        elif old and new and old.directions != new.directions:
            yield f"you take {remedy.name} in another way"


def _taken(days: DaysAlike) -> dict[str, Stretch]:
    return {stretch.remedy: stretch for stretch in days.taken}
