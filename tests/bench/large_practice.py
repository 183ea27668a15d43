"""Makes a large practice of invented people, and measures what the window asks of it.

    python -m bench.large_practice FILE                      (in the folder tests)
    python -m bench.large_practice FILE --clients 500 --courses 1000 --marks 500000
    python -m bench.large_practice FILE --measure            an existing one

Formulas, facts and decisions are those of the demo's courses, which are real; each course has its
own copy of them, as in a practice where every course is adapted.
"""

from __future__ import annotations

import argparse
import gc
import itertools
import random
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from sennight.collecting import keep_what_is_there
from sennight.desktop.clients.choosing import Order, in_order
from sennight.desktop.kit.matching import matching
from sennight.desktop.shell.find import matching_things
from sennight.desktop.shell.find_index import FindIndex, everything
from sennight.domain.courses.clients import Client
from sennight.domain.courses.courses import Course
from sennight.practice.bench import bench
from sennight.practice.client_list import list_client_standings, trends
from sennight.practice.clients import (
    ClientTitle,
    change_client,
    client_entry,
    list_client_titles,
)
from sennight.practice.courses import course_entry, list_courses_of, save_course
from sennight.practice.demo import read_demo
from sennight.practice.diaries import diary
from sennight.practice.opening import OpenPractice, open_practice
from sennight.practice.standings import catch_up
from sennight.store.connecting import raw_connection
from sennight.store.courses import Save
from sennight.store.entries import ClientEntry

TODAY = date(2026, 11, 28)
NOW = datetime(2026, 11, 28, 9, tzinfo=UTC)
FIRST = ("Ada", "Bram", "Cleo", "Dov", "Efua", "Finn", "Greta", "Hari", "Ines", "Jun")
LAST = ("Alder", "Birch", "Cane", "Dale", "Elm", "Fern", "Gorse", "Heath", "Ivy", "Juniper")
ROWS_IN_VIEW = 32
UNENTERED = 40
"""Up to so many days the diaries were not entered for."""
LETTERS = ("z", "zz", "efua", "win")
"""What is typed into the find field; the figures are for all four together."""

Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Size:
    """How large a practice is."""

    clients: int
    courses: int
    marks: int


SMALL, LARGE = Size(50, 100, 5_000), Size(5_000, 10_000, 5_000_000)


def make(path: Path, size: Size, *, seed: int = 1) -> None:
    """A new practice of this size; the same seed gives the same one, but for its ids' order."""
    draw = random.Random(seed)  # noqa: S311 - a practice to measure, not secrets
    demo = [client.file.course for client in read_demo(TODAY).clients]
    ids = [f"{n:032x}" for n in range(size.clients)]
    with open_practice(path, clock=lambda: NOW) as practice:
        for block in _blocks(ids):
            with practice.file.writing() as unit:
                for client_id in block:
                    client = _client(draw, demo[draw.randrange(len(demo))].client, client_id)
                    unit.clients.save(client, saved=NOW)
        courses = [f"{n:032x}" for n in range(size.courses)]
        for block in _blocks(courses):
            _add_courses(practice, draw, demo, block, ids)
    _add_marks(path, size)
    with open_practice(path, clock=lambda: NOW) as practice:
        while catch_up(practice, most=200):
            pass


def _blocks(ids: list[str]) -> Iterator[list[str]]:
    for n in range(0, len(ids), 500):
        yield ids[n : n + 500]


def _client(draw: random.Random, like: Client, client_id: str) -> ClientEntry:
    name = f"{draw.choice(FIRST)} {draw.choice(LAST)} {int(client_id, 16)}"
    born = date(1940, 1, 1) + timedelta(days=draw.randrange(25_000))
    return ClientEntry(client_id, replace(like, name=name, born=born), note="Prefers mornings.")


def _add_courses(
    practice: OpenPractice,
    draw: random.Random,
    demo: list[Course],
    courses: list[str],
    clients: list[str],
) -> None:
    with practice.file.writing() as unit:
        for course_id in courses:
            number = int(course_id, 16)
            client_id = clients[number % len(clients)]
            like = demo[number % len(demo)]
            name = f"{like.protocol.name} {number}"
            started = replace(
                like,
                id=course_id,
                client=unit.clients.get(client_id).client,
                protocol=replace(like.protocol, name=name),
                revisions=(),
            )
            save = Save(client_id, unit.clients.version_id(client_id), NOW)
            unit.courses.add(started, save=save)
            for count in range(draw.randrange(4)):
                decided = replace(started, revisions=like.revisions[: count + 1])
                if len(decided.revisions) > count:
                    unit.courses.add_version(decided, known=count, save=save)


def _add_marks(path: Path, size: Size) -> None:
    """Marks week by week, three remedies a day, straight into the tables."""
    a_course = size.marks // size.courses
    with closing(raw_connection(path)) as connection:
        connection.execute("BEGIN")
        courses = [row[0] for row in connection.execute("SELECT id FROM course ORDER BY id")]
        saving = 0
        for place, course_id in enumerate(courses):
            lines = [place * 3 + n + 1 for n in range(3)]
            remedies = [(line, course_id, f"remedy-{n}") for n, line in enumerate(lines)]
            connection.executemany("INSERT INTO diary_line VALUES (?, ?, ?)", remedies)
            weeks = -(-a_course // 21)
            times = [
                (saving + n + 1, NOW.isoformat(timespec="microseconds")) for n in range(weeks)
            ]
            connection.executemany("INSERT INTO diary_saving VALUES (?, ?)", times)
            first = TODAY.toordinal() - a_course // 3 - place % UNENTERED
            marks = (
                (lines[n % 3], first + n // 3, saving + n // 21 + 1, n % 4)
                for n in range(a_course)
            )
            connection.executemany(
                "INSERT INTO diary_entry (line_id, day, saving_id, doses) VALUES (?, ?, ?, ?)",
                marks,
            )
            saving += weeks
        connection.execute("UPDATE course_standing SET read_as = 0")
        connection.execute("COMMIT")


# Measuring


@dataclass(frozen=True, slots=True)
class Spent:
    """Milliseconds that some work took, run after run."""

    runs: tuple[float, ...]

    def part(self, percent: int) -> float:
        """So many percent of the runs took no longer."""
        ordered = sorted(self.runs)
        return ordered[min(len(ordered) - 1, len(ordered) * percent // 100)]

    def __str__(self) -> str:
        return (
            f"p50 {self.part(50):8.1f}  p95 {self.part(95):8.1f}  p99 {self.part(99):8.1f} ms"
            f"  ({len(self.runs)} runs)"
        )


def spent_on(
    work: Callable[[], object],
    runs: int,
    clock: Clock,
    before: Callable[[], object] = lambda: None,
) -> Spent:
    """How long some work took, without what is done before it: the processor's or another time."""
    found = []
    for _ in range(runs):
        before()
        begin = clock()
        work()
        found.append((clock() - begin) * 1000)
    return Spent(tuple(found))


def clients_list(practice: OpenPractice) -> None:
    """What the list of clients reads: what is due of all, courses and scores of those in view."""
    clients = in_order(list_client_standings(practice, TODAY), Order.NEXT, TODAY)
    in_view = clients[:ROWS_IN_VIEW]
    list_courses_of(practice, [client.id for client in in_view])
    trends(practice, [client.course for client in in_view if client.course])


def names_alone(path: Path) -> None:
    """The least that a list can read: names by SQLite itself."""
    with closing(raw_connection(path)) as connection:
        connection.execute(
            "SELECT c.id, v.name FROM client c JOIN client_version v "
            "ON v.client_id = c.id AND v.version = c.version"
        ).fetchall()
        connection.execute(
            "SELECT c.id, v.protocol_name, v.start FROM course c JOIN course_version v "
            "ON v.course_id = c.id AND v.version = c.version"
        ).fetchall()


def measure(path: Path, runs: int, clock: Clock = time.process_time) -> dict[str, Spent]:
    """What opening, listing, finding, reading and saving take."""

    def spent(work: Callable[[], object], runs: int) -> Spent:
        return spent_on(work, runs, clock)

    took = {"open and close": spent(lambda: open_practice(path).close(), max(3, runs // 10))}
    before = gc.get_threshold()
    with open_practice(path, clock=lambda: NOW) as practice:
        practice.file.check_pages()
        keep_what_is_there()  # as the window does once it stands
        took["names by SQLite alone"] = spent(lambda: names_alone(path), runs)
        took["clients list"] = spent(lambda: clients_list(practice), runs)
        titles = list_client_titles(practice)
        took["Bench"] = spent(lambda: bench(practice, TODAY), runs)
        took["narrow the list"] = spent(lambda: narrowed(titles), runs)
        took["find: read anew"] = spent(lambda: everything(practice), runs)
        index = FindIndex(practice)
        index()
        save = _saving(practice, _ids(path)[:1])
        took["find: after a save"] = spent_on(index, runs, clock, before=save)
        renew = _saving_client(practice)
        took["find: after a client's"] = spent_on(index, runs, clock, before=renew)
        things = everything(practice)
        took["find: a letter"] = spent(
            lambda: [matching_things(things, text) for text in LETTERS], runs
        )
        took |= _courses(practice, path, spent, runs)
        gc.unfreeze()
        gc.set_threshold(*before)
    return took


def _courses(
    practice: OpenPractice,
    path: Path,
    spent: Callable[[Callable[[], object], int], Spent],
    runs: int,
) -> dict[str, Spent]:
    ids = _ids(path)
    turn = itertools.cycle(ids)
    return {
        "read a course": spent(lambda: course_entry(practice, next(turn)), runs),
        "read a diary": spent(lambda: diary(practice, next(turn)), runs),
        "save an edit": spent(_saving(practice, ids), runs),
    }


def narrowed(titles: tuple[ClientTitle, ...]) -> list[ClientTitle]:
    """The clients that a few letters leave."""
    return list(matching("ef ivy", titles, lambda title: title.name))


def _ids(path: Path) -> list[str]:
    """The ids of some courses."""
    with closing(raw_connection(path)) as connection:
        rows = connection.execute("SELECT id FROM course ORDER BY id LIMIT 50").fetchall()
    return [row[0] for row in rows]


def _saving(practice: OpenPractice, ids: list[str]) -> Callable[[], object]:
    entries = {course_id: course_entry(practice, course_id) for course_id in ids}
    turn = itertools.cycle(ids)

    def save() -> None:
        entry = entries[next(turn)]
        until = entry.course.start + timedelta(days=500 + entry.version)
        changed = replace(entry.course, until=until)
        entries[entry.id] = save_course(practice, entry, changed, now=NOW)

    return save


def _saving_client(practice: OpenPractice) -> Callable[[], object]:
    """Saves one client's record, each time under another name."""
    client_id = list_client_titles(practice)[0].id
    numbers = itertools.count()

    def save() -> None:
        entry = client_entry(practice, client_id)
        renamed = replace(entry.client, name=f"Ada Example {next(numbers)}")
        change_client(practice, replace(entry, client=renamed))

    return save


def main(arguments: list[str]) -> int:
    """Make a practice, or measure one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--clients", type=int, default=LARGE.clients)
    parser.add_argument("--courses", type=int, default=LARGE.courses)
    parser.add_argument("--marks", type=int, default=LARGE.marks)
    parser.add_argument("--measure", action="store_true", help="measure an existing practice")
    parser.add_argument("--runs", type=int, default=100)
    parser.add_argument(
        "--wall", action="store_true", help="by the wall's clock, not the processor's"
    )
    given = parser.parse_args(arguments)
    if not given.measure:
        begin = time.perf_counter()
        make(given.file, Size(given.clients, given.courses, given.marks))
        print(f"made in {time.perf_counter() - begin:.0f} s")
    clock = time.perf_counter if given.wall else time.process_time
    print(f"{given.file.stat().st_size / 1e6:.1f} MB")
    for name, took in measure(given.file, given.runs, clock).items():
        print(f"{name:24}{took}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
