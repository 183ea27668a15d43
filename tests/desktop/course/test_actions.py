"""What the page's keys are: each once, none of the window's, and all of them alive."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from pytestqt.qtbot import QtBot

from sennight.desktop.course.actions import (
    course_specs,
    decision_specs,
    page_specs,
    phase_specs,
)
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.theme import Theme
from sennight.desktop.shell.actions import action_specs
from support import course_cases


def test_no_keys_are_given_twice() -> None:
    keys = [
        QKeySequence(key).toString()
        for spec in (*action_specs(), *course_specs())
        for key in spec.keys
    ]
    assert [key for key, count in Counter(keys).items() if count > 1] == []
    assert all(keys)


def test_every_action_says_what_it_does_under_a_name_of_its_own() -> None:
    specs = (*page_specs(), *decision_specs(), *phase_specs())
    assert all(spec.text and spec.tip for spec in specs)
    assert len({spec.id for spec in specs}) == len(specs)


def test_keys_ask_for_decisions_and_change_phases(qtbot: QtBot, theme: Theme) -> None:
    session = course_cases.session(
        course_cases.full_course(decided=False), today=course_cases.START
    )
    body = CourseView(session, theme)
    qtbot.addWidget(body)
    body.lines.asked.connect(lambda asked: session.edit(asked.words, asked.course))
    body.resize(1180, 740)
    body.show()
    body.activateWindow()
    qtbot.waitUntil(body.isActiveWindow)
    asked: list[str] = []
    body.decision_wanted.connect(asked.append)
    modifiers = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(body, Qt.Key.Key_M, modifiers)
    qtbot.keyClick(body, Qt.Key.Key_A, modifiers)
    assert asked == ["advance"]
    assert len(session.course.protocol.phases) == 5
    body.hide()
