"""What the find field can find: clients, courses, protocols, remedies and herbs, by name."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum, auto
from functools import lru_cache
from itertools import islice
from typing import NamedTuple, assert_never

from sennight.desktop.kit.matching import matching
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.kit.translating import translate
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.clients import list_client_titles
from sennight.practice.courses import list_course_titles
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocols import list_protocol_titles
from sennight.practice.remedies import list_remedy_titles

MOST = 12
"""The most that is shown at once; typing more narrows it."""


class Sort(Enum):
    """What was found."""

    CLIENT = auto()
    COURSE = auto()
    PROTOCOL = auto()
    REMEDY = auto()
    HERB = auto()


class Thing(NamedTuple):
    """Something that can be found: its sort and id, its name, and a word on what it is."""

    sort: Sort
    id: str
    name: str
    about: str

    @property
    def searched(self) -> str:
        """The text that is searched: a course is also found by its client's name.

        So is a herb by its other names.
        """
        by_both = self.sort in (Sort.COURSE, Sort.HERB)
        return f"{self.name} {self.about}" if by_both else self.name


def route_to(thing: Thing) -> Route:
    """Where a thing that was found is looked at; a protocol has no page of its own."""
    match thing.sort:
        case Sort.CLIENT:
            kind = RouteKind.FOLDER
        case Sort.COURSE:
            kind = RouteKind.COURSE
        case Sort.REMEDY:
            kind = RouteKind.REMEDY
        case Sort.HERB:
            kind = RouteKind.HERB
        case Sort.PROTOCOL:
            raise ValueError(thing.sort)
        case _:
            assert_never(thing.sort)
    return Route(kind, thing.id)


class FindIndex:
    """All that can be found, read anew only where something was saved since."""

    def __init__(self, practice: OpenPractice) -> None:
        self._practice = practice
        self._things: tuple[Thing, ...] = ()
        self._at = -1

    def __call__(self) -> tuple[Thing, ...]:
        """All that can be found now."""
        if self._at != self._practice.changes:
            self._at, self._things = self._practice.changes, everything(self._practice)
        return self._things


def everything(practice: OpenPractice) -> tuple[Thing, ...]:
    """All that can be found, clients first."""
    return tuple(_things(practice))


def _things(practice: OpenPractice) -> Iterator[Thing]:
    client, protocol = translate("Find", "client"), translate("Find", "protocol")
    of, day = translate("Find", "course of {name}, from {day}"), lru_cache(None)(plain_date)
    for entry in list_client_titles(practice):
        yield Thing(Sort.CLIENT, entry.id, entry.name, client)
    for course in list_course_titles(practice):
        about = of.format(name=course.client_name, day=day(course.start))
        yield Thing(Sort.COURSE, course.id, course.protocol_name, about)
    for shelf in list_protocol_titles(practice):
        yield Thing(Sort.PROTOCOL, shelf.id, shelf.name, protocol)
    for remedy in list_remedy_titles(practice):
        yield Thing(Sort.REMEDY, remedy.id, remedy.name, remedy.form)
    for herb in known_herbs(practice).headings:
        about = ", ".join((translate("Find", "herb"), herb.latin, *herb.also_called))
        yield Thing(Sort.HERB, herb.id, herb.name, about)


def matching_things(things: tuple[Thing, ...], typed: str) -> tuple[Thing, ...]:
    """The things that fit what was typed, at most MOST of them; none where nothing was typed."""
    if not typed.strip():
        return ()
    return tuple(islice(matching(typed, things, lambda thing: thing.searched), MOST))
