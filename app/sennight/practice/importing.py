"""Course files in and out of a practice: its protocol onto the shelf, or all of it; and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from types import MappingProxyType
from uuid import uuid4

from sennight.domain.courses.courses import Course
from sennight.domain.courses.protocols import Protocol
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.carried_herbs import HerbChoice, herbs_of, keep_herbs, settled
from sennight.practice.courses import place_course
from sennight.practice.diaries import reported_in
from sennight.practice.materia_medica import herb_finder
from sennight.practice.opening import OpenPractice
from sennight.practice.own_herbs import known_herbs
from sennight.practice.protocols import add_protocol, list_protocols, place_protocol
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import write_paths
from sennight.publish.course_file.reader import CourseFile, CourseFileError, read_course_file
from sennight.publish.course_file.writer import course_toml
from sennight.store.entries import ClientEntry, ShelfProtocol
from sennight.store.unit import UnitOfWork

__all__ = [
    "CourseFile",
    "ImportFileError",
    "ImportResult",
    "NameTakenError",
    "import_course",
    "import_protocol",
    "read_for_import",
    "save_as_protocol",
    "template_of",
    "write_course_file",
]


NO_CHOICES: Mapping[str, HerbChoice] = MappingProxyType({})


class ImportFileError(Exception):
    """A course file that cannot be used; `problems` has every one, each with its place."""

    def __init__(self, name: str, problems: tuple[str, ...]) -> None:
        self.name, self.problems = name, problems
        super().__init__("\n".join((f"{name} cannot be imported:", *problems)))


class NameTakenError(ValueError):
    """The shelf has a protocol of that name already."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(f"there is already a protocol “{name}” on the shelf; choose another name")


@dataclass(frozen=True, slots=True)
class ImportResult:
    """The ids of what was brought in; client and course are empty where only a protocol was."""

    protocol_id: str
    client_id: str = ""
    course_id: str = ""


def read_for_import(practice: OpenPractice, path: Path) -> CourseFile:
    """What a course file of herbs that the practice knows holds; raises BringInError."""
    try:
        return read_course_file(path, herb_finder(known_herbs(practice)))
    except CourseFileError as error:
        raise ImportFileError(path.name, tuple(map(str, error.problems))) from error


def import_protocol(
    practice: OpenPractice,
    file: CourseFile,
    *,
    name: str = "",
    herbs: Mapping[str, HerbChoice] = NO_CHOICES,
) -> ImportResult:
    """Put the protocol of a course file onto the shelf, with its remedies and own herbs.

    What is on the shelf stays as it is. Raises NameTakenError, HerbsDifferError; nothing is then
    brought in.
    """
    file, kept = settled(practice, file, herbs)
    shelf = _shelf_of(practice, file, name)
    now = practice.file.clock()
    with practice.file.writing() as unit:
        keep_herbs(unit, kept, now)
        return ImportResult(place_protocol(unit, shelf, now))


def import_course(
    practice: OpenPractice,
    file: CourseFile,
    *,
    name: str = "",
    client_id: str = "",
    herbs: Mapping[str, HerbChoice] = NO_CHOICES,
    now: datetime,
) -> ImportResult:
    """Bring in all that a course file holds: protocol, remedies, course, diary and scores.

    The course goes into the folder of `client_id`, whose record stays as it is, or into a new
    folder. All or nothing: raises NameTakenError, HerbsDifferError, MissingRecordError.
    """
    file, kept = settled(practice, file, herbs)
    shelf = _shelf_of(practice, file, name)
    with practice.file.writing() as unit:
        keep_herbs(unit, kept, practice.file.clock())
        protocol_id = place_protocol(unit, shelf, practice.file.clock())
        folder = client_id or _new_folder(unit, file.course, practice.file.clock())
        course_id = place_course(unit, folder, file.course, now)
        entered = practice.file.clock()
        unit.diaries.enter_taken(course_id, file.diary, entered=entered)
        unit.diaries.describe_measures(course_id, file.measures.own, entered=entered)
        unit.diaries.enter_scores(course_id, file.scores, entered=entered)
        unit.diaries.enter_followed(course_id, file.followed, entered=entered)
        unit.day_notes.enter(course_id, file.notes, entered=entered)
        return ImportResult(protocol_id, folder, course_id)


def _new_folder(unit: UnitOfWork, course: Course, saved: datetime) -> str:
    entry = ClientEntry(uuid4().hex, course.client)
    unit.clients.save(entry, saved=saved)
    return entry.id


def _shelf_of(practice: OpenPractice, file: CourseFile, name: str) -> ShelfProtocol:
    protocol, remedies = template_of(file.course, name or file.course.protocol.name)
    _insist_on_name(practice, protocol.name)
    return ShelfProtocol("", protocol, remedies)


def _insist_on_name(practice: OpenPractice, name: str) -> None:
    if any(entry.protocol.name == name for entry in list_protocols(practice)):
        raise NameTakenError(name)


def template_of(course: Course, name: str) -> tuple[Protocol, tuple[Remedy, ...]]:
    """A course's protocol as it now has it, under a name, and the remedies of its lines.

    Nothing of the client, no dates, and none of the decisions made for this client.
    """
    protocol = replace(course.protocol, name=name)
    used = {line.remedy for phase in protocol.phases for line in phase.lines}
    bounded = (
        replace(bound, remedies=tuple(remedy for remedy in bound.remedies if remedy in used))
        for bound in protocol.ceilings
    )
    protocol = replace(protocol, ceilings=tuple(bound for bound in bounded if bound.remedies))
    return protocol, tuple(remedy for remedy in course.remedies if remedy.id in used)


def save_as_protocol(practice: OpenPractice, course: Course, name: str) -> str:
    """Put a course's protocol onto the shelf under a name; returns its id.

    Where the shelf has a newer version of a formula than the course was given, that one is taken,
    so that no old formula comes back beside it. Raises NameTakenError.
    """
    _insist_on_name(practice, name)
    protocol, remedies = template_of(course, name)
    with practice.file.reading() as unit:
        newest = tuple(_newest(unit, remedy) for remedy in remedies)
    return add_protocol(practice, protocol, remedies=newest)


def _newest(unit: UnitOfWork, remedy: Remedy) -> Remedy:
    """The shelf's version of a remedy where this is an earlier one of it, in the same form."""
    shelf = unit.remedies.find(remedy.id)
    if shelf is None or shelf.remedy.form is not remedy.form:
        return remedy
    earlier = [version.remedy for version in unit.remedies.versions(remedy.id)]
    return shelf.remedy if remedy in earlier else remedy


def write_course_file(practice: OpenPractice, course_id: str, path: Path) -> Path:
    """Write a course, its client, diary and scores as a course file; returns where it is.

    Raises MissingRecordError, FolderError; a file that was there is replaced whole or not.
    """
    with practice.file.reading() as unit:
        course = unit.courses.get(course_id).course
        measures = unit.diaries.measures(course_id)
        reported = reported_in(unit, course_id)
    text = course_toml(course, reported, herbs_of(practice, course), measures)
    (written,) = write_paths({path: text.encode()}, plans=work_folder(practice.path))
    return written
