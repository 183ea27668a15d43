"""Days on which a course stops or starts again, in part or as a whole: what a calendar tells."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import chain

from sennight.domain.courses.plan import PhaseRun
from sennight.domain.courses.stretches import Layout, Stretch
from sennight.domain.dates import Span
from sennight.domain.directions.plain_words import listed, plain_date
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.reminders.events import EventKind

SHORTEST_REST = 7
"""Fewer days off than these are no week off and get no marker."""


@dataclass(frozen=True, slots=True)
class Change:
    """Something to tell on a day; `subject` is what a discreet title leaves out."""

    kind: EventKind
    day: date
    subject: str
    text: str


def changes_of_taking(layout: Layout, *, discreet: bool) -> Iterator[Change]:
    """Days off, breaks, the end of flare-up plans, stopped remedies and the course's last day."""
    return chain(
        _rests(layout, discreet=discreet),
        _pauses(layout),
        _flare_ends(layout),
        _stops(layout, discreet=discreet),
        _end(layout),
    )


@dataclass(frozen=True, slots=True)
class WeekOff:
    """Days off of a remedy, a week or more; `back` is when it is taken again, None for never."""

    remedy: Remedy
    span: Span
    back: date | None


def weeks_off(layout: Layout) -> Iterator[WeekOff]:
    """The days off of each remedy in the order of the course, those too short left out."""
    for remedy in layout.course.remedies:
        taken = [stretch for stretch in layout.stretches if stretch.remedy == remedy.id]
        rests = [rest.span for rest in layout.rests if rest.remedy == remedy.id]
        for span in _whole_rests(rests, taken):
            after = (stretch.span.first for stretch in taken if stretch.span.first >= span.end)
            yield WeekOff(remedy, span, min(after, default=None))


def _rests(layout: Layout, *, discreet: bool) -> Iterator[Change]:
    """Where days off begin and end; remedies off on the same days are told together."""
    off: dict[Span, list[str]] = defaultdict(list)
    back: dict[date, list[str]] = defaultdict(list)
    for week in weeks_off(layout):
        off[week.span].append(week.remedy.name)
        if week.back is not None:
            back[week.back].append(week.remedy.name)
    for span, names in off.items():
        which = _which(names, discreet=discreet)
        text = f"From today to {plain_date(span.last)}, leave out {which}."
        yield Change(EventKind.REST, span.first, ", ".join(names), text)
    for day, names in back.items():
        text = f"Start again today with {_which(names, discreet=discreet)}."
        yield Change(EventKind.RETURN, day, ", ".join(names), text)


def _which(names: list[str], *, discreet: bool) -> str:
    """For the middle of a sentence, since to begin one a name would have to be altered."""
    return "what your sheet says" if discreet else listed(names)


def _whole_rests(rests: list[Span], taken: list[Stretch]) -> Iterator[Span]:
    """Times off of a week or more, those made one that have no day taken between them."""
    whole: list[Span] = []
    for rest in sorted(rests):
        if whole and not any(
            stretch.span.touches(Span(whole[-1].end, rest.first)) for stretch in taken
        ):
            whole[-1] = Span(whole[-1].first, rest.end)
        else:
            whole.append(rest)
    return (span for span in whole if span.days >= SHORTEST_REST)


def breaks(layout: Layout) -> Iterator[tuple[Span, bool]]:
    """Breaks of the whole course, and whether anything is taken after each."""
    for pause in layout.pauses:
        span = pause.overlap(layout.days)
        if span:
            yield span, any(stretch.span.end > span.end for stretch in layout.stretches)


def _pauses(layout: Layout) -> Iterator[Change]:
    """Breaks of the whole course; a flare-up plan goes on in them."""
    for span, again in breaks(layout):
        until = f"You start again on {plain_date(span.end)}." if again else ""
        if any(flare.span.touches(span) for flare in layout.flares):
            what = "take only what your flare-up plan says"
        else:
            what = "take none of your remedies"
        text = f"From today to {plain_date(span.last)} {what}. {until}".rstrip()
        yield Change(EventKind.PAUSE, span.first, "", text)
        if again:
            text = "Your break is over. See your sheet for what to take from today."
            yield Change(EventKind.RESUME, span.end, "", text)


def flare_ends(layout: Layout) -> Iterator[tuple[PhaseRun, date]]:
    """The day after each flare-up plan, where the course goes on without one."""
    for flare in layout.flares:
        day = flare.span.end
        if day in layout.days and not any(day in other.span for other in layout.flares):
            yield flare, day


def _flare_ends(layout: Layout) -> Iterator[Change]:
    for _, day in flare_ends(layout):
        paused = any(day in pause for pause in layout.pauses)
        outlook = "Your break goes on." if paused else "Go back to your usual plan today."
        text = f"Yesterday was the last day of your flare-up plan. {outlook}"
        yield Change(EventKind.FLARE_END, day, "", text)


def _stops(layout: Layout, *, discreet: bool) -> Iterator[Change]:
    """Remedies that were taken until then and are not taken any more, while the course goes on."""
    for remedy_id, day in layout.plan.stops:
        remedy = layout.course.remedy(remedy_id)
        taken = [stretch for stretch in layout.stretches if stretch.remedy == remedy_id]
        if day not in layout.days or not taken or any(stretch.span.end > day for stretch in taken):
            continue
        what = "what your practitioner stopped" if discreet else remedy.name
        text = f"From today take no more of {what}. Keep to the rest of your plan."
        yield Change(EventKind.STOP, day, remedy.name, text)


def _end(layout: Layout) -> Iterator[Change]:
    if layout.days:
        text = "From tomorrow there are no more doses or reminders."
        yield Change(EventKind.END, layout.days.last, "", text)
