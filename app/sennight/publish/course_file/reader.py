"""Course files: a whole course as a plain TOML file.

    found = read_course_file(Path("course.toml"), herbs)     # raises CourseFileError
    text = course_toml(found.course, found.reported)     # writer

Everything wrong with a file is reported together, in the file's order, each with its place.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID, uuid5

from sennight.domain.courses.courses import Course
from sennight.domain.courses.problems import (
    Place,
    Problem,
    date_problems,
    layout_problems,
    same_time_problems,
    structure_problems,
    unit_problems,
)
from sennight.domain.courses.protocols import Phase
from sennight.domain.follow_up.diaries import DayNote, Followed, Reported, Score, Taken
from sennight.domain.follow_up.measures import NO_OWN, Measures
from sennight.domain.herbs.naming import HerbNames, as_names
from sennight.domain.herbs.own_herbs import CarriedHerb, as_herb
from sennight.domain.remedies.remedies import Remedy
from sennight.knowledge.vocabulary import vocabulary
from sennight.publish.course_file.accepts import VOID_KEYS, read_accepts, read_void
from sennight.publish.course_file.client import (
    read_client,
    read_diary,
    read_followed,
    read_notes,
    read_scores,
)
from sennight.publish.course_file.measures import read_measures
from sennight.publish.course_file.own_herbs import read_own_herbs
from sennight.publish.course_file.protocol import read_protocol
from sennight.publish.course_file.remedies import read_remedies
from sennight.publish.course_file.revisions import Named, read_revisions
from sennight.publish.course_file.toml_words import why_not_toml
from sennight.toml_tables import DAY, MOST_PROBLEMS, Report, Table, exact, whole

LARGEST_FILE = 4_000_000
"""Bytes; a year's course with a full diary has about 200,000."""

_NAMESPACE = UUID("5b0f7c1e-2d0c-4a53-9f4e-6a2f7f0e8c11")
_TOP = ("version", "client", "herb", "remedy", "protocol", "course", "diary", "measure", "score")
_OF_PROTOCOL = ("version", "herb", "remedy", "protocol")
NOBODY, ANY_MONDAY = "Nobody", date(2001, 1, 1)
"""Whose course a protocol is read as, and from when; neither is kept or shown."""
Ids = tuple[str, ...] | None


@dataclass(frozen=True, slots=True)
class CourseFile:
    """What a course file holds."""

    course: Course
    diary: tuple[Taken, ...] = ()
    scores: tuple[Score, ...] = ()
    herbs: tuple[CarriedHerb, ...] = ()
    """The own herbs that it brings along."""
    followed: tuple[Followed, ...] = ()
    measures: Measures = NO_OWN
    notes: tuple[DayNote, ...] = ()

    @property
    def reported(self) -> Reported:
        """All that the client reported."""
        return Reported(self.diary, self.followed, self.scores, self.notes)


class CourseFileError(Exception):
    """A course file that cannot be used; `problems` says what is wrong, `untold` are more."""

    def __init__(self, name: str, problems: tuple[Problem, ...], untold: int = 0) -> None:
        self.problems = problems
        lines = [f"{name}: {problem}" for problem in problems[:MOST_PROBLEMS]]
        if more := untold + len(problems) - len(lines):
            lines.append(f"{name}: and {more:,} more; correct these first")
        super().__init__("\n".join(lines))


def course_id(client: str, protocol: str, start: date) -> str:
    """The id of a course that comes from a file: the same in every run, and nothing personal."""
    return uuid5(_NAMESPACE, f"{client}\0{protocol}\0{start}").hex


def course_parts(course: Course) -> tuple[str, str, str]:
    """What a course is known by, client, protocol and start, as values that tell nothing."""
    known_by = (course.client.name, course.protocol.name, str(course.start))
    client, protocol, start = (uuid5(_NAMESPACE, part).hex for part in known_by)
    return client, protocol, start


def read_course_file(path: Path, herbs: Collection[str] | HerbNames) -> CourseFile:
    """The course in a file, of herbs of these ids or names.

    Raises CourseFileError, also where the file cannot be read.
    """
    return parse_course(file_text(path), herbs, name=str(path))


def read_protocol_file(path: Path, herbs: Collection[str] | HerbNames) -> CourseFile:
    """The protocol in a file, which may be a course file; raises CourseFileError.

    A protocol file is a course file without client and course; it is read as the course of
    nobody, from a day that means nothing. What a course file says of its client is left out.
    """
    return parse_protocol(file_text(path), herbs, name=str(path))


def parse_protocol(
    text: str, herbs: Collection[str] | HerbNames, *, name: str = "protocol file"
) -> CourseFile:
    """The protocol in the text of a file; raises CourseFileError."""
    document = {key: held for key, held in _document(text, name).items() if key in _OF_PROTOCOL}
    anyone = {"client": {"name": NOBODY}, "course": {"start": ANY_MONDAY}}
    return course_of(document | anyone, herbs, name=name)


def file_text(path: Path) -> str:
    """The text of a course file; raises CourseFileError where it cannot be read."""
    name = str(path)
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
        if len(data) > LARGEST_FILE:
            message = f"the file is too large; expected at most {LARGEST_FILE:,} bytes"
            raise _unusable(name, message)
        return data.decode("utf-8-sig")
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        message = f"the file cannot be read ({why}); expected a course file"
        raise _unusable(name, message) from error
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"the file is not UTF-8 text (line {line}); save it as UTF-8"
        raise _unusable(name, message) from error


def parse_course(
    text: str, herbs: Collection[str] | HerbNames, *, name: str = "course file"
) -> CourseFile:
    """The course in the text of a course file, of herbs so called; raises CourseFileError."""
    return course_of(_document(text, name), herbs, name=name)


def course_of(
    document: dict[str, Any], herbs: Collection[str] | HerbNames, *, name: str
) -> CourseFile:
    """The course in a parsed course file, decimals as fractions; raises CourseFileError."""
    report = Report()
    course_file = _read(Table(document, (), report), as_names(herbs))
    ids = _ids(course_file.course.remedies, report, "remedy")
    problems = _all_problems(report, course_file.course, ids)
    if problems:
        raise CourseFileError(name, _in_file_order(problems, document), report.untold)
    return course_file


def _unusable(name: str, message: str) -> CourseFileError:
    return CourseFileError(name, (Problem((), message),))


_STRINGS = re.compile(
    r'"{3}.*?"{3}|\'{3}.*?\'{3}|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'|#[^\n]*', re.DOTALL
)
_DEEP = re.compile(r"(?<![\w-])[\w-]+(?:[ \t]*\.[ \t]*[\w-]+){8}", re.ASCII)
"""A key of more parts than any course file has: TOML's reader takes minutes over thousands."""


def _document(text: str, name: str) -> dict[str, Any]:
    if _DEEP.search(_STRINGS.sub("x", text)):
        raise _unusable(name, "this is not a course file: a key in it has more than 8 parts")
    try:
        return tomllib.loads(text, parse_float=exact)
    except (ValueError, RecursionError) as error:
        why = why_not_toml(error, last_line=text.count("\n") + 1)
        raise _unusable(name, f"this is not TOML: {why}") from error


def _read(top: Table, herbs: HerbNames) -> CourseFile:
    words = vocabulary()
    top.only(*_TOP)
    top.need("version", whole(1, 1))
    own = read_own_herbs(top)
    if own:
        herbs = herbs.and_of(as_herb(carried.herb).heading for carried in own)
    client = read_client(top.table("client", needed=True), herbs)
    remedies = read_remedies(top, herbs)
    protocol = read_protocol(top.table("protocol", needed=True), words)
    table = top.table("course", needed=True)
    table.only("start", "until", "revision", "accept", "discussed", *VOID_KEYS)
    ids = _ids(remedies, top.report, "remedy")
    phases = _ids(protocol.phases, top.report, "protocol", "phase")
    start = table.need("start", DAY)
    course = Course(
        id=course_id(client.name, protocol.name, start),
        client=client,
        remedies=remedies,
        protocol=protocol,
        start=start,
        until=table.perhaps("until", DAY),
        revisions=read_revisions(table, Named(phases, ids)),
        accepts=read_accepts(table, "accept"),
        discussed=read_accepts(table, "discussed"),
        void=read_void(table),
        void_on=table.perhaps("void_on", DAY),
    )
    followed = read_followed(top, protocol)
    measures = read_measures(top)
    scores = read_scores(top, measures)
    diary, notes = read_diary(top, ids), read_notes(top)
    return CourseFile(course, diary, scores, own, followed, measures, notes)


def _ids(values: tuple[Remedy, ...] | tuple[Phase, ...], report: Report, *at: str) -> Ids:
    """The ids that can be referred to; None where the file's own list is not sound."""
    own = (problem.place[len(at) :] for problem in report.problems if _reaches(problem, at))
    sound = not any(len(rest) < 2 or rest[1] == "id" for rest in own)
    return tuple(value.id for value in values) if sound else None


def _reaches(problem: Problem, at: Place) -> bool:
    """Whether a problem lies at or under a place, or at one that it is under."""
    return problem.place[: len(at)] == at[: len(problem.place)]


def _all_problems(report: Report, course: Course, ids: Ids) -> list[Problem]:
    """The file's own problems, and those of the course as far as it can be judged."""
    noted = {problem.place for problem in report.problems}
    problems = list(report.problems)
    if ("course", "start") not in noted and ("course",) not in noted:
        problems += date_problems(course)
    problems += structure_problems(course, ids)
    if not report.has("client", "day"):
        problems += same_time_problems(course)
    if not any(problem.place[:1] == ("remedy",) for problem in problems):
        problems += unit_problems(course)
    if not any(map(_touches_layout, problems)):
        problems += layout_problems(course)
    kept = [
        p for p in problems[len(report.problems) :] if not noted.intersection(_way_to(p.place))
    ]
    return report.problems + kept


def _touches_layout(problem: Problem) -> bool:
    """Whether it keeps phases and revisions from being laid out; directions alone do not."""
    place = problem.place
    is_apart = place[:2] in (
        ("protocol", "aims"),
        ("course", "accept"),
        ("course", "discussed"),
    ) or place[-1:] == ("take",)
    return place[:1] in (("protocol",), ("course",)) and not is_apart


def _way_to(place: Place) -> Iterator[Place]:
    return (place[: n + 1] for n in range(len(place)))


def _in_file_order(problems: list[Problem], document: dict[str, Any]) -> tuple[Problem, ...]:
    """The problems as their places follow each other in the file; what is missing goes first."""
    order: dict[Place, int] = {}
    deepest = max((len(problem.place) for problem in problems), default=0)

    def walk(value: object, place: Place) -> None:
        order[place] = len(order)
        if len(place) == deepest:
            return  # tables may be nested as deep as a file likes
        if isinstance(value, dict):
            for key, inner in value.items():
                walk(inner, (*place, key))
        elif isinstance(value, list):
            for n, inner in enumerate(value):
                walk(inner, (*place, n))

    def position(problem: Problem) -> int:
        place = problem.place
        while place not in order:
            place = place[:-1]
        return order[place]

    walk(document, ())
    return tuple(sorted(problems, key=position))
