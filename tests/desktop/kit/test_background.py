"""Work on another thread: its result comes, and a fault in it is told in the window's own."""

from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import QThreadPool
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.background import BrokenOffError, Job, JobSignals


class PdfiumLikeError(Exception):
    """What a library raises that no caller names."""


def wrong() -> object:
    raise ValueError("no paper is that small")


def broken() -> object:
    raise PdfiumLikeError


@pytest.mark.parametrize(
    ("work", "kind"), [(dict, dict), (wrong, ValueError), (broken, BrokenOffError)]
)
def test_whoever_waits_is_told_and_faults_are_raised_where_they_can_be_shown(
    qtbot: QtBot, work: type | object, kind: type
) -> None:
    signals, pool = JobSignals(), QThreadPool()
    came: list[tuple[int, object]] = []
    signals.done.connect(lambda number, result: came.append((number, result)))
    threads: list[threading.Thread] = []
    signals.failed.connect(lambda _: threads.append(threading.current_thread()))
    assert callable(work)
    with qtbot.captureExceptions() as raised:
        pool.start(Job(7, work, signals))
        qtbot.waitUntil(lambda: bool(came))
    ((number, result),) = came
    assert number == 7
    assert type(result) is kind
    assert [kind for kind, _, _ in raised] == ([PdfiumLikeError] if work is broken else [])
    assert threads == ([threading.main_thread()] if work is broken else [])
