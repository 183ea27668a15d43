"""What the panel of supplies says."""

from __future__ import annotations

from datetime import date

from pytestqt.qtbot import QtBot

from sennight.desktop.course.consequences.supply_panel import SupplyPanel
from sennight.desktop.kit.theme import Theme
from sennight.domain.dispensary.lasting import Lasting
from sennight.practice.course_reading import read_course
from support import course_cases


def test_each_remedy_in_whole_containers_and_when_to_order(qtbot: QtBot, theme: Theme) -> None:
    panel = SupplyPanel(theme)
    qtbot.addWidget(panel)
    reading = read_course(course_cases.full_course(), today=course_cases.TODAY)
    panel.refresh(reading)
    lines = panel.lines_label.text().splitlines()
    assert len(lines) == len({row.bottle for row in reading.supplies})
    assert any(" × 100 " in line for line in lines)
    assert panel.head.verdict == "none given"
    panel.lasts = (Lasting(reading.supplies[0].bottle, date(2027, 3, 7), date(2027, 2, 28)),)
    panel.refresh(reading)
    assert panel.head.verdict == "by 28 Feb"
    lasts, order = panel.lines_label.text().splitlines()[-2:]
    assert lasts.endswith("lasts to 7 March 2027")
    assert order == "order more by 28 February 2027"
