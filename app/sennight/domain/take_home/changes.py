"""What changes next in what a client takes, for the card."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from sennight.domain.dates import Span
from sennight.domain.directions.directions import Directions
from sennight.domain.directions.plain_words import listed
from sennight.domain.schedule.day_kinds import DayKind, KindLine, day_kinds
from sennight.domain.take_home.facts import TakeHomeFacts


@dataclass(frozen=True, slots=True)
class _Day:
    """What holds on a day: the flare-up plan, whether all is left out, what is taken, what not."""

    day: date
    flare: str
    is_break: bool
    taken: Mapping[str, Directions]
    off: frozenset[str]


def next_change(facts: TakeHomeFacts) -> str:
    """The next day on which anything changes, and what; empty where nothing does any more."""
    if facts.is_over:
        return ""
    days = facts.layout.days
    kinds = day_kinds(facts.layout, Span(facts.window.first, days.end))
    before = _day(kinds, facts.window.first)
    for day in sorted(set(_cuts(kinds))):
        after = _day(kinds, day) if facts.window.first < day < days.end else before
        if what := list(_what(facts, before, after)):
            return f"{facts.saying.day(day)}: {'; '.join(what)}.{_if_ready(facts, day)}"
    return f"{facts.saying.day(days.last)} is the last day of your course."


def _cuts(kinds: Sequence[DayKind]) -> Iterator[date]:
    """The days on which anything may change."""
    for kind in kinds:
        lines = [span for line in kind.lines for span in (*line.days_off, *_stepped(line))]
        for span in (*kind.spans, *lines):
            yield from (span.first, span.end)


def _stepped(line: KindLine) -> Iterator[Span]:
    return (span for _, spans in line.doses for span in spans)


def _day(kinds: Sequence[DayKind], day: date) -> _Day:
    kind = next(kind for kind in kinds if any(day in span for span in kind.spans))
    off = {line.stretch.remedy for line in kind.lines if any(day in s for s in line.days_off)}
    taken = {
        line.stretch.remedy: _directions(line, day)
        for line in kind.lines
        if line.stretch.remedy not in off
    }
    return _Day(day, kind.flare, kind.is_break, taken, frozenset(off))


def _directions(line: KindLine, day: date) -> Directions:
    """How it is taken on a day, of amounts that change the one that holds then."""
    held = (told for told, spans in line.doses if any(day in span for span in spans))
    return next(held, line.stretch.directions)


def _if_ready(facts: TakeHomeFacts, day: date) -> str:
    """That a phase begins only if the one before has done its work."""
    is_gated = any(run.span.end == day and run.phase.gate for run in facts.layout.phases)
    return " At your visit we will first decide whether it is time." if is_gated else ""


def _what(facts: TakeHomeFacts, before: _Day, after: _Day) -> Iterator[str]:
    if after.is_break != before.is_break:
        yield "a break begins: take nothing" if after.is_break else "your break is over"
        return
    if after.flare != before.flare:
        begins = "your flare-up plan begins" if after.flare else "your flare-up plan is over"
        yield begins
        return
    groups: dict[str, list[str]] = {}
    for remedy in facts.layout.course.remedies:
        if how := _how(facts, remedy.id, before, after):
            groups.setdefault(how, []).append(remedy.name)
    for how, names in groups.items():
        yield how.format(names=listed(names))


def _how(facts: TakeHomeFacts, remedy: str, before: _Day, after: _Day) -> str:
    """What becomes of one remedy, with a place for the names; empty where it goes on alike."""
    old, new = before.taken.get(remedy), after.taken.get(remedy)
    if old == new:
        return ""
    if new is None:
        rests = facts.layout.rests
        resting = remedy in after.off or any(
            after.day in rest.span for rest in rests if rest.remedy == remedy
        )
        return "days off start for {names}" if resting else "no more {names}"
    if old is None:
        stretches = (s for s in facts.layout.stretches if s.remedy == remedy)
        earlier = remedy in before.off or any(s.span.first < before.day for s in stretches)
        return "start {names} again" if earlier else "also take {names}"
    return "how you take {names} changes"
