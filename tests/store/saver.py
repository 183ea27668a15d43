"""A process that saves a course and may be killed while it does: for `test_killed`.

Each save moves a course from a state of n revisions to one of n + 1, with n + 1 accepts, another
last day and another protocol name, so that half a save would show in any of its tables.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from itertools import count
from pathlib import Path

from sqlalchemy import Engine, event

from sennight.domain.courses.accepts import Accept
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course, Pause, PauseMode
from sennight.domain.courses.protocols import Line, Phase, Protocol
from sennight.domain.dates import CalendarUnit, Length
from sennight.domain.directions.parser import parse_directions
from sennight.domain.remedies.forms import Form
from sennight.domain.remedies.remedies import Ingredient, Remedy
from sennight.practice.backups import back_up, restore_backup
from sennight.practice.courses import course_entry, save_course
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.papers import (
    About,
    NameParts,
    Paper,
    PaperKind,
    give_papers,
    next_number,
)
from sennight.practice.writing import write_files

NOW = datetime(2027, 1, 4, 9, 30, tzinfo=UTC)
START = date(2027, 1, 4)
COURSE_ID = "c0ffee"
CLIENT = Client("Una Example")
REMEDY = Remedy("t1", "Nettle", Form.TEA, (Ingredient("nettle-leaf"),))
PHASE = Phase(
    "one", "one", Length(52, CalendarUnit.WEEKS), (Line("t1", parse_directions("1 cup tds")),)
)


def state(number: int) -> Course:
    """The course after so many saves."""
    days = [START + timedelta(days=n + 1) for n in range(number)]
    return Course(
        id=COURSE_ID,
        client=CLIENT,
        remedies=(REMEDY,),
        protocol=Protocol(f"saved {number} times", (PHASE,)),
        start=START,
        until=date(2027, 12, 1) + timedelta(days=number),
        revisions=tuple(Pause(on=START, first=d, last=d, mode=PauseMode.SKIP) for d in days),
        accepts=tuple(Accept(f"finding of {d}", "x") for d in days),
    )


def save_for_ever(path: Path, started: Callable[[], None]) -> None:
    """Save until killed."""
    practice = open_practice(path)
    entry = course_entry(practice, COURSE_ID)
    started()
    while True:
        entry = save_course(practice, entry, state(entry.version), now=NOW)


def back_up_for_ever(path: Path, stick: Path, started: Callable[[], None]) -> None:
    """Save and back up, to a second folder too, until killed."""
    moments = count()
    practice = open_practice(path, clock=lambda: NOW + timedelta(hours=next(moments)))
    entry = course_entry(practice, COURSE_ID)
    started()
    while True:
        entry = save_course(practice, entry, state(entry.version), now=NOW)
        back_up(practice, stick)


def restore_for_ever(path: Path, backup: Path, started: Callable[[], None]) -> None:
    """Put a backup in the place of the file, again and again, until killed."""
    started()
    for seconds in count():
        restore_backup(path, backup, now=NOW + timedelta(seconds=seconds))


PAPERS = (PaperKind.HANDOUT, PaperKind.REMINDERS, PaperKind.REFERRAL)


def papers_of(number: int) -> tuple[Paper, ...]:
    """Three papers of one giving, whose bytes tell of which."""
    return tuple(Paper(kind, f"{kind.value} {number} ".encode() * 4000) for kind in PAPERS)


def _give(practice: OpenPractice, client_id: str, out: Path) -> None:
    about = About(client_id, NameParts(CLIENT.name))
    papers = papers_of(next_number(practice))
    give_papers(practice, about, papers, out, now=NOW, today=START)


def give_for_ever(path: Path, client_id: str, out: Path, started: Callable[[], None]) -> None:
    """Give papers until killed."""
    practice = open_practice(path)
    started()
    while True:
        _give(practice, client_id, out)


def give_and_die(path: Path, client_id: str, out: Path, at: int) -> None:
    """Give papers once and be killed at the so-manieth thing that the disk is asked for.

    Each file written, each name given or removed, each folder settled, and COMMIT. Leaves with
    status 0 where there are fewer.
    """
    practice, seen = open_practice(path), count(1)

    def counted(*_: object) -> None:
        if next(seen) == at:
            os.kill(os.getpid(), signal.SIGKILL)

    def watch(owner: object, name: str) -> None:
        do = getattr(owner, name)

        def watched(*args: object, **more: object) -> object:
            counted()
            return do(*args, **more)

        setattr(owner, name, watched)

    for owner, name in ((os, "fsync"), (Path, "replace"), (Path, "unlink"), (Path, "open")):
        watch(owner, name)
    event.listen(Engine, "commit", counted)
    _give(practice, client_id, out)
    os._exit(0)


def write_for_ever(out: Path, started: Callable[[], None]) -> None:
    """Write a set of files over the one before until killed, as a course file's run does."""
    started()
    for number in count():
        write_files(out, {f"{n}.csv": f"{number}".encode() * 9000 for n in range(11)})


def save_and_die(path: Path, at: int) -> None:
    """Save once and be killed at its so-manieth event.

    Before and after each statement that writes (BEGIN among them) lies an event; the last two
    are before and after COMMIT. Leaves with status 0 where the save has fewer events.
    """
    practice = open_practice(path)
    entry = course_entry(practice, COURSE_ID)
    seen = 0

    def counted() -> None:
        nonlocal seen
        seen += 1
        if seen == at:
            os.kill(os.getpid(), signal.SIGKILL)

    def count_write(_connection: object, _cursor: object, statement: str, *_: object) -> None:
        if not statement.startswith("SELECT"):
            counted()

    event.listen(Engine, "before_cursor_execute", count_write)
    event.listen(Engine, "after_cursor_execute", count_write)
    event.listen(Engine, "commit", lambda _: counted())
    save_course(practice, entry, state(entry.version), now=NOW)
    counted()
    os._exit(0)
