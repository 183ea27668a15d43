"""What a name stands for: the indexes of names, and facts made from what was typed."""

from __future__ import annotations

from functools import cache

from sennight.domain.client_facts.naming import Named, NameIndex, Offer
from sennight.domain.client_facts.typed_medicine import TypedMedicine, typed_medicine
from sennight.domain.courses.clients import Fact, Topic
from sennight.domain.herbs.naming import Heading
from sennight.knowledge.client_facts import fact_records
from sennight.knowledge.vocabulary import vocabulary

_UNCLEAR, _CLASS = 0, 2
"""Tiers of names that are not clear, and of classes; medicines have their own, from 1."""
_ALLERGY = "allergy"


@cache
def medicine_names() -> NameIndex:
    """The names of medicines, classes of them, and what people call these."""
    records = fact_records()
    medicines, classes = records.medicines.values(), records.classes.values()
    return NameIndex(
        (
            *(
                Named(record.id, (record.name,), _UNCLEAR)
                for record in records.unclear_medicines.values()
            ),
            *(Named(record.id, record.names, record.tier) for record in medicines),
            *(Named(record.id, record.names, _CLASS) for record in classes),
            *(Named(record.id, (record.id, record.label), _CLASS) for record in classes),
            *(Named(record.id, (record.id,), record.tier) for record in medicines),
        )
    )


@cache
def condition_names() -> NameIndex:
    """The names of conditions, and what people call these."""
    records = fact_records()
    return NameIndex(
        (
            *(
                Named(record.id, (record.name,), _UNCLEAR)
                for record in records.unclear_conditions.values()
            ),
            *(Named(record.id, record.names) for record in records.conditions.values()),
            *(
                Named(record.id, (record.id, record.label))
                for record in records.conditions.values()
            ),
        )
    )


@cache
def allergy_names() -> NameIndex:
    """The names of allergies but for those to herbs: conditions that are one, constituents."""
    words = vocabulary()
    conditions = fact_records().conditions.values()
    return NameIndex(
        (
            *(Named(tag, (tag, words.words.label(tag))) for tag in words.constituents),
            *(
                Named(record.id, (*record.names, *_without_allergy(record.names)))
                for record in conditions
                if any(_ALLERGY in name for name in (*record.names, record.id))
            ),
            *(Named(record.id, (record.id, record.label, *record.names)) for record in conditions),
        )
    )


def _without_allergy(names: tuple[str, ...]) -> tuple[str, ...]:
    """“penicillin” of “penicillin allergy”: what people say when asked for allergies."""
    end = f" {_ALLERGY}"
    return tuple(name.removesuffix(end) for name in names if name.endswith(end))


def names_of(topic: Topic) -> NameIndex:
    """The names under a topic; those of herbs, to which an allergy can be, are not among them."""
    if topic is Topic.MEDICINES:
        return medicine_names()
    return allergy_names() if topic is Topic.ALLERGIES else condition_names()


def is_tag(topic: Topic, text: str) -> bool:
    """Whether a text is the tag of something, herbs apart, that a client can have so."""
    records = fact_records()
    if topic is Topic.MEDICINES:
        return records.is_medicine(text)
    is_allergen = topic is Topic.ALLERGIES and text in vocabulary().constituents
    return is_allergen or records.is_condition(text)


def fact_of(topic: Topic, text: str) -> Fact:
    """What was typed as a fact: its name and what that stands for, a medicine's dose and times.

    Where no record goes by the name, the fact keeps the words and has no tag; where the name is
    the tag itself, the tag alone says it.
    """
    names = names_of(topic)
    tag = names.exact(text)
    if tag is None and topic is Topic.MEDICINES:
        typed = typed_medicine(text)
        tag = names.exact(typed.name)
        return Fact(tag or "", at=typed.at, name=_beside(tag, typed.name), dose=typed.dose)
    return Fact(tag or "", name=_beside(tag, text))


def _beside(tag: str | None, name: str) -> str:
    """A name beside its tag; empty where it says no more than the tag itself."""
    return "" if name.lower().replace(" ", "-") == tag else name


@cache
def herb_index(headings: tuple[Heading, ...]) -> NameIndex:
    """The names of herbs, for offers as they are typed."""
    return NameIndex(Named(heading.id, tuple(heading.all_names)) for heading in headings)


def offered(topic: Topic, typed: str, herbs: NameIndex | None = None) -> tuple[Offer, ...]:
    """What may be meant, the likeliest first; under allergies herbs before what is like them."""
    if topic is Topic.MEDICINES:
        return medicine_names().offers(typed_medicine(typed).name)
    offers = names_of(topic).offers(typed)
    if topic is Topic.ALLERGIES and herbs is not None:
        offers = tuple(sorted((*herbs.offers(typed), *offers), key=lambda offer: offer.match))
    return offers


def taken(topic: Topic, typed: str, tag: str) -> Fact:
    """What was typed, as the record that was chosen for it: the words stay where they name it.

    Of a medicine the dose and times that were typed stay.
    """
    exact = fact_of(topic, typed)
    if exact.tag == tag:
        return exact
    parts = typed_medicine(typed) if topic is Topic.MEDICINES else TypedMedicine(typed)
    unclear = exact.tag and tag in _either(topic, exact.tag)
    name = parts.name if unclear else fact_records().label(tag) or ""
    return Fact(tag, at=parts.at, name=_beside(tag, name), dose=parts.dose)


def _either(topic: Topic, tag: str) -> tuple[str, ...]:
    records = fact_records()
    if topic is Topic.MEDICINES:
        return records.medicine_meaning(tag).either
    return records.condition_meaning(tag).either


def fact_written(topic: Topic, text: str) -> Fact:
    """What a file says in one word or name: a tag of the vocabulary, else a name."""
    if is_tag_of_herbs(topic, text):
        return Fact(text)
    fact = fact_of(topic, text)
    return fact if fact.tag or not is_tag(topic, text) else Fact(text)


def is_tag_of_herbs(topic: Topic, text: str) -> bool:
    """Whether a text is a tag by which the herbs' records speak of what is under a topic."""
    words = vocabulary()
    if topic is Topic.MEDICINES:
        return text in words.medicines
    of_allergy = topic is Topic.ALLERGIES and text in words.constituents
    return of_allergy or (text in words.conditions and fact_records().is_condition(text))
