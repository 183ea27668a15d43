"""Records of medicines and conditions in words: what they are called and what they count as."""

from __future__ import annotations

from sennight.domain.client_facts.records import ORAL_MEDICINE
from sennight.domain.courses.clients import Fact, Topic
from sennight.knowledge.client_facts import fact_records
from sennight.knowledge.vocabulary import vocabulary
from sennight.practice.materia_medica import supplied_materia_medica


def record_words(topic: Topic, tag: str) -> str:
    """A record's name as people read it; of allergies also a herb's and a constituent's."""
    if topic is Topic.ALLERGIES and tag in (names := supplied_materia_medica().names):
        return names[tag]
    return fact_records().label(tag) or vocabulary().words.label(tag)


def meaning_words(topic: Topic, tag: str) -> str:
    """What a record is, in a few words: a medicine's classes, what a class or condition is."""
    records, words = fact_records(), vocabulary()
    if topic is Topic.MEDICINES:
        if tag in records.medicines:
            return ", ".join(
                class_words(class_tag) for class_tag in records.medicines[tag].classes
            )
        if tag in records.classes:
            return records.classes[tag].definition
        return " / ".join(records.label(meant) or meant for meant in either(topic, tag))
    if unclear := either(topic, tag):
        return " / ".join(records.label(meant) or meant for meant in unclear)
    return words.conditions.get(tag) or words.constituents.get(tag, "")


def class_words(tag: str) -> str:
    """A class of medicines in words."""
    return fact_records().label(tag) or vocabulary().words.label(tag)


def counts_as(fact: Fact) -> tuple[str, ...]:
    """The classes that a medicine is taken for, in words, the nearest first.

    Those that only say how the body handles it are left out.
    """
    records = fact_records()
    unsaid = {record.brings for record in records.properties.values() if not record.is_effect}
    unsaid.add(ORAL_MEDICINE)
    meaning = records.medicine_meaning(fact.tag, fact.classes)
    shown = [tag for tag in meaning.tags if tag in records.classes and tag not in unsaid]
    return tuple(class_words(tag) for tag in shown)


def either(topic: Topic, tag: str) -> tuple[str, ...]:
    """The records that an unclear name may stand for; nothing for a clear one."""
    records = fact_records()
    if topic is Topic.MEDICINES:
        return records.medicine_meaning(tag).either
    return records.condition_meaning(tag).either


def assumed_uses(fact: Fact) -> tuple[str, ...]:
    """The conditions that a medicine is usually given for, and nobody denied."""
    meaning = fact_records().medicine_meaning(fact.tag, fact.classes)
    return tuple(
        use.condition
        for use in meaning.used_for
        if use.usual and use.condition not in fact.not_for
    )
