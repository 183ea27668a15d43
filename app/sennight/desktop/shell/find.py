"""What the find field shows of what it found, and which of it fits what was typed."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from enum import Enum, auto
from itertools import islice
from typing import NamedTuple, assert_never

from sennight.desktop.kit.action_spec import ActionSpec
from sennight.desktop.kit.matching import matching, plain
from sennight.desktop.kit.navigation import Route, RouteKind
from sennight.desktop.kit.translating import translate

MOST = 12
"""The most that is shown at once; typing more narrows it."""
MOST_COMPARED = 300
"""Of so many that fit, those come first that begin with what was typed."""

MOST_WRITTEN = 4
"""The most consultations, notes of days and actions that are shown with them, of each so many."""


LEAST_TYPED = 3
"""From so many letters on consultations and reviews are searched."""


class Sort(Enum):
    """What was found."""

    CLIENT = auto()
    COURSE = auto()
    REVIEW = auto()
    PROTOCOL = auto()
    REMEDY = auto()
    HERB = auto()
    CONSULTATION = auto()
    DAY_NOTE = auto()
    ACTION = auto()


class Thing(NamedTuple):
    """Something that can be found: its sort and id, its name, and a word on what it is."""

    sort: Sort
    id: str
    name: str
    about: str
    day: date | None = None

    @property
    def searched(self) -> str:
        """The text that is searched: a course is also found by its client's name.

        So is a herb by its other names.
        """
        by_both = self.sort in (Sort.COURSE, Sort.HERB)
        return f"{self.name} {self.about}" if by_both else self.name


def route_to(thing: Thing) -> Route:
    """Where a thing that was found is looked at; an action has no place."""
    match thing.sort:
        case Sort.CLIENT | Sort.CONSULTATION:
            kind = RouteKind.FOLDER
        case Sort.COURSE | Sort.DAY_NOTE:
            kind = RouteKind.COURSE
        case Sort.REVIEW:
            kind = RouteKind.REVIEW
        case Sort.REMEDY:
            kind = RouteKind.REMEDY
        case Sort.HERB:
            kind = RouteKind.HERB
        case Sort.PROTOCOL:
            kind = RouteKind.PROTOCOL
        case Sort.ACTION:
            raise ValueError(thing.id)
        case _:
            assert_never(thing.sort)
    return Route(kind, thing.id, thing.day)


def review_things(things: Iterable[Thing], typed: str) -> tuple[Thing, ...]:
    """The reviews of the courses that fit the rest of what was typed, at most MOST_WRITTEN.

    None where no word of it begins that of a review.
    """
    review, words = translate("Find", "Review"), typed.split()
    asked = [word for word in words if _begins(review, word)]
    if not asked:
        return ()
    courses = [thing for thing in things if thing.sort is Sort.COURSE]
    rest = " ".join(word for word in words if word not in asked)
    fitting = matching(rest, courses, lambda thing: thing.searched) if rest else courses
    return tuple(
        course._replace(sort=Sort.REVIEW, name=f"{review}: {course.name}")
        for course in islice(fitting, MOST_WRITTEN)
    )


def _begins(word: str, typed: str) -> bool:
    return len(typed) >= LEAST_TYPED and word.casefold().startswith(typed.casefold())


def action_things(specs: Iterable[ActionSpec], typed: str) -> tuple[Thing, ...]:
    """What can be done from anywhere whose name fits what was typed, at most MOST_WRITTEN."""
    if not typed.strip():
        return ()
    things = (Thing(Sort.ACTION, spec.id, spec.text, spec.tip) for spec in specs)
    return tuple(islice(matching(typed, things, lambda thing: thing.name), MOST_WRITTEN))


def matching_things(things: tuple[Thing, ...], typed: str) -> tuple[Thing, ...]:
    """The things that fit what was typed, at most MOST of them; none where nothing was typed.

    Of each sort those stand first whose names begin so: a herb is also found by its other names.
    """
    if not typed.strip():
        return ()
    found = list(islice(matching(typed, things, lambda thing: thing.searched), MOST_COMPARED))
    places = {sort: place for place, sort in enumerate(dict.fromkeys(t.sort for t in found))}
    begun = plain(typed)
    found.sort(key=lambda t: (places[t.sort], not plain(t.name).startswith(begun)))
    return tuple(found[:MOST])
