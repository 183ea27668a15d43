"""The conditions, medicines and allergies of a course file: names, words and tags.

An entry is a name in quotes, or a table with more about it. A name is what people say: a record's
name, a word that people use, or the tag itself. What no record knows stays in the file's words.
"""

from __future__ import annotations

from datetime import time

from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.courses.problems import Place, nearest
from sennight.domain.day import Moment
from sennight.domain.herbs.naming import HerbNames
from sennight.knowledge.client_facts import fact_records
from sennight.knowledge.fact_names import fact_written, is_tag, names_of
from sennight.knowledge.vocabulary import vocabulary
from sennight.toml_tables import CLOCK, DAY, NAME, Report, Table, ValueKind, described, read_value

FACTS = (Topic.CONDITIONS, Topic.MEDICINES, Topic.ALLERGIES)
"""The topics under which a client has facts."""
_OF_MEDICINES = ("dose", "at", "classes", "not_for")


def read_facts(table: Table, topic: Topic, herbs: HerbNames) -> tuple[Fact, ...]:
    """The facts under a topic; an allergy can also be to a herb, by any of its names."""
    return tuple(
        fact
        for place, entry in table.entries(topic)
        for fact in _facts(entry, topic, herbs, place, table.report)
    )


def _facts(
    entry: object, topic: Topic, herbs: HerbNames, place: Place, report: Report
) -> tuple[Fact, ...]:
    if isinstance(entry, str):
        text = read_value(entry, NAME, place, report)
        return _named(text, topic, herbs, place, report) if text else ()
    if isinstance(entry, dict):
        return (_table(Table(entry, place, report), topic, herbs),)
    more = ", dose = …, at = […]" if topic is Topic.MEDICINES else ""
    expected = f"expected a name in quotes, or {{ name = …{more}, from = …, to = … }}"
    report.add(place, f"{expected}; found {described(entry)}")
    return ()


def _named(
    text: str, topic: Topic, herbs: HerbNames, place: Place, report: Report
) -> tuple[Fact, ...]:
    """The fact of a name alone; several where an allergy's name is that of several herbs.

    What has the form of a tag and is none, or is one of another topic, is refused.
    """
    allergens = herbs.ids(text) if topic is Topic.ALLERGIES else ()
    if allergens:
        return tuple(map(Fact, allergens))
    fact = fact_written(topic, text)
    if not fact.tag and (_is_like_a_tag(text) or _topic_of(text, topic)):
        _refuse(text, topic, herbs, place, report)
    return (fact,)


def _is_like_a_tag(text: str) -> bool:
    return "-" in text and " " not in text and text == text.lower()


def _table(table: Table, topic: Topic, herbs: HerbNames) -> Fact:
    medicine = topic is Topic.MEDICINES
    table.only("name", "tag", "from", "to", *(_OF_MEDICINES if medicine else ()))
    if "name" not in table.data and "tag" not in table.data:
        table.report.add(table.place, "expected a name, or a tag")
    name, tag = table.may("name", NAME, ""), table.may("tag", NAME, "")
    is_herb = topic is Topic.ALLERGIES and tag in herbs.known
    if tag and not is_herb and not is_tag(topic, tag):
        _refuse(tag, topic, herbs, (*table.place, "tag"), table.report)
    return Fact(
        tag or _found_by(name, topic, herbs),
        table.perhaps("from", DAY),
        table.perhaps("to", DAY),
        _times(table),
        name,
        table.may("dose", NAME, ""),
        _tags(table, "classes", Topic.MEDICINES) if "classes" in table.data else None,
        _tags(table, "not_for", Topic.CONDITIONS),
    )


def _found_by(name: str, topic: Topic, herbs: HerbNames) -> str:
    """The tag that a name stands for; empty for none, or where it is that of several herbs."""
    allergens = herbs.ids(name) if topic is Topic.ALLERGIES else ()
    if allergens:
        return allergens[0] if len(allergens) == 1 else ""
    return names_of(topic).exact(name) or ""


def _tags(table: Table, key: str, topic: Topic) -> tuple[str, ...]:
    """A list of tags of one kind."""
    tags = []
    for place, entry in table.entries(key):
        tag = read_value(entry, NAME, place, table.report)
        if tag and not is_tag(topic, tag):
            _refuse(tag, topic, None, place, table.report)
        tags += [tag] if tag else []
    return tuple(tags)


def _refuse(tag: str, topic: Topic, herbs: HerbNames | None, place: Place, report: Report) -> None:
    """Note a tag that nothing reads: one of advice, one of another topic, or none at all."""
    if tag in vocabulary().conditions and not fact_records().is_condition(tag):
        message = f"“{tag}” is advice about herbs, not something that a client has; leave it out"
        report.add(place, message)
        return
    other = _topic_of(tag, topic)
    hint = f"; it belongs to {other}" if other else nearest(tag, _all(topic, herbs))
    expected = f"expected a tag for {topic}, or a name: {{ name = … }}"
    report.add(place, f"unknown tag “{tag}”; {expected}{hint}")


def _topic_of(tag: str, topic: Topic) -> Topic | None:
    """The other topic that a tag belongs to."""
    others = (other for other in FACTS if other is not topic)
    return next((other for other in others if is_tag(other, tag)), None)


def _all(topic: Topic, herbs: HerbNames | None) -> tuple[str, ...]:
    records = fact_records()
    if topic is Topic.MEDICINES:
        return (*records.classes, *records.medicines)
    allergens = herbs.known if herbs and topic is Topic.ALLERGIES else ()
    return (*records.conditions, *allergens)


def _times(table: Table) -> tuple[Moment | time, ...]:
    """When a medicine is taken: moments of the client's day and clock times."""
    times = (read_value(entry, _TIME, place, table.report) for place, entry in table.entries("at"))
    return tuple(when for when in times if when is not None)


def _moment_or_clock(value: object) -> Moment | time | None:
    is_moment = isinstance(value, str) and value in tuple(Moment)
    return Moment(str(value)) if is_moment else CLOCK.read(value)


_TIME: ValueKind[Moment | time] = ValueKind(
    f'a clock time in quotes, "HH:MM", or one of {", ".join(Moment)}',
    _moment_or_clock,
    Moment.RISING,
    tuple(Moment),
)
