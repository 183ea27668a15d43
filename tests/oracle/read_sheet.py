"""Reads a client's sheet back from its plain text: what is taken on each day, and how.

Part of the second reading: nothing of the program is imported.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from oracle import sheet_words as said

Told = tuple[Fraction, Fraction, str, tuple[int, ...], int | None]
"""Least and most of one dose, its unit, the minutes of timed doses, the most as needed."""


@dataclass
class DayTable:
    """One table of the client's day: its days, each remedy's doses by minute, and its notes."""

    lead: str
    """The flare-up plan that holds, if any."""
    days: tuple[said.Days, ...]
    timed: dict[str, dict[int, str]] = field(default_factory=dict)
    needed: dict[str, str] = field(default_factory=dict)
    notes: dict[str, str] = field(default_factory=dict)


@dataclass
class Sheet:
    """The sheet as sections of text."""

    text: str
    sections: dict[str, str]
    year: int

    @property
    def window(self) -> said.Days:
        """The days that it is for."""
        return said.days_of(_window_words(self.text), self.year)

    def section(self, start: str) -> str:
        """The text under a title that begins so; empty where there is none."""
        return next((body for title, body in self.sections.items() if title.startswith(start)), "")


def read(text: str) -> Sheet:
    """The sections of a sheet by their titles."""
    parts = re.split(r"\n\n\n(?=[A-Z])", text)
    sections = dict(part.split("\n", 1) for part in parts[1:])
    years = re.findall(r"\d{4}", _window_words(text))
    return Sheet(text, sections, int(years[0]))


def _window_words(text: str) -> str:
    told = re.search(rf"^(?:From|On) ({said.SPAN})$", text, re.MULTILINE)
    assert told
    return told[1]


# The client's day


def day_tables(sheet: Sheet) -> tuple[list[DayTable], list[tuple[str, tuple[said.Days, ...]]]]:
    """All tables, and the days for which it is said that nothing is taken."""
    body = "\n\n".join(
        text
        for title, text in sheet.sections.items()
        if title.startswith(("YOUR DAY", "NOW:", "HOW YOUR DAY", "WHAT COMES AFTER"))
    )
    tables: list[DayTable] = []
    nothing: list[tuple[str, tuple[said.Days, ...]]] = []
    paragraph = ""
    for line in _unwrapped(body):
        row = re.match(r"  (?:(\d\d:\d\d)(?: \(([^)]*)\))?|When needed): (.*)\.$", line)
        note = re.match(r"  [A-Z]+  (.*?):(?: (.*))?$", line)
        if row:
            if paragraph:
                lead = re.match(r"Flare-up plan[^:]*", paragraph)
                tables.append(
                    DayTable(lead[0] if lead else "", said.spans_of(paragraph, sheet.year))
                )
                paragraph = ""
            _add_row(tables[-1], row)
        elif note:
            tables[-1].notes[note[1]] = note[2] or ""
        elif line.startswith(("Nothing to take.", "A break: take nothing.")):
            lead = re.search(r"A break|Flare-up plan[^:]*", line)
            nothing.append((lead[0] if lead else "", said.spans_of(line, sheet.year)))
        else:
            paragraph = line
    return tables, nothing


def _unwrapped(body: str) -> list[str]:
    """Its lines, those that go on put together."""
    lines: list[str] = []
    is_open = False
    for line in body.split("\n"):
        goes_on = line.startswith("    ") or (is_open and line and not line.startswith(" "))
        if goes_on and lines and not _begins(line):
            lines[-1] += f" {line.strip()}"
        elif line:
            lines.append(line)
        is_open = bool(line) and not line.startswith(" ")
    return lines


def _begins(line: str) -> bool:
    return line.startswith(("Nothing to take.", "A break: take nothing.", "Your course continues"))


def _add_row(table: DayTable, row: re.Match[str]) -> None:
    for dose in row[3].split("; "):
        name, amount = dose.split(", ", 1)
        if row[1]:
            minute = said.minute_of(row[1], row[2] or "")
            table.timed.setdefault(name, {})[minute] = amount
        else:
            table.needed[name] = amount


def taken_on(tables: list[DayTable], day: date, year: int) -> dict[str, Told]:
    """What the tables say for a day, each remedy by its name."""
    found: dict[str, Told] = {}
    for table in tables:
        if day not in said.each_day(table.days):
            continue
        for name in {*table.timed, *table.needed}:
            if _is_due(table, name, day, year):
                assert name not in found, (name, day)
                found[name] = _told(table, name, day, year)
    return found


State = tuple[str, frozenset[tuple[str, str]]]
"""Whether a break or a flare-up plan holds, and each remedy that has no day off with its doses."""


def state_on(
    tables: list[DayTable], nothing: list[tuple[str, tuple[said.Days, ...]]], day: date, year: int
) -> State:
    """What the tables say of a day, without which counted days or weekdays it is."""
    for table in tables:
        if day in said.each_day(table.days):
            return table.lead, frozenset(
                (name, _whole_dose(table, name, day, year))
                for name in {*table.timed, *table.needed}
                if day not in _off(table, name, year)
            )
    leads = (lead for lead, days in nothing if day in said.each_day(days))
    return next(leads, ""), frozenset()


def _whole_dose(table: DayTable, name: str, day: date, year: int) -> str:
    """All that is said of a remedy in a table, but for dates."""
    note = table.notes.get(name, "")
    rules = re.sub(
        rf"Days off: [^.]*\.|- {said.SPAN}: .*|: first on [^.]*\.|At \d\d:\d\d.*", "", note
    )
    return f"{_told(table, name, day, year)} {' '.join(rules.split())}"


def _off(table: DayTable, name: str, year: int) -> frozenset[date]:
    """The days off of a remedy in a table."""
    told = re.search(r"Days off: ([^.]*)\.", table.notes.get(name, ""))
    return said.each_day(said.spans_of(told[1], year) if told else ())


def _step_on(note: str, day: date, year: int) -> str:
    """The amount of the step that a day is in; no day is in two."""
    steps = re.findall(rf"- ({said.SPAN}): (.*?)(?= - |$)", note)
    held: set[str] = {
        dose for days, dose in steps if day in said.each_day(said.spans_of(days, year))
    }
    assert len(held) == 1, (day, note)
    return held.pop()


def _told(table: DayTable, name: str, day: date, year: int) -> Told:
    timed = table.timed.get(name, {})
    doses = {*timed.values(), *([table.needed[name]] if name in table.needed else [])}
    assert len(doses) == 1, (name, doses)
    if doses == {"see below"}:
        doses = {_step_on(table.notes[name], day, year)}
    ceiling = said.ceiling_of(table.notes.get(name, ""))
    assert (ceiling is not None) == (name in table.needed), name
    return (*said.amount_of(doses.pop()), tuple(sorted(timed)), ceiling)


def _is_due(table: DayTable, name: str, day: date, year: int) -> bool:
    note = table.notes.get(name, "")
    off = _off(table, name, year)
    if day in off:
        return False
    only = re.search(r"Only on ([^.]*)\.", note)
    if only and day.weekday() not in said.weekdays_of(only[1]):
        return False
    counted = said.counted_of(note, year)
    taken = said.each_day(table.days) - off
    return counted is None or said.is_counted(day, counted, taken)


# What is said of each remedy


@dataclass(frozen=True)
class Period:
    """One way of taking a remedy: its days, how often a day, and the words around it."""

    days: said.Days
    least: Fraction
    most: Fraction
    unit: str
    often: int
    words: str


_VERBS = "|".join(("Drink", "Take", "Rub in", "Use", "Have", "Lay on", "Gargle with"))
_VERBS += "|Rinse your mouth with|Breathe in the steam of"
_BEGINS = (
    rf"(?:(?:From|On) ({said.SPAN}): (?:{_VERBS.lower()})"
    rf"|({said.SPAN}): (?:{_VERBS})|(?:{_VERBS})) ({said.DOSE})(?= )"
)


def entries(sheet: Sheet) -> dict[str, str]:
    """What is said of each remedy, by its name."""
    return entries_in(sheet.section("YOUR REMEDIES"))


def entries_in(body: str) -> dict[str, str]:
    """The same of another section."""
    parts = re.split(r"^[A-Z]+  (.*)$", body, flags=re.MULTILINE)
    texts = (" ".join(text.split()) for text in parts[2::2])
    return dict(zip(parts[1::2], texts, strict=True))


def periods(text: str, sheet: Sheet) -> list[Period]:
    """The ways of taking a remedy that its entry tells."""
    starts = list(re.finditer(_BEGINS, text))
    ends = [*(start.start() for start in starts[1:]), *([len(text)] if starts else [])]
    found = []
    for start, end in zip(starts, ends, strict=True):
        dates = start[1] or start[2]
        days = said.days_of(dates, sheet.year) if dates else sheet.window
        words = text[start.end() : end]
        found.append(Period(days, *said.amount_of(start[3]), _often(words), words))
    return found


def _often(words: str) -> int:
    """How many timed doses a day."""
    first = words.split(".", maxsplit=1)[0]
    if hourly := re.match(r" every (?:\d+ hours|hour), at (.*)", first):
        return len(re.findall(r"\d\d:\d\d", hourly[1]))
    counted = re.match(r" (once|twice|\w+ times) a day", first)
    if counted:
        return said.TIMES_A_DAY[counted[1]]
    return 1 if first and " when you need it" not in first else 0


@dataclass(frozen=True)
class Described:
    """What is said of one remedy: the ways of taking it, and its days off."""

    periods: tuple[Period, ...]
    off: frozenset[date]


def described(text: str, sheet: Sheet) -> Described:
    """What a remedy's entry tells."""
    off = " ".join(re.findall(r"Days off: ([^.]*)\.", text))
    return Described(tuple(periods(text, sheet)), said.each_day(said.spans_of(off, sheet.year)))


def told_on(
    told: Described, day: date, sheet: Sheet, gaps: set[date]
) -> tuple[Fraction, Fraction, str, int] | None:
    """Least, most, unit and number of timed doses on a day; `gaps` are breaks and flare-ups."""
    if day in told.off:
        return None
    for period in told.periods:
        first, last = period.days
        if first <= day <= last:
            sentence = period.words.split(".")[0]
            weekdays = said.weekdays_of(sentence)
            counted = said.counted_of(period.words, sheet.year)
            if weekdays and day.weekday() not in weekdays:
                return None
            if counted:
                taken = said.each_day((period.days,)) - told.off - gaps
                if not said.is_counted(day, counted, taken):
                    return None
            return period.least, period.most, period.unit, period.often
    return None
