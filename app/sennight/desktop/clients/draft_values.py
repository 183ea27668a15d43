"""A client's facts and reactions as a draft keeps them: JSON, with what is half typed as text."""

from __future__ import annotations

from datetime import date

from sennight.desktop.kit.drafts import as_list, as_object
from sennight.domain.courses.clients import Fact, Harm, Outcome, Reaction
from sennight.practice.drafts import Json


def _tags(tags: tuple[str, ...]) -> list[Json]:
    return list(tags)


def _words(value: Json) -> tuple[str, ...]:
    return tuple(str(word) for word in as_list(value))


def fact_to_json(fact: Fact) -> dict[str, Json]:
    """A fact without its days, times and dose, which stand in fields of their own."""
    return {
        "tag": fact.tag,
        "name": fact.name,
        "classes": None if fact.classes is None else _tags(fact.classes),
        "not_for": _tags(fact.not_for),
    }


def fact_from_json(value: Json) -> Fact:
    """The fact again; raises LookupError or TypeError."""
    content = as_object(value)
    classes = content["classes"]
    return Fact(
        str(content["tag"]),
        name=str(content["name"]),
        classes=None if classes is None else _words(classes),
        not_for=_words(content["not_for"]),
    )


def reaction_to_json(reaction: Reaction) -> dict[str, Json]:
    """A reaction, whole."""
    return {
        "day": reaction.day.isoformat(),
        "remedy": reaction.remedy,
        "herbs": _tags(reaction.herbs),
        "what": reaction.what,
        "harm": None if reaction.harm is None else str(reaction.harm),
        "outcome": None if reaction.outcome is None else str(reaction.outcome),
    }


def reaction_from_json(value: Json) -> Reaction:
    """The reaction again; raises LookupError, TypeError or ValueError."""
    content = as_object(value)
    harm, outcome = content["harm"], content["outcome"]
    return Reaction(
        date.fromisoformat(str(content["day"])),
        str(content["remedy"]),
        _words(content["herbs"]),
        str(content["what"]),
        None if harm is None else Harm(str(harm)),
        None if outcome is None else Outcome(str(outcome)),
    )
