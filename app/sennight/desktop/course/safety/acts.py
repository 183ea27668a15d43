"""What can be done about a finding, as buttons: an hour in one press, formulas in a menu."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QVBoxLayout, QWidget

from sennight.desktop.kit.plain_text import add_choice
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.domain.courses.courses import Course
from sennight.domain.day import clock
from sennight.domain.directions.plain_words import plain_date
from sennight.domain.safety.acting import (
    Act,
    GiveOtherwise,
    LeaveHerbOut,
    MoveHour,
    PauseOver,
    StopFrom,
    SwapHerb,
)
from sennight.domain.tag_words import lower_first
from sennight.practice.course_reading import CourseReading


def act_words(act: Act, course: Course, herb_name: str = "") -> str:
    """What a button says; `herb_name` is that of the act's herb."""
    match act:
        case MoveHour(remedy, minute, moment, to_minute):
            return translate("Acts", "{remedy} at {moment} ({to}) instead of {minute}").format(
                remedy=course.remedy(remedy).name,
                moment=moment,
                to=clock(to_minute),
                minute=clock(minute),
            )
        case PauseOver(first, last):
            return translate("Acts", "Pause from {first} to {last}…").format(
                first=plain_date(first), last=plain_date(last)
            )
        case StopFrom(remedy, first):
            return translate("Acts", "Stop {remedy} from {first}…").format(
                remedy=course.remedy(remedy).name, first=plain_date(first)
            )
        case GiveOtherwise(remedy):
            return translate("Acts", "Change directions of {remedy}…").format(
                remedy=course.remedy(remedy).name
            )
        case LeaveHerbOut(remedy):
            return translate("Acts", "{remedy} without {herb}…").format(
                remedy=course.remedy(remedy).name, herb=lower_first(herb_name)
            )
        case SwapHerb(remedy):
            return translate("Acts", "Another herb for {herb} in {remedy}…").format(
                remedy=course.remedy(remedy).name, herb=lower_first(herb_name)
            )
        case _:
            assert_never(act)


class ActButtons(QWidget):
    """The acts of one finding; `wanted` has the one that was chosen."""

    wanted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.acts: tuple[Act, ...] = ()
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._room.setSpacing(2)

    def show_acts(self, acts: Iterable[Act], reading: CourseReading) -> None:
        """Offer other acts."""
        self.acts = tuple(acts)
        while (item := self._room.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        for widget in self._buttons(reading):
            self._room.addWidget(widget)
        self.setVisible(bool(self.acts))

    def _buttons(self, reading: CourseReading) -> Iterator[QWidget]:
        formulas = [act for act in self.acts if isinstance(act, LeaveHerbOut | SwapHerb)]
        for act in self.acts:
            if not isinstance(act, LeaveHerbOut | SwapHerb):
                choice = button(act_words(act, reading.course))
                choice.clicked.connect(partial(self._choose, act))
                yield choice
        if formulas:
            menu_button = button(translate("Acts", "Change a remedy"))
            menu = QMenu(menu_button)
            for act in formulas:
                herb = reading.materia_medica.herb(act.herb)
                words = act_words(act, reading.course, herb.name if herb else act.herb)
                add_choice(menu, words).triggered.connect(partial(self._choose, act))
            menu_button.setMenu(menu)
            yield menu_button

    def _choose(self, act: Act, _checked: object = None) -> None:
        self.wanted.emit(act)
