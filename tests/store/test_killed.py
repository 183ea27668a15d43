"""A program killed in the middle of a save leaves the old or the new state, whole."""

from __future__ import annotations

import multiprocessing
import random
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from multiprocessing.context import ForkServerContext
from multiprocessing.process import BaseProcess
from pathlib import Path

import pytest

from sennight.practice.backups import back_up, backups_of, contents_of
from sennight.practice.clients import add_client, list_clients
from sennight.practice.courses import add_course, course_entry, course_history, save_course
from sennight.practice.opening import open_practice
from sennight.practice.papers import list_given, paper_content
from sennight.practice.work_folder import work_folder
from sennight.practice.writing import settle, write_files
from sennight.store.backups import complaints
from sennight.store.connecting import raw_connection
from store.saver import (
    CLIENT,
    COURSE_ID,
    NOW,
    back_up_for_ever,
    give_and_die,
    give_for_ever,
    papers_of,
    restore_for_ever,
    save_and_die,
    save_for_ever,
    state,
    write_for_ever,
)
from support.draws import draws

FORCED, RANDOM, BACKUPS, RESTORES = 25, 25, 10, 10
"""Kills at every statement of a save, at any moment of saves, of backups, and of restoring."""
STEPS, GIVEN, WRITTEN = 30, draws(8, long=200), draws(8, long=300)
"""Kills at every step of giving papers, at any moment of it, and of writing files over others."""

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="needs SIGKILL and a server that forks"
)


@pytest.fixture(scope="module")
def context() -> ForkServerContext:
    """A clean process that forks the ones to be killed, with the program already imported."""
    server = multiprocessing.get_context("forkserver")
    server.set_forkserver_preload(
        ["__main__", "sennight.practice.courses", "sennight.practice.papers"]
    )
    return server


@pytest.fixture
def saved(path: Path) -> Iterator[Path]:
    with open_practice(path) as practice:
        client = add_client(practice, CLIENT)
        add_course(practice, client, state(0), now=NOW)
    yield path
    whole(path)


def whole(path: Path) -> int:
    """How many saves the file holds, all of them found whole."""
    with closing(raw_connection(path)) as connection:
        assert complaints(connection, "integrity_check") == ""
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    with open_practice(path) as practice:
        entry = course_entry(practice, COURSE_ID)
        number = len(entry.course.revisions)
        assert entry.course == state(number)
        assert entry.version == number + 1
        versions = course_history(practice, COURSE_ID)
        assert [one.course for one in versions] == [state(n) for n in range(number + 1)]
    return number


def status(process: BaseProcess) -> int | None:
    process.join(timeout=60)
    code = process.exitcode
    process.close()
    return code


def test_killed_at_every_statement_of_a_save(context: ForkServerContext, saved: Path) -> None:
    """Up to COMMIT each kill leaves the old state, after it the new one."""
    found, before = [], 0
    for at in range(1, FORCED + 1):
        process = context.Process(target=save_and_die, args=(saved, at))
        process.start()
        assert status(process) in (0, -9)
        now = whole(saved)
        assert now - before in (0, 1)
        found.append(now - before)
        before = now
    assert found[:3] == [0, 0, 0], "killed at BEGIN, nothing can be saved"
    assert 1 in found, f"a save has more than {FORCED} events: raise FORCED"


def test_killed_at_any_moment_of_many_saves(context: ForkServerContext, saved: Path) -> None:
    moments = random.Random(9)  # noqa: S311 - moments, not secrets
    before = 0
    for _ in range(RANDOM):
        started = context.Event()
        process = context.Process(target=save_for_ever, args=(saved, started.set))
        process.start()
        assert started.wait(timeout=60)
        time.sleep(moments.random() * 0.05)
        process.kill()
        assert status(process) == -9
        now = whole(saved)
        assert now >= before
        before = now


def killed_within(
    context: ForkServerContext, seconds: float, target: Callable[..., None], *args: object
) -> None:
    started = context.Event()
    process = context.Process(target=target, args=(*args, started.set))
    process.start()
    assert started.wait(timeout=60)
    time.sleep(seconds)
    process.kill()
    assert status(process) == -9


def test_killed_at_any_moment_of_backups(
    context: ForkServerContext, saved: Path, tmp_path: Path
) -> None:
    """What has a backup's name is whole in both folders; what has not is swept."""
    moments, stick = random.Random(10), tmp_path / "stick"  # noqa: S311 - moments
    for _ in range(BACKUPS):
        killed_within(context, moments.random() * 0.1, back_up_for_ever, saved, stick)
        now = whole(saved)
        for backup in backups_of(saved, stick):
            found = contents_of(backup.path, thoroughly=True)
            assert (found.trouble, found.damaged_courses) == ("", ())
            assert found.courses == 1
        with open_practice(saved, clock=lambda: NOW) as practice:
            assert back_up(practice, stick).trouble == ""
        assert not list(tmp_path.rglob("*.part"))
        assert whole(saved) == now


def test_killed_at_any_moment_of_restoring(
    context: ForkServerContext, saved: Path, tmp_path: Path
) -> None:
    """Under the file's name is the file as it was or the backup; the newer one is never lost."""
    moments = random.Random(11)  # noqa: S311 - moments
    with open_practice(saved, clock=lambda: NOW) as practice:
        backup = practice.file.back_up()
        entry = course_entry(practice, COURSE_ID)
        save_course(practice, entry, state(1), now=NOW)
    for _ in range(RESTORES):
        killed_within(context, moments.random() * 0.05, restore_for_ever, saved, backup)
        assert whole(saved) in (0, 1)
        asides = [saved, *tmp_path.glob("* set aside.sennight")]
        assert 1 in {whole(one) for one in asides}


def given_whole(path: Path, client_id: str, out: Path) -> tuple[int, int]:
    """How many givings are on record, and how many files there are: whole sets, nothing hidden."""
    with open_practice(path) as practice:
        found: dict[int, dict[str, bytes]] = {}
        for paper in list_given(practice, client_id):
            content = paper_content(practice, paper.id)
            found.setdefault(paper.number, {})[paper.name] = content
    for number, files in found.items():
        assert list(files.values()) == [paper.content for paper in papers_of(number)]
    there = {entry.name: entry.read_bytes() for entry in out.iterdir()} if out.is_dir() else {}
    written = [files for files in found.values() if files.keys() & there.keys()]
    assert there == {name: data for files in written for name, data in files.items()}
    assert not work_folder(path).exists()
    return len(found), len(there)


def test_killed_at_every_step_of_giving(
    context: ForkServerContext, saved: Path, tmp_path: Path
) -> None:
    """All papers of a giving are there or none, and none that is not on record."""
    out, before, outcomes = tmp_path / "out", (0, 0), set()
    with open_practice(saved) as practice:
        client_id = list_clients(practice)[0].id
    for at in range(1, STEPS + 1):
        process = context.Process(target=give_and_die, args=(saved, client_id, out, at))
        process.start()
        code = status(process)
        now = given_whole(saved, client_id, out)
        outcomes.add((code, now[0] - before[0], now[1] - before[1]))
        before = now
        if code == 0:
            break
    # Killed before it was kept; kept and not yet being named; being named, which is ended.
    assert {(-9, 0, 0), (-9, 1, 0), (-9, 1, 3)} <= outcomes
    assert (0, 1, 3) in outcomes, f"giving has more than {STEPS} steps: raise STEPS"
    assert len(outcomes) == 4


def test_killed_at_any_moment_of_giving(
    context: ForkServerContext, saved: Path, tmp_path: Path
) -> None:
    moments, out = random.Random(12), tmp_path / "out"  # noqa: S311 - moments
    with open_practice(saved) as practice:
        client_id = list_clients(practice)[0].id
    for _ in range(GIVEN):
        killed_within(context, moments.random() * 0.1, give_for_ever, saved, client_id, out)
        given_whole(saved, client_id, out)


def test_killed_at_any_moment_of_writing_files_over_others(
    context: ForkServerContext, tmp_path: Path
) -> None:
    """Old or new, all of them, as soon as the folder is settled; nothing hidden is left."""
    moments, out = random.Random(13), tmp_path / "out"  # noqa: S311 - moments
    write_files(out, {f"{n}.csv": b"first" for n in range(11)})
    for _ in range(WRITTEN):
        killed_within(context, moments.random() * 0.05, write_for_ever, out)
        settle(out)
        assert sorted(entry.name for entry in out.iterdir()) == sorted(
            f"{n}.csv" for n in range(11)
        )
        assert len({entry.read_bytes() for entry in out.iterdir()}) == 1
