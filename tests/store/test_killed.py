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
from sennight.practice.clients import add_client
from sennight.practice.courses import add_course, course_entry, course_history, save_course
from sennight.practice.opening import open_practice
from sennight.store.backups import complaints
from sennight.store.connecting import raw_connection
from store.saver import (
    CLIENT,
    COURSE_ID,
    NOW,
    back_up_for_ever,
    restore_for_ever,
    save_and_die,
    save_for_ever,
    state,
)

FORCED, RANDOM, BACKUPS, RESTORES = 25, 25, 10, 10
"""Kills at every statement of a save, at any moment of saves, of backups, and of restoring."""

pytestmark = pytest.mark.skipif(
    sys.platform == "win32", reason="needs SIGKILL and a server that forks"
)


@pytest.fixture(scope="module")
def context() -> ForkServerContext:
    """A clean process that forks the ones to be killed, with the program already imported."""
    server = multiprocessing.get_context("forkserver")
    server.set_forkserver_preload(["__main__", "sennight.practice.courses"])
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
