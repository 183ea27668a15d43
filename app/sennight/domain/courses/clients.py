"""Clients, and the facts about them that a course is planned around."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, time
from fractions import Fraction

from sennight.domain.day import ClientDay, Moment


@dataclass(frozen=True, slots=True)
class Fact:
    """A condition, medicine or allergy, as a tag of the vocabulary.

    `since` and `until` are the first and last day on which it holds; None leaves that side open.
    `at` are the times of day at which a medicine is taken, where they are known.
    """

    tag: str
    since: date | None = None
    until: date | None = None
    at: tuple[Moment | time, ...] = ()


@dataclass(frozen=True, slots=True)
class Reaction:
    """What happened to a client on a day after a remedy, and the herbs that are suspected.

    `remedy` is the remedy's name as it was then. A reaction is never forgotten.
    """

    day: date
    remedy: str
    herbs: tuple[str, ...]
    what: str


@dataclass(frozen=True, slots=True)
class Client:
    """A client as a course needs them; the folder around them is the store's."""

    name: str
    born: date | None = None
    zone: str | None = None
    weight_kg: Fraction | None = None
    conditions: tuple[Fact, ...] = ()
    medicines: tuple[Fact, ...] = ()
    allergies: tuple[Fact, ...] = ()
    reactions: tuple[Reaction, ...] = ()
    day: ClientDay = field(default_factory=ClientDay.at)
