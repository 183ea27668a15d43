"""The demo practice: everybody in it is invented, and its courses stand where they should today.

    build_demo(Path("demo.sennight"), date.today())          # a practice file full of it
    write_demo(Path("demo-output"), today=date.today())      # its first course's papers

The demo's files are written for one week; all their dates are moved by whole weeks to this one,
so that weekdays stay what they are.
"""

from __future__ import annotations

import shutil
import time as clock
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, fields, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir
from typing import Any, TypeVar

from sennight.domain.courses.clients import Client, Fact
from sennight.domain.courses.courses import Course, Revised
from sennight.domain.follow_up.consultations import (
    Appointment,
    Consultation,
    ConsultationKind,
    written_parts,
)
from sennight.domain.follow_up.diaries import DayNote, Followed, Score, Taken
from sennight.domain.papers import initials
from sennight.domain.practices import PracticeCard
from sennight.places import own_folder
from sennight.practice.card import change_practice_card
from sennight.practice.clients import add_client
from sennight.practice.consultations import add_consultation
from sennight.practice.course_outputs import (
    RunChoices,
)
from sennight.practice.course_run import (
    CourseRun,
    RunError,
    write_course,
)
from sennight.practice.courses import add_course, course_entry, save_course
from sennight.practice.demo_file import FILE, FOLDER_PREFIX
from sennight.practice.demo_hand_overs import (
    MORNING,
    DemoDelivery,
    DemoHandOver,
    add_deliveries,
    add_handed,
    read_deliveries,
    read_handed,
)
from sennight.practice.diaries import enter_scores, enter_whole_diary
from sennight.practice.materia_medica import herb_finder
from sennight.practice.opening import OpenPractice, PracticeFileError, open_practice
from sennight.practice.protocols import add_protocol
from sennight.practice.writing import FolderError, write_files
from sennight.publish.course_file.reader import CourseFile, course_id, read_course_file
from sennight.publish.course_file.writer import course_toml
from sennight.store.locks import FileLock

Dated = TypeVar("Dated", bound=Course | Revised | Fact | Taken | Followed | Score | DayNote)

COURSE_FILE = "course.toml"
_HOUR = 3600
"""Seconds; a folder that is younger may be one that is being filled."""


@dataclass(frozen=True, slots=True)
class DemoClient:
    """An invented client with a course, and whether its protocol stands on the shelf as well.

    `handed` is what was handed over for the course.
    """

    file: CourseFile
    contact: str
    note: str
    shelf: bool
    consultations: tuple[Consultation, ...] = ()
    handed: tuple[DemoHandOver, ...] = ()


@dataclass(frozen=True, slots=True)
class Demo:
    """The demo practice, its dates moved to a given week."""

    card: PracticeCard
    clients: tuple[DemoClient, ...]
    deliveries: tuple[DemoDelivery, ...] = ()


def read_demo(today: date) -> Demo:
    """The demo as it stands in the week of `today`."""
    folder = own_folder("resources") / "demo"
    listed = tomllib.loads((folder / "practice.toml").read_text(encoding="utf-8"))
    weeks = (today - listed["monday"]).days // 7
    return Demo(
        card=_card(listed["card"]),
        clients=tuple(_client(entry, folder, weeks) for entry in listed["client"]),
        deliveries=read_deliveries(listed["delivery"], timedelta(weeks=weeks)),
    )


def build_demo(path: Path, today: date) -> None:
    """Fill a practice file with the demo; raises PracticeFileError."""
    demo = read_demo(today)
    with open_practice(path, clock=lambda: _morning(today)) as practice:
        change_practice_card(practice, demo.card)
        remedies = {
            remedy.id: remedy for client in demo.clients for remedy in client.file.course.remedies
        }
        add_deliveries(practice, demo.deliveries, remedies)
        for client in demo.clients:
            _add(practice, client, demo.card.practitioner)


@contextmanager
def throw_away_demo(today: date) -> Iterator[Path]:
    """A practice file full of the demo, in a folder that is gone after the block.

    Folders of demos that were killed go as well.
    """
    _sweep()
    with TemporaryDirectory(prefix=FOLDER_PREFIX, ignore_cleanup_errors=True) as folder:
        path = Path(folder) / FILE
        build_demo(path, today)
        yield path


def _sweep() -> None:
    """Remove the folders of earlier demos whose file nobody has open any more."""
    for folder in Path(gettempdir()).glob(f"{FOLDER_PREFIX}*"):
        with suppress(OSError, PracticeFileError):
            if clock.time() - folder.stat().st_mtime > _HOUR:
                FileLock(folder / FILE).release()
                shutil.rmtree(folder)


def write_demo(folder: Path, *, today: date) -> CourseRun:
    """Write the first client's course file and all that follows from it; raises RunError."""
    demo = read_demo(today)
    file = demo.clients[0].file
    text = course_toml(file.course, file.reported, measures=file.measures)
    try:
        (course,) = write_files(folder, {COURSE_FILE: text.encode()})
    except FolderError as error:
        raise RunError(str(error)) from error
    run = write_course(course, folder, RunChoices(today, card=demo.card))
    return replace(run, written=(course, *run.written))


def _add(practice: OpenPractice, demo: DemoClient, practitioner: str) -> None:
    """Add a client, and the course as it came about: started first, each decision on its day.

    What was handed over comes last, made and given by the practitioner.
    """
    course = demo.file.course
    client_id = add_client(practice, course.client, contact=demo.contact, note=demo.note)
    started = replace(course, revisions=())
    course_id = add_course(practice, client_id, started, now=_morning(course.start))
    for n, revision in enumerate(course.revisions, start=1):
        revised = replace(course, revisions=course.revisions[:n])
        entry = course_entry(practice, course_id)
        save_course(practice, entry, revised, now=_morning(revision.on))
    for consultation in demo.consultations:
        add_consultation(practice, client_id, consultation)
    enter_whole_diary(practice, course_id, replace(demo.file.reported, scores=()))
    enter_scores(practice, course_id, demo.file.scores, own=demo.file.measures.own)
    saved = course_entry(practice, course_id).course
    add_handed(practice, saved, demo.handed, "".join(initials(practitioner)))
    if demo.shelf:
        add_protocol(practice, course.protocol, remedies=course.remedies)


def _morning(day: date) -> datetime:
    return datetime.combine(day, MORNING, UTC)


def _card(entry: dict[str, Any]) -> PracticeCard:
    return PracticeCard(**entry | {"address": tuple(entry["address"])})


def _client(entry: dict[str, Any], folder: Path, weeks: int) -> DemoClient:
    file = read_course_file(folder / entry["file"], herb_finder())
    by = timedelta(weeks=weeks)
    return DemoClient(
        file=_moved(file, by),
        contact=entry["contact"],
        note=entry["note"],
        shelf=entry.get("shelf", False),
        handed=read_handed(entry.get("handed", ()), by),
        consultations=tuple(_consultation(told, by) for told in entry.get("consultation", ())),
    )


def _consultation(entry: dict[str, Any], by: timedelta) -> Consultation:
    after = Appointment(entry["next"] + by, entry.get("at")) if "next" in entry else None
    return Consultation(
        entry["day"] + by,
        ConsultationKind(entry["kind"]),
        written_parts(tuple(entry["written"].items())),
        entry.get("minutes"),
        after,
    )


def _moved(file: CourseFile, by: timedelta) -> CourseFile:
    """The same course and diary, so much later; the client is as old as before."""
    client, start = file.course.client, file.course.start + by
    course = replace(
        _later(file.course, by),
        id=course_id(client.name, file.course.protocol.name, start),
        client=_moved_client(client, by),
        revisions=tuple(_later(revision, by) for revision in file.course.revisions),
    )
    return CourseFile(
        course=course,
        diary=tuple(_later(taken, by) for taken in file.diary),
        scores=tuple(_later(score, by) for score in file.scores),
        followed=tuple(_later(entry, by) for entry in file.followed),
        measures=file.measures,
        notes=tuple(_later(note, by) for note in file.notes),
    )


def _moved_client(client: Client, by: timedelta) -> Client:
    return replace(
        client,
        conditions=tuple(_later(fact, by) for fact in client.conditions),
        medicines=tuple(_later(fact, by) for fact in client.medicines),
        allergies=tuple(_later(fact, by) for fact in client.allergies),
    )


def _later(dated: Dated, by: timedelta) -> Dated:
    """The same with its own dates moved, not those of what it holds."""
    values = ((field.name, getattr(dated, field.name)) for field in fields(dated))
    dates: dict[str, Any] = {name: day + by for name, day in values if isinstance(day, date)}
    return replace(dated, **dates)
