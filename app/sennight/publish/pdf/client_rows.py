"""What is known of a client, in rows for the papers that practitioners read."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import assert_never

from sennight.domain.courses.clients import Client, Fact, Topic
from sennight.domain.dates import whole_years
from sennight.domain.day import Moment
from sennight.domain.directions.plain_words import listed, plain_date, plain_moment
from sennight.domain.tag_words import TagWords, upper_first
from sennight.publish.pdf.plain_sheet import Row

_NAMES = {
    Topic.CONDITIONS: "Conditions",
    Topic.MEDICINES: "Medicines",
    Topic.ALLERGIES: "Allergies",
    Topic.REACTIONS: "Reactions",
}


def client_rows(client: Client, words: TagWords, today: date) -> list[Row]:
    """Conditions, medicines with their doses, allergies and reactions; or that nobody asked."""
    return [(name, _lines(client, topic, words, today)) for topic, name in _NAMES.items()]


def born_words(client: Client, today: date) -> str:
    """` (born 1 January 1944, 83 years old)`; empty where that is not known."""
    if client.born is None:
        return ""
    years = whole_years(client.born, today)
    return f" (born {plain_date(client.born)}, {years} year{'' if years == 1 else 's'} old)"


def _lines(client: Client, topic: Topic, words: TagWords, today: date) -> Sequence[str]:
    lines = _told(client, topic, words, today)
    return lines or ("Asked: none." if topic in client.asked else "Not asked.",)


def _told(client: Client, topic: Topic, words: TagWords, today: date) -> tuple[str, ...]:
    match topic:
        case Topic.CONDITIONS | Topic.MEDICINES | Topic.ALLERGIES:
            return tuple(_fact(fact, words, today) for fact in client.facts(topic))
        case Topic.REACTIONS:
            return tuple(
                f"{plain_date(reaction.day)}, {reaction.remedy}: {reaction.what}."
                for reaction in client.standing_reactions
            )
        case _:
            assert_never(topic)


def _fact(fact: Fact, words: TagWords, today: date) -> str:
    """A fact with its times and the days that it is known for; the dose is in its name."""
    days = [f"since {plain_date(fact.since)}" if fact.since and fact.since <= today else ""]
    days += [f"from {plain_date(fact.since)}" if fact.since and fact.since > today else ""]
    days += [f"until {plain_date(fact.until)}" if fact.until else ""]
    told = ", ".join(day for day in days if day)
    at = listed(
        [plain_moment(when) if isinstance(when, Moment) else f"{when:%H:%M}" for when in fact.at]
    )
    name = f"{upper_first(fact.label(words))}{f', at {at}' if at else ''}"
    return f"{name}{f' ({told})' if told else ''}."
