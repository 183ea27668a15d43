"""The client's day, as it is from one change to the next: which remedies, and how.

Days on which the same is taken are one kind, however often a break or a flare-up plan comes
between them. Days off of one remedy do not make a kind of their own but are told at the remedy.
Where only amounts change, step by step, later days are one kind too, with the days of each amount.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial
from itertools import pairwise

from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span, joined
from sennight.domain.directions.directions import Directions
from sennight.domain.schedule.ways import counted_from, within

FEWEST_STEPS = 3
"""Fewer kinds that differ in amounts alone stand each for themselves."""
Dose = tuple[Directions, tuple[Span, ...]]
"""Directions, and the days on which their amount holds."""


@dataclass(frozen=True, slots=True)
class KindLine:
    """A remedy on the days of a kind; `index` is its place in the course.

    `stretch` says how it is taken, `days_off` when it is left out on days of the kind;
    `first_days` are those from which every so many days are counted. Where its amount changes on
    the days of the kind, `doses` has each amount with its days; the times are the same.
    """

    index: int
    stretch: Stretch
    days_off: tuple[Span, ...] = ()
    first_days: tuple[date, ...] = ()
    doses: tuple[Dose, ...] = ()


@dataclass(frozen=True, slots=True)
class DayKind:
    """Days on which the same is taken; `flare` is the flare-up plan that runs on them.

    `is_break` says that it is a break of the whole course. Without lines nothing is taken.
    """

    spans: tuple[Span, ...]
    lines: tuple[KindLine, ...]
    flare: str = ""
    is_break: bool = False


@dataclass(frozen=True, slots=True)
class DaysAlike:
    """Days between two changes: what is taken on them and what has days off."""

    span: Span
    taken: tuple[Stretch, ...]
    off: tuple[Stretch, ...]
    flare: str
    is_break: bool

    @property
    def key(self) -> object:
        """What makes these days of the same kind as others."""
        lines = sorted((s.remedy, str(s.directions)) for s in (*self.taken, *self.off))
        return (tuple(lines), self.flare, self.is_break)

    @property
    def timing_key(self) -> object:
        """The same without amounts."""
        lines = sorted((s.remedy, str(s.directions.timing)) for s in (*self.taken, *self.off))
        return (tuple(lines), self.flare, self.is_break)


def day_kinds(layout: Layout, window: Span) -> tuple[DayKind, ...]:
    """The kinds of day inside the window, in the order in which they first come.

    The kind of the first day has one amount of each remedy.
    """
    alike: dict[object, Parts] = {}
    for days in days_alike(layout, window):
        alike.setdefault(days.key, []).append(days)
    first, *later = (
        _in_order(same) for same in _together(alike.values(), partial(_exactly, layout))
    )
    groups = [first]
    for same in _together(later, _but_for_amounts):
        groups += [_in_order(same)] if len(same) >= FEWEST_STEPS else same
    return tuple(_kind(layout, parts) for parts in sorted(groups, key=lambda parts: parts[0].span))


Parts = list[DaysAlike]


def _together(groups: Iterable[Parts], key: Callable[[Parts], object]) -> Iterable[list[Parts]]:
    """The groups that have the same key."""
    found: dict[object, list[Parts]] = {}
    for parts in groups:
        found.setdefault(key(parts), []).append(parts)
    return found.values()


def _in_order(groups: list[Parts]) -> Parts:
    return sorted((part for parts in groups for part in parts), key=lambda part: part.span)


def _exactly(layout: Layout, parts: Parts) -> object:
    """What is taken on these days, and how: without what is due on none of them."""
    kind = _kind(layout, parts)
    lines = tuple((x.stretch.remedy, str(x.stretch.directions)) for x in kind.lines)
    return lines, kind.flare, kind.is_break


def _but_for_amounts(parts: Parts) -> object:
    """What is taken or has days off on these days, and when; only where that is one thing."""
    keys = {part.timing_key for part in parts}
    return keys.pop() if len(keys) == 1 else id(parts)


def kind_on(kinds: Sequence[DayKind], day: date) -> DayKind | None:
    """The kind that a day belongs to; None outside the window."""
    return next((kind for kind in kinds if any(day in span for span in kind.spans)), None)


def _kind(layout: Layout, parts: list[DaysAlike]) -> DayKind:
    spans = joined(tuple(part.span for part in parts))
    order = {remedy.id: n for n, remedy in enumerate(layout.course.remedies)}
    first = {s.remedy: s for part in parts for s in (*part.taken, *part.off)}
    lines = [_line(order[remedy], stretch, parts) for remedy, stretch in first.items()]
    due = (line for line in lines if line is not None)
    return DayKind(
        spans,
        tuple(sorted(due, key=lambda line: line.index)),
        parts[0].flare,
        parts[0].is_break,
    )


def _line(index: int, stretch: Stretch, parts: list[DaysAlike]) -> KindLine | None:
    """A remedy on these days; None where it is due on none of them."""
    remedy = stretch.remedy
    off = tuple(part.span for part in parts for s in part.off if s.remedy == remedy)
    taken = [(part.span, s) for part in parts for s in part.taken if s.remedy == remedy]
    runs = [(days, run) for days, s in taken if (run := _on_these_days(s, days)).span]
    if not runs:
        return None
    # Days up to the next counted dose, which is one of another kind's.
    idle = tuple(days for days, s in taken if not _on_these_days(s, days).span)
    begun = _begun(runs) if stretch.days.every > 1 else ()
    return KindLine(index, stretch, joined((*off, *idle)), begun, _doses(remedy, parts))


def _doses(remedy: str, parts: list[DaysAlike]) -> tuple[Dose, ...]:
    """The amounts with their days; empty where there is one."""
    found: dict[str, tuple[Directions, list[Span]]] = {}
    for part in parts:
        for stretch in (*part.taken, *part.off):
            if stretch.remedy == remedy:
                told = str(stretch.directions)
                found.setdefault(told, (stretch.directions, []))[1].append(part.span)
    if len(found) == 1:
        return ()
    return tuple((directions, joined(tuple(spans))) for directions, spans in found.values())


def _on_these_days(stretch: Stretch, days: Span) -> Stretch:
    """A stretch from its first day taken on these days."""
    first = max(stretch.span.first, days.first)
    wait = -(first - stretch.span.first).days % stretch.days.every
    end = min(stretch.span.end, days.end)
    return replace(stretch, span=Span(first + timedelta(days=wait), end))


def _begun(runs: Sequence[tuple[Span, Stretch]]) -> tuple[date, ...]:
    """Where counting begins, and where it begins again after a gap; not where it only goes on."""
    firsts: list[date] = []
    end: date | None = None
    for days, run in sorted(runs, key=lambda pair: pair[0]):
        goes_on = days.first == end and (run.span.first - firsts[-1]).days % run.days.every == 0
        if not goes_on:
            firsts.append(run.span.first)
        end = days.end
    return tuple(firsts)


def days_alike(layout: Layout, window: Span) -> Iterator[DaysAlike]:
    """The window cut at every change of what is taken, in order."""
    stretches = within(layout, window)
    waited = [Span(counted_from(layout, s, window), s.span.end) for s in stretches]
    cuts = {window.first, window.end}
    for span in (
        *waited,
        *(rest.span for rest in layout.rests),
        *layout.pauses,
        *(run.span for run in layout.flares),
    ):
        cuts |= {day for day in (span.first, span.end) if day in window}
    for first, end in pairwise(sorted(cuts)):
        taken = tuple(s for s, span in zip(stretches, waited, strict=True) if first in span)
        flare = next((run.phase.id for run in layout.flares if first in run.span), "")
        paused = any(first in pause for pause in layout.pauses)
        off = tuple(_resting(layout, first, {s.remedy for s in taken}))
        is_break = paused and not taken and not flare
        yield DaysAlike(Span(first, end), taken, off, flare, is_break)


def _resting(layout: Layout, day: date, taken: set[str]) -> Iterator[Stretch]:
    """How the remedies that have days off are taken on the other days of their phase."""
    for rest in layout.rests:
        if day in rest.span and rest.remedy not in taken:
            own = [
                s
                for s in layout.stretches
                if (s.remedy, s.phase) == (rest.remedy, rest.phase) and s.directions.cycle
            ]
            before = [s for s in own if s.span.end <= rest.span.first]
            if own:
                yield (before or own)[-1 if before else 0]
