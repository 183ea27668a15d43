"""A second reading of course files, day by day and in the most literal way, to check the first.

Written from the meaning of each word alone, with the standard library and dateutil; nothing of
the program is imported. It is slow and judges nothing but what a valid file says. Where the
words leave room, this is how both readings take them:

- Pauses, flares, stops and the end keep their dates, whatever is listed after them. A redirect
  is part of its phase: where the phase moves, it moves along.
- A redirect without a last day ends with its phase; with one it goes on into the next phase.
- A flare of the rescue phase's own length may run past the last day of the phases.
- A phase that begins within a freeze has the freeze's other days without doses.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from oracle.words import Length, Taken, clock_of, directions, later, moments, taken_on

ONE_DAY = timedelta(days=1)

Table = dict[str, Any]


class ImpossibleError(ValueError):
    """A course that cannot be, by the meaning of its revisions."""


@dataclass
class Phase:
    """A phase in the sequence, in days counted without freezes; `last` once it is laid out."""

    table: Table
    length: Length | None
    more: int = 0
    first: date = date.min
    last: date = date.min


Redirected = tuple[str, Phase, timedelta, timedelta | None, str]
"""A remedy, its phase, when in the phase it begins and ends, and the directions."""


@dataclass
class Laid:
    """A course after some revisions; freezes are first days and lengths in days."""

    file: Table
    day: dict[str, int]
    start: date
    phases: list[Phase]
    until: date
    freezes: list[tuple[date, int]] = field(default_factory=list)
    skipped: set[date] = field(default_factory=set)
    redirects: list[Redirected] = field(default_factory=list)
    flares: list[tuple[date, date, Table]] = field(default_factory=list)
    stops: list[tuple[str, date]] = field(default_factory=list)
    ends: list[date] = field(default_factory=list)
    joined: list[Redirected] = field(default_factory=list)
    reformulated: list[tuple[str, date, str]] = field(default_factory=list)

    def real(self, counted: date) -> date:
        """Where a counted day falls once the freezes are put in."""
        for first, length in sorted(self.freezes):
            if first <= counted:
                counted += timedelta(days=length)
        return counted

    def counted(self, real: date) -> date:
        """The first counted day that falls on a day or after it."""
        found = real - timedelta(days=sum(length for _, length in self.freezes))
        while self.real(found) < real:
            found += ONE_DAY
        return found

    @property
    def last(self) -> date:
        """The last day of the course."""
        return min([self.real(self.phases[-1].last), *(end - ONE_DAY for end in self.ends)])

    @property
    def last_taken(self) -> date:
        """The last day on which anything may be taken: a flare may run past the phases."""
        last = max([self.last, *(last for _, last, _ in self.flares)])
        return min([last, *(end - ONE_DAY for end in self.ends)])

    def within(self, *days: date | None) -> None:
        """Refuses days outside the course."""
        for day in days:
            if day and not self.start <= day <= self.last:
                raise ImpossibleError("outside")

    def phase_on(self, counted: date) -> Phase | None:
        """The phase in the sequence on a counted day; None in a flare past the last one."""
        return next((p for p in self.phases if p.first <= counted <= p.last), None)


def length_of(phase: Table) -> Length | None:
    """A phase's length; None where it is open."""
    for key, unit in (("days", "d"), ("weeks", "w"), ("months", "mo")):
        if key in phase:
            return phase[key], unit
    return None


def lay_phases(laid: Laid) -> None:
    """Gives the phases their days, one after the other."""
    first = laid.start
    for phase in laid.phases:
        phase.first = first
        end = later(first, phase.length) if phase.length else laid.until + ONE_DAY
        first = end + timedelta(days=phase.more)
        phase.last = first - ONE_DAY
        if phase.last < phase.first:
            raise ImpossibleError("a phase without days")


def parsed(text: str) -> Table:
    """A course file, or a part of one, as TOML has it; fractions are exact."""
    return tomllib.loads(text, parse_float=Fraction)


def read(text: str) -> Laid:
    """The course of a file, laid out; raises ImpossibleError."""
    return laid_out(parsed(text))


def laid_out(file: Table) -> Laid:
    """The course of a file that is parsed already; raises ImpossibleError."""
    phases = file["protocol"]["phase"]
    start = file["course"]["start"]
    laid = Laid(
        file,
        moments(file["client"].get("day", {})),
        start,
        [Phase(table, length_of(table)) for table in phases if not is_rescue(table)],
        file["course"].get("until", start + timedelta(days=363)),
    )
    lay_phases(laid)
    for revision in file["course"].get("revision", []):
        if "void" not in revision:
            CHANGES[revision["change"]](laid, revision)
    if "void" in file["course"]:
        laid.ends.append(start)
    return laid


def is_rescue(phase: Table) -> bool:
    return bool(phase.get("purpose", phase["id"]) == "rescue")


def extend(laid: Laid, told: Table) -> None:
    phase = next((p for p in laid.phases if p.table["id"] == told["phase"]), None)
    if phase is None or laid.real(phase.last) < told["on"]:
        raise ImpossibleError("no such phase any more")
    phase.more += told.get("days", 0) + 7 * told.get("weeks", 0)
    lay_phases(laid)


def advance(laid: Laid, told: Table) -> None:
    laid.within(told["from"])
    freezes = laid.freezes
    for first, length in freezes:
        if first <= told["from"] < first + timedelta(days=length):
            laid.freezes = [one for one in freezes if one[0] != first]
            laid.freezes.append((first, (told["from"] - first).days))
            skip(laid, told["from"], first + timedelta(days=length - 1))
    at = laid.counted(told["from"])
    phase = laid.phase_on(at)
    if phase is None:
        raise ImpossibleError("after the last phase")
    running = laid.phases.index(phase)
    ids = [phase.table["id"] for phase in laid.phases]
    if told["to"] not in ids[running + 1 :]:
        raise ImpossibleError("advance to nowhere")
    ended = laid.phases[running]
    ended.length, ended.more = ((at - ended.first).days, "d"), 0
    kept = laid.phases[: running + (ended.length[0] > 0)]
    laid.phases = kept + laid.phases[ids.index(told["to"]) :]
    lay_phases(laid)


def pause(laid: Laid, told: Table) -> None:
    laid.within(told["from"], told["to"])
    if told["to"] < told["from"]:
        raise ImpossibleError("ends before it begins")
    if told["mode"] == "freeze":
        length = (told["to"] - told["from"]).days + 1
        laid.freezes.append((told["from"], length))
    else:
        skip(laid, told["from"], told["to"])


def skip(laid: Laid, first: date, last: date) -> None:
    while first <= last:
        laid.skipped.add(first)
        first += ONE_DAY


def flare(laid: Laid, told: Table) -> None:
    laid.within(told["from"], told.get("to"))
    rescue = next(p for p in laid.file["protocol"]["phase"] if p["id"] == told["rescue"])
    own = length_of(rescue)
    assert own
    last = told.get("to") or later(told["from"], own) - ONE_DAY
    if last < told["from"] or not is_rescue(rescue):
        raise ImpossibleError("no flare")
    if any(first <= last and told["from"] <= end for first, end, _ in laid.flares):
        raise ImpossibleError("flares overlap")
    laid.flares.append((told["from"], last, rescue))


def redirect(laid: Laid, told: Table) -> None:
    laid.within(told["from"], told.get("to"))
    at = laid.counted(told["from"])
    phase = laid.phase_on(at)
    if phase is None:
        raise ImpossibleError("after the last phase")
    in_lines = any(line["remedy"] == told["remedy"] for line in phase.table.get("line", []))
    in_joined = any(
        name == told["remedy"]
        and where is phase
        and since <= at - phase.first
        and (until is None or at - phase.first < until)
        for name, where, since, until, _ in laid.joined
    )
    if not in_lines and not in_joined:
        raise ImpossibleError("not taken in the phase")
    to = told.get("to")
    if to and to < told["from"]:
        raise ImpossibleError("ends before it begins")
    past = laid.counted(to + ONE_DAY) - phase.first if to else None
    laid.redirects.append((told["remedy"], phase, at - phase.first, past, told["take"]))


def stop(laid: Laid, told: Table) -> None:
    laid.within(told["from"])
    laid.stops.append((told["remedy"], told["from"]))


def join(laid: Laid, told: Table) -> None:
    laid.within(told["from"], told.get("to"))
    at = laid.counted(told["from"])
    phase = laid.phase_on(at)
    if phase is None:
        raise ImpossibleError("after the last phase")
    if any(line["remedy"] == told["remedy"] for line in phase.table.get("line", [])):
        raise ImpossibleError("in the phase already")
    to = told.get("to")
    if to and to < told["from"]:
        raise ImpossibleError("ends before it begins")
    past = laid.counted(to + ONE_DAY) - phase.first if to else None
    laid.joined.append((told["remedy"], phase, at - phase.first, past, told["take"]))
    for remedy, where, since, until, _ in laid.joined[:-1]:
        if remedy == told["remedy"] and where is phase:
            apart = (until is not None and until <= at - phase.first) or (
                past is not None and past <= since
            )
            if not apart:
                raise ImpossibleError("joined already")


def reformulate(laid: Laid, told: Table) -> None:
    """What is in a remedy changes, not when it is taken."""
    laid.within(told["from"])
    known = {name for name, _, _ in laid.reformulated}
    if told["with"] == told["remedy"] and told["remedy"] not in known:
        raise ImpossibleError("its own place")
    laid.reformulated.append((told["remedy"], told["from"], told["with"]))


def end(laid: Laid, told: Table) -> None:
    laid.within(told["from"])
    if told["from"] == laid.start:
        raise ImpossibleError("a course without a day")
    laid.ends.append(told["from"])


def stay(_laid: Laid, _told: Table) -> None:
    """Nothing changes, whatever the day."""


CHANGES = {
    change.__name__: change
    for change in (extend, advance, pause, flare, redirect, stop, join, reformulate, end, stay)
}


@dataclass(frozen=True)
class Use:
    """One remedy as it is taken on one day."""

    day: date
    phase: str
    remedy: str
    told: Taken
    formula: str
    """Whose formula it is."""


def uses(laid: Laid) -> Iterator[Use]:
    """Everything that is taken, day by day."""
    day = laid.start
    while day <= laid.last_taken:
        for phase, remedy, take, anchor, counted in _lines_on(laid, day):
            told = under_ceilings(laid, remedy, directions(take, laid.day))
            stopped = any(remedy == gone and day >= since for gone, since in laid.stops)
            begun = _cycle_from(laid, phase, remedy, anchor)
            on_its_day = taken_on(told, anchor=anchor, counted=counted, real=day, begun=begun)
            if not stopped and on_its_day:
                yield Use(day, phase, remedy, told, _formula(laid, remedy, day))
        day += ONE_DAY


def under_ceilings(laid: Laid, remedy: str, told: Taken) -> Taken:
    """With no more as needed than the day's ceilings of a remedy leave."""
    ceilings = laid.file["protocol"].get("ceiling", [])
    bounds = [table["most_per_day"] for table in ceilings if remedy in table["remedies"]]
    if told.ceiling is None or not bounds:
        return told
    left = min(told.ceiling, min(bounds) - len(told.times))
    return replace(told, ceiling=left if left > 0 else None)


def _cycle_from(laid: Laid, phase: str, remedy: str, anchor: date) -> date:
    """The day from which a line's cycle is counted: its anchor, or the course's first day."""
    for table in laid.file["protocol"]["phase"]:
        for line in table.get("line", []):
            if (table["id"], line["remedy"]) == (phase, remedy):
                return laid.start if line.get("count_from") == "course" else anchor
    return anchor


def _formula(laid: Laid, remedy: str, day: date) -> str:
    """The remedy that was last decided to take another's place, of those that have by a day."""
    due = [its for name, since, its in laid.reformulated if name == remedy and since <= day]
    return due[-1] if due else remedy


Line = tuple[str, str, str, date, date]
"""Phase, remedy, directions, their anchor and the day counted as the anchor is."""


def _lines_on(laid: Laid, day: date) -> Iterator[Line]:
    replaced: set[str] = set()
    for first, last, rescue in laid.flares:
        if first <= day <= last:
            for line in rescue.get("line", []):
                replaced.add(line["remedy"])
                yield (rescue["id"], line["remedy"], *_step(line, first, day), day)
            if rescue.get("stand_in"):
                return
    counted = laid.counted(day)
    if laid.real(counted) != day or day in laid.skipped:
        return
    phase = laid.phase_on(counted)
    for line in phase.table.get("line", []) if phase else []:
        if phase and line["remedy"] not in replaced:
            take, anchor = _step(line, phase.first, counted)
            take, anchor = _redirected(laid, line["remedy"], counted, phase) or (take, anchor)
            yield (phase.table["id"], line["remedy"], take, anchor, counted)
    for joined, home, start, until, take in laid.joined if phase else []:
        begins = home.first + start
        due = begins <= counted and (until is None or counted < home.first + until)
        if phase and home is phase and due and joined not in replaced:
            told, anchor = _redirected(laid, joined, counted, phase) or (take, begins)
            yield (phase.table["id"], joined, told, anchor, counted)


def _redirected(laid: Laid, remedy: str, counted: date, phase: Phase) -> tuple[str, date] | None:
    """Other directions for a remedy on a counted day, the last decided, and their anchor."""
    found = None
    for name, where, since, past, told in laid.redirects:
        begins = where.first + since
        due = where is phase if past is None else counted < where.first + past
        if name == remedy and begins <= counted and due:
            found = told, begins
    return found


def _step(line: Table, first: date, day: date) -> tuple[str, date]:
    """The directions of a line on a day and their anchor; `first` is the phase's first day."""
    take, anchor = line["take"], first
    for step in sorted(line.get("steps", []), key=_days_in):
        begins = first + timedelta(days=_days_in(step))
        if begins <= day:
            take, anchor = step["take"], begins
    return take, anchor


def _days_in(step: Table) -> int:
    """How many days into its phase a step comes."""
    return int(step["after_days"] if "after_days" in step else 7 * step["after_weeks"])


def doses(laid: Laid) -> Iterator[tuple[str, str, str, str, Fraction, str, int]]:
    """Rows of doses.csv: date, time, phase, remedy, amount, unit, week."""
    for use in uses(laid):
        for minute in use.told.times:
            at = use.day + timedelta(days=minute // (24 * 60))
            week = (at - laid.start).days // 7 + 1
            yield (
                str(at),
                clock_of(minute),
                use.phase,
                use.remedy,
                use.told.amount,
                use.told.unit,
                week,
            )
