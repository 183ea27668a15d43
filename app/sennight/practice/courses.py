"""Courses: starting, revising, looking back.

Every saved version stays. Revisions are only ever added; the day of the decision and the reason
are part of each.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import NamedTuple
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import empty_protocol
from sennight.domain.courses.revising import plan_course
from sennight.practice.opening import DamagedCourseError, OpenPractice
from sennight.practice.protocols import place_protocol
from sennight.practice.supplied_protocols import supplied_protocol
from sennight.store.courses import Save
from sennight.store.entries import CourseEntry, CourseTitle, CourseVersion
from sennight.store.unit import UnitOfWork

__all__ = [
    "ClientCourses",
    "CourseEntry",
    "CourseTitle",
    "CourseVersion",
    "Newest",
    "RevisionsChangedError",
    "StaleCourseError",
    "add_course",
    "client_courses",
    "course_entry",
    "course_history",
    "damaged_courses",
    "list_course_titles",
    "list_courses",
    "list_courses_of",
    "newest_versions",
    "place_course",
    "save_course",
    "start_course",
    "start_empty_course",
    "version_on",
]


class StaleCourseError(Exception):
    """The course was saved elsewhere since this copy of it was read."""

    def __init__(self, yours: int, stored: int) -> None:
        super().__init__(
            f"this course was saved elsewhere meanwhile (it is at version {stored}, yours is "
            f"version {yours}), so nothing was saved; open it again and repeat your change"
        )


class RevisionsChangedError(Exception):
    """Revisions that were saved before are missing or different."""

    def __init__(self, stored: int) -> None:
        super().__init__(
            f"the {stored} revisions saved before must stay as they are, in their order, so "
            "nothing was saved; add a further revision instead of changing one"
        )


class ClientCourses(NamedTuple):
    """A client's courses; `damaged` says of each one that cannot be read where it is whole."""

    entries: tuple[CourseEntry, ...]
    damaged: tuple[str, ...]


def list_courses(practice: OpenPractice, client_id: str | None = None) -> tuple[CourseEntry, ...]:
    """All courses that can be read, or those of one client, newest start first."""
    with practice.file.reading() as unit:
        return unit.courses.all(client_id)


def client_courses(practice: OpenPractice, client_id: str) -> ClientCourses:
    """The courses of one client, newest start first, and what is to be told of damaged ones."""
    with practice.file.reading() as unit:
        entries, damaged = unit.courses.with_damaged(client_id)
    return ClientCourses(entries, tuple(_damage(practice, record) for record in damaged))


def _damage(practice: OpenPractice, course_id: str) -> str:
    try:
        course_entry(practice, course_id)
    except DamagedCourseError as error:
        return str(error)
    return ""


def damaged_courses(practice: OpenPractice, client_id: str | None = None) -> Mapping[str, str]:
    """The courses that cannot be read, all or those of one client, each with why.

    `list_courses` leaves them out, and `course_entry` raises DamagedCourseError for them, which
    names the newest backup that holds the course whole.
    """
    with practice.file.reading() as unit:
        return unit.courses.damaged(client_id)


class Newest(NamedTuple):
    """The numbers of the versions that were saved last, of clients' records and of courses."""

    clients: int
    courses: int


def newest_versions(practice: OpenPractice) -> Newest:
    """Which versions were saved last; a list that was read at the same numbers is not old."""
    with practice.file.reading() as unit:
        return Newest(unit.clients.newest_version(), unit.courses.newest_version())


def list_course_titles(practice: OpenPractice, *, since: int = 0) -> tuple[CourseTitle, ...]:
    """What a list shows of every course, newest start first: quick where there are thousands.

    With `since` only of those that were saved after the version of that number.
    """
    with practice.file.reading() as unit:
        return unit.courses.titles(since=since)


def list_courses_of(practice: OpenPractice, client_ids: Sequence[str]) -> tuple[CourseEntry, ...]:
    """The courses of some clients, those that can be read, newest start first."""
    with practice.file.reading() as unit:
        return unit.courses.of_clients(client_ids)


def course_entry(practice: OpenPractice, course_id: str) -> CourseEntry:
    """One course as last saved; raises MissingRecordError."""
    with practice.file.reading() as unit:
        return unit.courses.get(course_id)


def course_history(practice: OpenPractice, course_id: str) -> tuple[CourseVersion, ...]:
    """Every saved version, oldest first, each with the client's record as it stood then."""
    with practice.file.reading() as unit:
        return unit.courses.history(course_id)


def version_on(history: Sequence[CourseVersion], day: date) -> CourseVersion:
    """The last version saved up to a day; before the first save, the first."""
    saved = [version for version in history if version.when.date() <= day]
    return saved[-1] if saved else history[0]


def start_course(
    practice: OpenPractice,
    client_id: str,
    protocol_id: str,
    start: date,
    *,
    until: date | None = None,
    now: datetime,
) -> str:
    """Start a course from a protocol, with copies of it and of its remedies; returns its id.

    One that comes with the program goes onto the shelf with that, as does what is in its remedies.
    Raises MissingRecordError, and LayoutError where the phases cannot be laid out.
    """
    with practice.file.writing() as unit:
        supplied = supplied_protocol(protocol_id)
        if supplied:
            protocol_id = place_protocol(unit, supplied, practice.file.clock())
        shelf = unit.protocols.get(protocol_id)
        course = Course(
            id=uuid4().hex,
            client=unit.clients.get(client_id).client,
            remedies=shelf.remedies,
            protocol=shelf.protocol,
            start=start,
            until=until,
        )
        return _add(unit, client_id, course, now)


def start_empty_course(
    practice: OpenPractice, client_id: str, name: str, start: date, *, now: datetime
) -> str:
    """Start a course that has one phase and no lines yet; returns its id.

    Raises MissingRecordError.
    """
    with practice.file.writing() as unit:
        client = unit.clients.get(client_id).client
        course = Course(uuid4().hex, client, (), empty_protocol(name), start)
        return _add(unit, client_id, course, now)


def add_course(practice: OpenPractice, client_id: str, course: Course, *, now: datetime) -> str:
    """Add a ready-made course for a client; returns its id.

    It keeps its own id where no course in the file has that yet. Its client is the one of
    `client_id`, whatever it says itself. Raises MissingRecordError, LayoutError.
    """
    with practice.file.writing() as unit:
        return place_course(unit, client_id, course, now)


def place_course(unit: UnitOfWork, client_id: str, course: Course, now: datetime) -> str:
    """The same within a transaction."""
    if unit.courses.has(course.id):
        course = replace(course, id=uuid4().hex)
    return _add(unit, client_id, course, now)


def _add(unit: UnitOfWork, client_id: str, course: Course, now: datetime) -> str:
    client_version_id = unit.clients.version_id(client_id)
    plan_course(course)
    unit.courses.add(course, save=Save(client_id, client_version_id, now))
    return course.id


def save_course(
    practice: OpenPractice, entry: CourseEntry, course: Course, *, now: datetime
) -> CourseEntry:
    """Save a changed course as its next version; returns it as it then stands.

    `entry` is what the change was made from. The client in the result is always the client's
    current record. Saving what is there already adds no version. Raises StaleCourseError where
    the course was saved elsewhere since, RevisionsChangedError where saved revisions are not
    the first ones of the course, LayoutError where it cannot be laid out (a revision once
    saved stays, so an impossible one is not let in), MissingRecordError.
    """
    with practice.file.writing() as unit:
        return save_in(unit, entry, course, now=now)


def save_in(unit: UnitOfWork, entry: CourseEntry, course: Course, *, now: datetime) -> CourseEntry:
    """Save a changed course within a transaction, as `save_course` does."""
    standing = unit.courses.standing(entry.id)
    if entry.version != standing.version:
        raise StaleCourseError(entry.version, standing.version)
    client_version_id, client = unit.clients.current(standing.client_id)
    if (course.id, course.client) != (entry.id, client.client):
        course = replace(course, id=entry.id, client=client.client)
    stored = replace(
        entry, client_id=standing.client_id, client_name=client.client.name, course=course
    )
    if unit.courses.same(course, standing):
        return replace(stored, created=standing.created, changed=standing.changed)
    is_as_read = unit.courses.same(entry.course, standing)
    if not unit.courses.begins_as_saved(course, entry.course if is_as_read else None):
        raise RevisionsChangedError(standing.revision_count)
    plan_course(course)
    save = Save(standing.client_id, client_version_id, now)
    unit.courses.add_version(course, known=standing.revision_count, save=save)
    return replace(
        stored,
        created=standing.created,
        changed=now.astimezone(UTC),
        version=standing.version + 1,
    )
