"""Clients, and the facts about them that a course is planned around."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from sennight.domain.day import ClientDay


@dataclass(frozen=True, slots=True)
class Fact:
    """A condition, medicine or allergy, as a tag of the vocabulary.

    `since` and `until` are the first and last day on which it holds; None leaves that side open.
    """

    tag: str
    since: date | None = None
    until: date | None = None


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
    day: ClientDay = field(default_factory=ClientDay.at)
