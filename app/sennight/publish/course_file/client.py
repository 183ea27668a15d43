"""The client of a course file, and what they report: diary and scores."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, time
from functools import cache
from zoneinfo import available_timezones

from sennight.domain.courses.clients import Client, Harm, Outcome, Reaction, Sex, Topic
from sennight.domain.courses.problems import nearest, unknown
from sennight.domain.courses.protocols import Protocol
from sennight.domain.day import ClientDay, DayOrderError, Moment
from sennight.domain.follow_up.diaries import (
    LONGEST_NOTE,
    DayNote,
    Followed,
    Score,
    Taken,
    note_words,
)
from sennight.domain.follow_up.measures import Measures
from sennight.domain.herbs.naming import HerbNames
from sennight.publish.course_file.accepts import VOID_KEYS, read_void
from sennight.publish.course_file.facts import FACTS, read_facts
from sennight.publish.course_file.herbs import herb_called
from sennight.toml_tables import (
    CLOCK,
    DAY,
    NAME,
    PROSE,
    TEXT,
    Table,
    number,
    one_of,
    read_value,
    whole,
)

_NO_ZONES = ("localtime", "posixrules", "Factory")
_TOPIC = one_of(Topic, Topic.CONDITIONS)


def read_client(table: Table, herbs: HerbNames) -> Client:
    """The client, in the file's own words."""
    table.only("name", "born", "zone", "weight_kg", *FACTS, "asked", "sex", "reaction", "day")
    return Client(
        name=table.need("name", NAME),
        born=table.perhaps("born", DAY),
        zone=_zone(table),
        weight_kg=table.perhaps("weight_kg", number(0, 600)),
        conditions=read_facts(table, Topic.CONDITIONS, herbs),
        medicines=read_facts(table, Topic.MEDICINES, herbs),
        allergies=read_facts(table, Topic.ALLERGIES, herbs),
        reactions=tuple(_reaction(entry, herbs) for entry in table.tables("reaction")),
        day=_day(table.table("day")),
        asked=_asked(table),
        sex=table.perhaps("sex", one_of(Sex, Sex.FEMALE)),
    )


@cache
def _known_zones() -> frozenset[str]:
    """The names of all zones; looked up once, which walks through folders."""
    return frozenset(available_timezones().difference(_NO_ZONES))


def _zone(table: Table) -> str | None:
    zone = table.perhaps("zone", NAME)
    known = _known_zones() if zone else frozenset()
    if zone and zone not in known:
        message = f"no time zone “{zone}”; expected an IANA name such as Europe/London"
        table.report.add((*table.place, "zone"), message + nearest(zone, known))
    return zone


def _reaction(table: Table, known: HerbNames) -> Reaction:
    table.only("date", "remedy", "herbs", "what", "severity", "outcome", *VOID_KEYS)
    herbs = []
    for place, entry in table.entries("herbs"):
        herb = read_value(entry, NAME, place, table.report)
        herbs += [herb_called(herb, known, place, table.report)] if herb else []
    if not herbs and not table.report.has(*table.place, "herbs"):
        message = "expected the herbs that are suspected, by their ids"
        table.report.add((*table.place, "herbs"), message)
    return Reaction(
        table.need("date", DAY),
        table.need("remedy", NAME),
        tuple(herbs),
        table.need("what", PROSE),
        table.perhaps("severity", one_of(Harm, Harm.MILD)),
        table.perhaps("outcome", one_of(Outcome, Outcome.STOPPED)),
        read_void(table),
        table.perhaps("void_on", DAY),
    )


def _asked(table: Table) -> tuple[Topic, ...]:
    """The topics that the client was asked about, each once."""
    topics = (
        read_value(entry, _TOPIC, place, table.report) for place, entry in table.entries("asked")
    )
    return tuple(dict.fromkeys(topic for topic in topics if topic is not None))


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
        if "advice" in table.data or "note" in table.data:
            continue
        table.only("date", "remedy", "taken")
        day, remedy = table.need("date", DAY), table.need("remedy", NAME)
        taken = Taken(day, remedy, table.need("taken", whole(0, 99)))
        if remedy and remedies is not None and remedy not in remedies:
            table.report.add((*table.place, "remedy"), unknown("remedy", remedy, remedies))
        elif (day, remedy) in entries and not table.report.has(*table.place):
            message = f"a second entry for “{remedy}” on {day}; expected one for a day"
            table.report.add(table.place, message)
        entries.setdefault((day, remedy), taken)
    return tuple(entries.values())


def read_followed(top: Table, protocol: Protocol) -> tuple[Followed, ...]:
    """The diary's entries of advice: for a day and a line of advice, one entry."""
    known = {line.text for phase in protocol.phases for line in phase.advice}
    entries: dict[tuple[date, str], Followed] = {}
    for table in top.tables("diary"):
        if "advice" not in table.data:
            continue
        table.only("date", "advice", "done")
        day, advice = table.need("date", DAY), table.need("advice", TEXT)
        entry = Followed(day, advice, table.need("done", whole(0, 99)))
        if advice and advice not in known:
            table.report.add((*table.place, "advice"), unknown("advice", advice, known))
        elif (day, advice) in entries and not table.report.has(*table.place):
            message = f"a second entry for “{advice}” on {day}; expected one for a day"
            table.report.add(table.place, message)
        entries.setdefault((day, advice), entry)
    return tuple(entries.values())


def read_notes(top: Table) -> tuple[DayNote, ...]:
    """The diary's notes: for a day, one."""
    notes: dict[date, DayNote] = {}
    for table in top.tables("diary"):
        if "note" not in table.data:
            continue
        table.only("date", "note")
        day, words = table.need("date", DAY), note_words(table.need("note", TEXT))
        if len(words) > LONGEST_NOTE:
            message = f"expected at most {LONGEST_NOTE:,} letters; found {len(words):,}"
            table.report.add((*table.place, "note"), message)
        elif day in notes and not table.report.has(*table.place):
            message = f"a second note for {day}; expected one for a day"
            table.report.add(table.place, message)
        notes.setdefault(day, DayNote(day, words))
    return tuple(notes.values())


def read_scores(top: Table, measures: Measures) -> tuple[Score, ...]:
    """The scores: for a day and a measure, one rating on its scale."""
    scores: dict[tuple[date, str], Score] = {}
    for table in top.tables("score"):
        table.only("date", "measure", "value")
        day, measure = table.need("date", DAY), table.need("measure", NAME)
        low, high = measures.scale(measure)
        value = table.need("value", number(low, high, from_there=True))
        if (day, measure) in scores and not table.report.has(*table.place):
            message = f"a second score of “{measure}” on {day}; expected one for a day"
            table.report.add(table.place, message)
        scores.setdefault((day, measure), Score(day, measure, value))
    return tuple(scores.values())
