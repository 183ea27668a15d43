"""A course page on which a finding to avoid stands."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from sennight.desktop.course.controller import CourseController
from sennight.desktop.course.page import CoursePage
from sennight.desktop.kit.theme import Theme
from sennight.practice.opening import OpenPractice
from support.sample_practice import NOW
from support.willow_practice import Willow, willow_practice


@pytest.fixture
def willow(empty_practice: OpenPractice) -> Willow:
    return willow_practice(empty_practice)


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
