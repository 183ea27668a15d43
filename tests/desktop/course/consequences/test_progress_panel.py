"""How it goes, among what follows."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.progress_panel import ProgressPanel
from sennight.desktop.kit.theme import Theme, make_theme
from sennight.domain.courses.protocols import Gate
from sennight.domain.follow_up.diaries import Score
from sennight.practice.course_reading import CourseReading
from support import course_cases

WEEK = timedelta(weeks=1)


def reading(*, gated: bool) -> CourseReading:
    course = course_cases.full_course(decided=False)
    first, *rest = course.protocol.phases
    phases = (replace(first, gate=Gate("pain", 30) if gated else None), *rest)
    course = replace(course, protocol=replace(course.protocol, phases=phases))
    return course_cases.session(course, today=course.start + WEEK * 2).reading


def texts(panel: ProgressPanel) -> list[str]:
    return [label.text() for label in panel.findChildren(QLabel) if not label.isHidden()]


def scores(measure: str, *values: int) -> tuple[Score, ...]:
    days = (course_cases.START + WEEK * n for n in range(len(values)))
    return tuple(Score(on, measure, Fraction(v)) for on, v in zip(days, values, strict=True))


def test_it_is_hidden_without_scores_and_gates(qtbot: QtBot, theme: Theme) -> None:
    panel = ProgressPanel(theme)
    qtbot.addWidget(panel)
    panel.refresh(reading(gated=False))
    assert panel.isHidden()
    panel.refresh(reading(gated=True))
    assert not panel.isHidden()
    (gate,) = texts(panel)
    assert gate.endswith("by 30 %. Not known yet: it was not rated in this phase.")


def test_what_got_worse_is_said_as_such_and_drawn(qtbot: QtBot, theme: Theme) -> None:
    panel = ProgressPanel(theme)
    qtbot.addWidget(panel)
    panel.scores = (*scores("pain", 5, 8), *scores("sleep", 4))
    panel.refresh(reading(gated=True))
    said = texts(panel)
    assert "Not met: it rose by 60 %" in said[0]
    assert panel.head.verdict == "Pain 8"
    assert "Pain: from 5 to 8, 4 to 11 January 2027. Worse, by enough to matter." in said
    assert "Sleep: 4 on 4 January 2027. One rating is not a trend." in said
    assert "better" not in " ".join(said).lower()
    pain, sleep = panel.rows
    assert (pain.chart.isHidden(), sleep.chart.isHidden()) == (False, True)
    assert pain.chart.accessibleName() == "Pain over time"
    assert pain.chart.accessibleDescription() == "5 on 4 January 2027; 8 on 11 January 2027"
    panel.apply_theme(make_theme(dark=True, scale=150))
    panel.show()
    assert pain.chart.grab().toImage().height() == pain.chart.height()
    panel.scores = ()
    panel.refresh(reading(gated=False))
    assert panel.isHidden()
