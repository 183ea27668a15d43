"""Writes the client of a course file: facts by the names that reading finds them by."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time

from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.day import DEFAULT_TIMES, Moment
from sennight.knowledge.fact_names import fact_written, names_of
from sennight.publish.course_file.toml_values import (
    Raw,
    inline,
    quoted,
    raw_list,
    table,
    unless,
    value_list,
)


def client_tables(client: Client) -> Iterator[str]:
    """The client with the day's own times and reactions, a table each."""
    yield table(
        "[client]",
        name=client.name,
        born=client.born,
        zone=client.zone,
        weight_kg=client.weight_kg,
        sex=client.sex,
        conditions=_facts(Topic.CONDITIONS, client),
        medicines=_facts(Topic.MEDICINES, client),
        allergies=_facts(Topic.ALLERGIES, client),
        asked=value_list(map(quoted, client.asked)),
    )
    moved = {
        str(moment): when.strftime("%H:%M")
        for moment, when in client.day.times.items()
        if when != DEFAULT_TIMES[moment]
    }
    if moved:
        yield table("[client.day]", **moved)
    for reaction in client.reactions:
        herbs = value_list(quoted(herb) for herb in reaction.herbs)
        header = "[[client.reaction]]"
        yield table(
            header,
            date=reaction.day,
            remedy=reaction.remedy,
            herbs=herbs,
            what=reaction.what,
            severity=reaction.harm,
            outcome=reaction.outcome,
            void=reaction.void or None,
            void_on=reaction.void_on,
        )


def _facts(topic: Topic, client: Client) -> Raw | None:
    return value_list(_fact(topic, fact) for fact in client.facts(topic))


def _fact(topic: Topic, fact: Fact) -> str:
    """A fact as the one name by which reading finds it again, else as a table."""
    text = fact.name or fact.tag
    if fact == (_allergy(fact) if topic is Topic.ALLERGIES else fact_written(topic, text)):
        return quoted(text)
    return inline(
        name=fact.name or None,
        tag=unless(fact.tag, _found_by(topic, fact.name)),
        dose=fact.dose or None,
        at=_times(fact.at),
        from_=fact.since,
        to=fact.until,
        classes=None if fact.classes is None else raw_list(map(quoted, fact.classes)),
        not_for=value_list(map(quoted, fact.not_for)),
    )


def _allergy(fact: Fact) -> Fact:
    """An allergy as its one word would be read: a tag or herb, or words that mean neither."""
    return Fact(fact.tag) if fact.tag else fact_written(Topic.ALLERGIES, fact.name)


def _found_by(topic: Topic, name: str) -> str:
    """The tag that a reader finds by a name; of allergies none, for want of the herbs' names."""
    if not name or topic is Topic.ALLERGIES:
        return ""
    return names_of(topic).exact(name) or ""


def _times(at: tuple[Moment | time, ...]) -> Raw | None:
    return value_list(quoted(str(t) if isinstance(t, Moment) else t.strftime("%H:%M")) for t in at)
