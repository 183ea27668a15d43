"""The day in full, beside the calendar."""

from __future__ import annotations

from dataclasses import replace

from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.panels import DayPanel
from sennight.domain.courses.stretches import lay_out
from sennight.domain.schedule.weeks import course_weeks, day_text
from support.samples import course, line, phase


def test_names_with_colons_and_semicolons_stay_whole(qtbot: QtBot) -> None:
    made = course(phase("loading: strong", "1 w", line("t1", "1 cup od")))
    named = [replace(one, name="Calm; for the night") for one in made.remedies]
    layout = lay_out(replace(made, remedies=tuple(named)))
    panel = DayPanel()
    qtbot.addWidget(panel)
    panel.show_day(day_text(layout, course_weeks(layout)[0].cells[0]))
    assert panel._day.text() == "Monday 4 January 2027, week 1, loading: strong"
    assert [label.text() for label in panel._doses] == ["Calm; for the night 1 cup at 07:30"]
