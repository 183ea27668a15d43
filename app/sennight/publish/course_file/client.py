"""The client of a course file, and what they report: diary and scores."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date, time
from zoneinfo import available_timezones

from sennight.domain.courses.clients import Client, Fact, Reaction
from sennight.domain.courses.problems import Place, nearest, unknown
from sennight.domain.day import ClientDay, DayOrderError, Moment
from sennight.domain.follow_up.diaries import Score, Taken
from sennight.domain.herbs.naming import HerbNames
from sennight.knowledge.vocabulary import Vocabulary
from sennight.publish.course_file.herbs import herb_called
from sennight.toml_tables import (
    CLOCK,
    DAY,
    PROSE,
    TEXT,
    Report,
    Table,
    ValueKind,
    described,
    number,
    read_value,
    whole,
)

_NO_ZONES = ("localtime", "posixrules", "Factory")
_KINDS = ("conditions", "medicines", "allergies")
_TIMED = "medicines"


def read_client(table: Table, words: Vocabulary, herbs: HerbNames) -> Client:
    """The client, in the file's own words."""
    table.only("name", "born", "zone", "weight_kg", *_KINDS, "reaction", "day")
    return Client(
        name=table.need("name", TEXT),
        born=table.perhaps("born", DAY),
        zone=_zone(table),
        weight_kg=table.perhaps("weight_kg", number(0, 600)),
        conditions=_facts(table, "conditions", words),
        medicines=_facts(table, "medicines", words),
        allergies=_facts(table, "allergies", words),
        reactions=tuple(_reaction(one, herbs) for one in table.tables("reaction")),
        day=_day(table.table("day")),
    )


def _zone(table: Table) -> str | None:
    zone = table.perhaps("zone", TEXT)
    known = available_timezones().difference(_NO_ZONES) if zone else frozenset()
    if zone and zone not in known:
        message = f"no time zone “{zone}”; expected an IANA name such as Europe/London"
        table.report.add((*table.place, "zone"), message + nearest(zone, known))
    return zone


def _reaction(table: Table, known: HerbNames) -> Reaction:
    table.only("date", "remedy", "herbs", "what")
    herbs = []
    for place, entry in table.entries("herbs"):
        herb = read_value(entry, TEXT, place, table.report)
        herbs += [herb_called(herb, known, place, table.report)] if herb else []
    if not herbs and not table.report.has(*table.place, "herbs"):
        message = "expected the herbs that are suspected, by their ids"
        table.report.add((*table.place, "herbs"), message)
    return Reaction(
        table.need("date", DAY),
        table.need("remedy", TEXT),
        tuple(herbs),
        table.need("what", PROSE),
    )


def _facts(table: Table, kind: str, words: Vocabulary) -> tuple[Fact, ...]:
    return tuple(
        _fact(entry, kind, words, place, table.report) for place, entry in table.entries(kind)
    )


def _fact(entry: object, kind: str, words: Vocabulary, place: Place, report: Report) -> Fact:
    if isinstance(entry, str):
        _check_tag(entry, kind, words, place, report)
        return Fact(entry)
    if not isinstance(entry, dict):
        times = ", at = […]" if kind == _TIMED else ""
        expected = f"expected a tag in quotes, or {{ tag = …, from = …, to = …{times} }}"
        report.add(place, f"{expected}; found {described(entry)}")
        return Fact("")
    table = Table(entry, place, report)
    table.only("tag", "from", "to", *(("at",) if kind == _TIMED else ()))
    tag = table.need("tag", TEXT)
    if tag:
        _check_tag(tag, kind, words, (*place, "tag"), report)
    days = table.perhaps("from", DAY), table.perhaps("to", DAY)
    return Fact(tag, *days, _times(table))


def _times(table: Table) -> tuple[Moment | time, ...]:
    """When a medicine is taken: moments of the client's day and clock times."""
    found = (read_value(entry, _TIME, place, table.report) for place, entry in table.entries("at"))
    return tuple(when for when in found if when is not None)


def _moment_or_clock(value: object) -> Moment | time | None:
    is_moment = isinstance(value, str) and value in tuple(Moment)
    return Moment(str(value)) if is_moment else CLOCK.read(value)


_TIME: ValueKind[Moment | time] = ValueKind(
    f'a clock time in quotes, "HH:MM", or one of {", ".join(Moment)}',
    _moment_or_clock,
    Moment.RISING,
    tuple(Moment),
)


def _check_tag(tag: str, kind: str, words: Vocabulary, place: Place, report: Report) -> None:
    """Note a tag that is not one of its kind, and the kind that it belongs to if it has one."""
    known: dict[str, Mapping[str, str]] = {name: getattr(words, name) for name in _KINDS}
    if tag in known[kind]:
        return
    elsewhere = [name for name in _KINDS if tag in known[name]]
    hint = f"; it belongs to {elsewhere[0]}" if elsewhere else nearest(tag, known[kind])
    report.add(place, f"unknown tag “{tag}”; expected a tag for {kind} of the vocabulary{hint}")


def _day(table: Table) -> ClientDay:
    table.only(*Moment)
    times: dict[Moment, time] = {}
    for moment in Moment:
        if str(moment) in table.data:
            times[moment] = table.need(moment, CLOCK)
    if table.report.has(*table.place):
        return ClientDay.at()
    try:
        return ClientDay.at(times)
    except DayOrderError as error:
        moment = error.moment if error.moment in times else error.earlier
        table.report.add((*table.place, moment), str(error))
        return ClientDay.at()


def read_diary(top: Table, remedies: Collection[str] | None) -> tuple[Taken, ...]:
    """The diary: for a day and a remedy, one entry."""
    entries: dict[tuple[date, str], Taken] = {}
    for table in top.tables("diary"):
        table.only("date", "remedy", "taken")
        day, remedy = table.need("date", DAY), table.need("remedy", TEXT)
        taken = Taken(day, remedy, table.need("taken", whole(0, 99)))
        if remedy and remedies is not None and remedy not in remedies:
            table.report.add((*table.place, "remedy"), unknown("remedy", remedy, remedies))
        elif (day, remedy) in entries and not table.report.has(*table.place):
            message = f"a second entry for “{remedy}” on {day}; expected one for a day"
            table.report.add(table.place, message)
        entries.setdefault((day, remedy), taken)
    return tuple(entries.values())


def read_scores(top: Table) -> tuple[Score, ...]:
    """The scores: for a day and a measure, one rating from 0 to 10."""
    scores: dict[tuple[date, str], Score] = {}
    for table in top.tables("score"):
        table.only("date", "measure", "value")
        day, measure = table.need("date", DAY), table.need("measure", TEXT)
        value = table.need("value", number(0, 10, from_there=True))
        if (day, measure) in scores and not table.report.has(*table.place):
            message = f"a second score of “{measure}” on {day}; expected one for a day"
            table.report.add(table.place, message)
        scores.setdefault((day, measure), Score(day, measure, value))
    return tuple(scores.values())
