"""What changes next in what a client takes, for the card."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from sennight.domain.courses.stretches import Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed
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
    groups: dict[str, list[str]] = {}
    for remedy in facts.layout.course.remedies:
        if how := _how(remedy.id, before, after):
            groups.setdefault(how, []).append(remedy.name)
    for how, names in groups.items():
        verb = "have" if len(names) > 1 else "has"
        yield how.format(names=listed(names), have=verb)


def _how(remedy: str, before: DaysAlike, after: DaysAlike) -> str:
    """What becomes of one remedy, with a place for the names; empty where it goes on alike."""
    old, new = _taken(before).get(remedy), _taken(after).get(remedy)
    was_off, is_off = (any(s.remedy == remedy for s in d.off) for d in (before, after))
    if is_off and not was_off:
        return "{names} {have} days off"
    if old and not new and not is_off:
        return "no more {names}"
    if new and not old:
        return "take {names} again" if was_off else "take {names} too"
    if old and new and old.directions != new.directions:
        return "you take {names} in another way"
    return ""


def _taken(days: DaysAlike) -> dict[str, Stretch]:
    return {stretch.remedy: stretch for stretch in days.taken}
