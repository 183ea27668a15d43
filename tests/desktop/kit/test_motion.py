"""What moves: nothing until it may, then briefly, and it ends where it belongs."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QAbstractAnimation, QPoint
from PySide6.QtWidgets import QLabel, QWidget
from pytestqt.qtbot import QtBot

from sennight.desktop.kit.motion import MOTION_MS, Glide, allow_motion, may_move, slide_in


@pytest.fixture
def part(qtbot: QtBot) -> Iterator[QWidget]:
    made = QWidget()
    qtbot.addWidget(made)
    made.resize(200, 100)
    made.show()
    yield made
    allow_motion(is_allowed=False)


def test_nothing_moves_before_it_is_allowed(part: QWidget) -> None:
    label = QLabel("panel", part)
    label.show()
    glide = Glide(part, part.update)
    assert not may_move()
    glide.begin()
    slide_in(label)
    assert glide.part == 1
    assert label.pos() == QPoint(0, 0)


def test_a_glide_is_brief_and_comes_to_its_end(part: QWidget, qtbot: QtBot) -> None:
    assert 120 <= MOTION_MS <= 180
    allow_motion(is_allowed=True)
    steps: list[float] = []
    glide = Glide(part, lambda: steps.append(glide.part))
    with qtbot.waitSignal(glide.finished, timeout=2000):
        glide.begin()
        assert glide.part < 0.5, "what was begun is on its way"
    assert glide.part == 1
    assert steps == sorted(steps)


def test_what_is_not_seen_does_not_move(part: QWidget) -> None:
    allow_motion(is_allowed=True)
    part.hide()
    glide = Glide(part, part.update)
    glide.begin()
    assert glide.state() is QAbstractAnimation.State.Stopped


def test_a_panel_slides_to_where_it_was_put(part: QWidget, qtbot: QtBot) -> None:
    allow_motion(is_allowed=True)
    label = QLabel("panel", part)
    label.move(20, 30)
    label.show()
    slide_in(label)
    assert label.x() > 20
    qtbot.waitUntil(lambda: label.pos() == QPoint(20, 30), timeout=2000)
