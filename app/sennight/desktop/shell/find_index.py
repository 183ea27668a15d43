"""All that can be found: clients, courses, shelves, herbs, and what was written.

It is imported when it is first asked for something, so that the window is there at once.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import lru_cache

from sennight.desktop.kit.translating import translate
from sennight.desktop.shell.find import LEAST_TYPED, MOST_WRITTEN, Sort, Thing
from sennight.domain.directions.plain_words import plain_date
from sennight.practice.clients import changed_client_titles, client_entry, list_client_titles
from sennight.practice.consultations import find_consultations
from sennight.practice.courses import (
    CourseTitle,
    Newest,
    list_course_titles,
    newest_versions,
)
from sennight.practice.diaries import find_day_notes
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocols import list_protocol_titles
from sennight.practice.remedies import list_remedy_titles


class FindIndex:
    """All that can be found, read anew only where something was saved since.

    Of thousands of clients and courses, those alone are read that were saved. A client's name
    stands with the courses too.
    """

    def __init__(self, practice: OpenPractice) -> None:
        self._practice = practice
        self._at = -1
        self._newest = Newest(-1, -1)
        self._names: dict[str, str] = {}
        self._clients: tuple[Thing, ...] = ()
        self._titles: list[CourseTitle] = []
        self._courses: list[Thing] = []
        self._things: tuple[Thing, ...] = ()

    def __call__(self) -> tuple[Thing, ...]:
        """All that can be found now, clients first."""
        if self._at != self._practice.changes:
            self._at = self._practice.changes
            self._renew(newest_versions(self._practice))
            self._things = (*self._clients, *self._courses, *_others(self._practice))
        return self._things

    def _renew(self, newest: Newest) -> None:
        if self._newest.clients < 0:
            titles = list_client_titles(self._practice)
            self._names = {title.id: title.name for title in titles}
            self._clients = _clients(self._names)
            self._titles = list(list_course_titles(self._practice))
            self._courses = [_course(title) for title in self._titles]
        else:
            if newest.clients != self._newest.clients:
                self._put_clients(self._newest.clients)
            if newest.courses != self._newest.courses:
                saved = list_course_titles(self._practice, since=self._newest.courses)
                for title in reversed(saved):
                    self._put(title)
        self._newest = newest

    def _put_clients(self, since: int) -> None:
        """The clients that were saved, by name as the list has them, and with their courses."""
        changed = changed_client_titles(self._practice, since)
        for title, is_archived in changed:
            self._names.pop(title.id, None)
            if not is_archived:
                self._names[title.id] = title.name
        self._clients = _clients(self._names)
        now = {title.id: title.name for title, _ in changed}
        for n, course in enumerate(self._titles):
            if now.get(course.client_id, course.client_name) != course.client_name:
                self._titles[n] = course._replace(client_name=now[course.client_id])
                self._courses[n] = _course(self._titles[n])

    def _put(self, title: CourseTitle) -> None:
        """A course in the place of what it was, or where its first day belongs."""
        ids = [known.id for known in self._titles]
        at = ids.index(title.id) if title.id in ids else -1
        if at >= 0 and self._titles[at].start == title.start:
            self._titles[at], self._courses[at] = title, _course(title)
            return
        if at >= 0:
            del self._titles[at], self._courses[at]
        starts = (n for n, known in enumerate(self._titles) if known.start <= title.start)
        to = next(starts, len(self._titles))
        self._titles.insert(to, title)
        self._courses.insert(to, _course(title))


def written_things(practice: OpenPractice, typed: str) -> tuple[Thing, ...]:
    """The consultations, and notes of days, that hold what was typed; at most MOST_WRITTEN each.

    The id is the client's, or the course's.
    """
    if len(typed.strip()) < LEAST_TYPED:
        return ()
    return (*_consultations(practice, typed), *_day_notes(practice, typed))


def _consultations(practice: OpenPractice, typed: str) -> Iterator[Thing]:
    about = translate("Find", "written about {name}")
    for found in find_consultations(practice, typed)[:MOST_WRITTEN]:
        name = client_entry(practice, found.client_id).client.name
        words = " ".join(found.words.split())
        yield Thing(Sort.CONSULTATION, found.client_id, words, about.format(name=name))


def _day_notes(practice: OpenPractice, typed: str) -> Iterator[Thing]:
    about = translate("Find", "from the diary of {name}, {day}")
    for found in find_day_notes(practice, typed)[:MOST_WRITTEN]:
        day = date.fromisoformat(found.day)
        name = client_entry(practice, found.client_id).client.name
        told = about.format(name=name, day=plain_date(day))
        yield Thing(Sort.DAY_NOTE, found.course_id, found.words, told, day)


def everything(practice: OpenPractice) -> tuple[Thing, ...]:
    """All that can be found, clients first."""
    return FindIndex(practice)()


def _clients(names: Mapping[str, str]) -> tuple[Thing, ...]:
    """The clients that are not in the archive, given their names by id, by name."""
    about = translate("Find", "client")
    order = sorted(names.items(), key=lambda item: (item[1].casefold(), item[0]))
    return tuple([Thing(Sort.CLIENT, client_id, name, about) for client_id, name in order])


def _course(title: CourseTitle) -> Thing:
    about = _course_words(title.client_name, title.start)
    return Thing(Sort.COURSE, title.id, title.protocol_name, about)


@lru_cache(maxsize=50_000)
def _course_words(name: str, start: date) -> str:
    """What is said of a course; kept, since a save changes one of thousands."""
    of = translate("Find", "course of {name}, from {day}")
    return of.format(name=name, day=plain_date(start))


def _others(practice: OpenPractice) -> Iterator[Thing]:
    protocol = translate("Find", "protocol")
    for shelf in list_protocol_titles(practice):
        yield Thing(Sort.PROTOCOL, shelf.id, shelf.name, protocol)
    for remedy in list_remedy_titles(practice):
        yield Thing(Sort.REMEDY, remedy.id, remedy.name, remedy.form)
    for herb in known_herbs(practice).headings:
        about = ", ".join((translate("Find", "herb"), herb.latin, *herb.also_called))
        yield Thing(Sort.HERB, herb.id, herb.name, about)
