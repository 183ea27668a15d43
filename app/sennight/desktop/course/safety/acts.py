"""What can be done about a finding, as buttons: an hour in one press, formulas in a menu."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from typing import assert_never

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu, QPushButton, QVBoxLayout, QWidget

from sennight.desktop.kit.plain_text import add_choice, plain_caption
from sennight.desktop.kit.translating import translate
from sennight.desktop.kit.widgets import button
from sennight.domain.courses.courses import Course
from sennight.domain.day import clock
from sennight.domain.directions.plain_words import plain_date, plain_moment
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
            return translate("Acts", "{remedy} at {to} ({moment}) instead of {minute}").format(
                remedy=course.remedy(remedy).name,
                moment=plain_moment(moment),
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
    """The acts of one finding; `wanted` has the one that was chosen.

    Buttons stay and are given other words: making them, and letting the style sheet look at them,
    would cost more than all else that is said of safety after an edit.
    """

    wanted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.acts: tuple[Act, ...] = ()
        self._at_once: list[QPushButton] = []
        self._formulas = button(translate("Acts", "Change a remedy"))
        self._menu = QMenu(self._formulas)
        self._formulas.setMenu(self._menu)
        self._in_menu: tuple[tuple[Act, str], ...] = ()
        self._room = QVBoxLayout(self)
        self._room.setContentsMargins(0, 0, 0, 0)
        self._room.setSpacing(2)
        self._room.addWidget(self._formulas)

    def show_acts(self, acts: Iterable[Act], reading: CourseReading) -> None:
        """Offer other acts."""
        self.acts = tuple(acts)
        formulas = [act for act in self.acts if _is_of_formula(act)]
        self._show_at_once([act for act in self.acts if not _is_of_formula(act)], reading)
        self._show_formulas(tuple((act, _words_of(act, reading)) for act in formulas))
        self.setVisible(bool(self.acts))

    def _show_at_once(self, acts: Sequence[Act], reading: CourseReading) -> None:
        while len(self._at_once) < len(acts):
            choice = button("")
            choice.clicked.connect(partial(self._choose_at_once, len(self._at_once)))
            self._room.insertWidget(len(self._at_once), choice)
            self._at_once.append(choice)
        for n, choice in enumerate(self._at_once):
            is_there = n < len(acts)
            choice.setText(plain_caption(_words_of(acts[n], reading)) if is_there else "")
            choice.setVisible(is_there)

    def _show_formulas(self, choices: tuple[tuple[Act, str], ...]) -> None:
        self._formulas.setVisible(bool(choices))
        if choices == self._in_menu:
            return
        self._in_menu = choices
        self._menu.clear()
        for act, words in choices:
            add_choice(self._menu, words).triggered.connect(partial(self._choose, act))

    def _choose_at_once(self, place: int, _checked: object = None) -> None:
        self._choose([act for act in self.acts if not _is_of_formula(act)][place])

    def _choose(self, act: Act, _checked: object = None) -> None:
        self.wanted.emit(act)


def _is_of_formula(act: Act) -> bool:
    """Whether it changes a remedy's formula, and so is offered in the menu."""
    return isinstance(act, LeaveHerbOut | SwapHerb)


def _words_of(act: Act, reading: CourseReading) -> str:
    if not isinstance(act, LeaveHerbOut | SwapHerb):
        return act_words(act, reading.course)
    herb = reading.materia_medica.herb(act.herb)
    return act_words(act, reading.course, herb.name if herb else act.herb)
