"""A course page on which a finding to avoid stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.theme import Theme
from support.practice_files import new_filled
from support.sample_practice import NOW
from support.willow_practice import Willow, willow_practice


@pytest.fixture
def willow(tmp_path: Path) -> Iterator[Willow]:
    practice, made = new_filled(tmp_path / "practice.sennight", willow_practice, clock=lambda: NOW)
    with practice:
        yield replace(made, practice=practice)


@pytest.fixture
def page(qtbot: QtBot, willow: Willow, theme: Theme) -> Iterator[CoursePage]:
    made = CoursePage(willow.practice, theme, now=lambda: NOW)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    made.open(willow.course)
    made.show()
    yield made
    made.hide()


@pytest.fixture
def controller(page: CoursePage) -> CourseController:
    assert page.controller is not None
    return page.controller
