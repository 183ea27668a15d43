"""The list of clients with what is due: no course is read for thousands of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from fractions import Fraction
from functools import partial
from typing import NamedTuple

from sennight.domain.follow_up.diaries import Score
from sennight.domain.reminders.markers import REVIEW_EVERY
from sennight.practice.bench_items import Due
from sennight.practice.bench_reading import MatterReader
from sennight.practice.clients import ClientTitle
from sennight.practice.opening import OpenPractice
from sennight.store.matters import StandingRow

__all__ = ["ClientStanding", "Due", "Trend", "list_client_standings", "trends"]

REVIEWS_WITHIN = REVIEW_EVERY + timedelta(days=1)
"""A course that runs has its next review within so long."""


_NO_COURSE = StandingRow(0, "", "", "", 1, 0, None)


class ClientStanding(NamedTuple):
    """A client in the list: the course that runs, else the latest, and what is due.

    `course` is its id, empty for a client without one that brings anything. `next` is the next
    review or appointment, or a review that is overdue; `diary_since` the first day of the running
    course that is not entered, None where no diary is kept; `red_flags` how many stand,
    and `asked_for_flags` whether anybody ever asked: none stand, too, where nobody did.
    """

    title: ClientTitle
    course: str
    is_running: bool
    next: Due | None
    diary_since: date | None
    red_flags: int
    asked_for_flags: bool

    @property
    def id(self) -> str:
        """The client's id."""
        return self.title.id

    @property
    def name(self) -> str:
        """The client's name."""
        return self.title.name


def list_client_standings(
    practice: OpenPractice, today: date, *, archived: bool = False
) -> tuple[ClientStanding, ...]:
    """The clients that are not archived, or those that are, by name."""
    with practice.file.reading() as unit:
        titles = unit.clients.titles(archived=archived)
        names = {client: name for client, name, _ in titles}
        standings = unit.matters.standings(date.min)
        courses = _shown(standings.values(), today)
        reader = MatterReader(unit.matters, today, names, REVIEWS_WITHIN, standings)
        due = reader.next_seen()
        flags = {client: count for client, (_, count) in unit.matters.red_flags().items()}
        asked = unit.matters.asked_for_red_flags()
    made = partial(tuple.__new__, ClientStanding)
    day, no_course, due_of, flags_of = today.toordinal(), _NO_COURSE, due.get, flags.get
    found = []
    for title in titles:
        client = title[0]
        _, course, _, _, first, last, since = courses.get(client, no_course)
        running = first <= day <= last
        behind = date.fromordinal(since) if running and since and since <= day else None
        standing = title, course, running, due_of(client), behind
        found.append(made((*standing, flags_of(client, 0), client in asked)))
    return tuple(found)


def _shown(rows: Iterable[StandingRow], today: date) -> Mapping[str, StandingRow]:
    """The course of each client to show: the one that runs, else the one that began last."""
    day = today.toordinal()
    shown: dict[str, StandingRow] = {}
    ranks: dict[str, tuple[bool, int]] = {}
    for row in rows:
        _, _, client_id, _, first, last, _ = row
        rank = first <= day <= last, first
        if client_id not in ranks or rank > ranks[client_id]:
            shown[client_id], ranks[client_id] = row, rank
    return shown


class Trend(NamedTuple):
    """How the ratings of one measure went: its name, its scale, and the values by day."""

    name: str
    low: int
    high: int
    values: tuple[Fraction, ...]


def trends(practice: OpenPractice, course_ids: Iterable[str]) -> dict[str, Trend]:
    """The measure that each of these courses was rated by most often; none where none was."""
    found = {}
    with practice.file.reading() as unit:
        for course_id, scores in unit.diaries.scores_of(tuple(course_ids)).items():
            by_measure: dict[str, list[Score]] = {}
            for score in scores:
                by_measure.setdefault(score.measure, []).append(score)
            measures = unit.diaries.measures(course_id)
            most = max(by_measure, key=lambda name: len(by_measure[name]))
            measure = measures.of(most)
            values = tuple(score.value for score in by_measure[most])
            name = measure.name if measure else most
            found[course_id] = Trend(name, *measures.scale(most), values)
    return found
