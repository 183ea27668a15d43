"""What the window does once it is there is done a step a turn, and everything in between."""

from __future__ import annotations

import sys

from PySide6.QtCore import QObject, QTimer
from pytestqt.qtbot import QtBot

from sennight.desktop.shell.later import Later, module_steps


def test_steps_are_done_one_a_turn_so_that_others_have_theirs(qtbot: QtBot) -> None:
    done: list[str] = []
    timer = QTimer()
    timer.timeout.connect(lambda: done.append("other"))
    timer.start(0)
    steps = [lambda n=n: done.append(str(n)) for n in range(3)]
    parent = QObject()
    later = Later(parent, steps)
    later.start(0)
    qtbot.waitUntil(lambda: "2" in done)
    timer.stop()
    numbers = [step for step in done if step != "other"]
    assert numbers == ["0", "1", "2"]
    assert "other" in done[done.index("0") : done.index("2")]
    before = len(done)
    qtbot.wait(20)
    assert len(done) == before, "nothing is done after the last"


def test_the_pages_that_may_be_gone_to_are_among_the_steps() -> None:
    for step in module_steps():
        step()
    for page in ("clients.folder_page", "course.page", "remedies.page", "dispensary.work"):
        assert f"sennight.desktop.{page}" in sys.modules
