"""Asks for decisions at the side of the course, one at a time; the timeline stays in view.

The form is the one of `decisions`, as a part of the page: what it would do is drawn over the
timeline while it is typed. Nothing else of the page is locked meanwhile, so a form is made anew
when the course that it is about has become another one; what was typed comes along as a draft.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Protocol, assert_never

import shiboken6
from PySide6.QtCore import QObject, Qt, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from sennight.desktop.course.decisions.changing import JoinPhase, TakeFormula
from sennight.desktop.course.decisions.formulas import ChangeFormula
from sennight.desktop.course.decisions.remedies import ChangeDirections, StopRemedy
from sennight.desktop.course.decisions.striking import StrikeOut, StrikeReaction
from sennight.desktop.course.decisions.timing import (
    ChangeLength,
    EndCourse,
    MoveOn,
    RecordFlare,
    StayAsItIs,
    TakePause,
)
from sennight.desktop.course.drafted_formula import tell_what_is_unsaved
from sennight.desktop.course.view import CourseView
from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.theme import Theme
from sennight.domain.courses.courses import Course
from sennight.domain.directions.directions import Directions
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.acting import (
    GiveOtherwise,
    LeaveHerbOut,
    PauseOver,
    StopFrom,
    SwapHerb,
)
from sennight.practice.opening import OpenPractice
from sennight.practice.remedies import list_remedies

DecisionAct = PauseOver | StopFrom | GiveOtherwise | LeaveHerbOut | SwapHerb
"""What is chosen about a finding, a day or a lane, and is a decision."""


class KeepDraft(Protocol):
    """Lets a form keep what is typed into it, by a word of its own."""

    def __call__(self, dialog: FormDialog, kind: str, *, bring_back: bool = True) -> None:
        """Keep what is typed from now on, and bring back what was not saved if asked to."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is asked now: its kind, how its form is made, of which course, from where."""

    kind: str
    make: Callable[[], FormDialog]
    course: Course
    back: QWidget | None


class Deciding(QObject):
    """Acts for one course page."""

    def __init__(
        self,
        practice: OpenPractice,
        view: CourseView,
        theme: Theme,
        *,
        keep_draft: KeepDraft,
        strike_reaction: StrikeReaction,
    ) -> None:
        super().__init__(view)
        self._practice, self._view, self._theme = practice, view, theme
        self._keep_draft, self._strike_reaction = keep_draft, strike_reaction
        self._session = view.session
        self.form: FormDialog | None = None
        self._asked: _Asked | None = None
        self._first: QWidget = view
        self._session.changed.connect(lambda: QTimer.singleShot(0, self, self._follow))

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._theme = theme
        self._renew()

    # What is asked

    def ask(self, kind: str) -> None:
        """Ask for a decision of that kind; raises KeyError for a kind that is none."""
        session, shelf = self._session, self._shelf
        forms: dict[str, Callable[[], FormDialog]] = {
            "flare": lambda: RecordFlare(session),
            "pause": lambda: TakePause(session),
            "advance": lambda: MoveOn(session),
            "extend": lambda: ChangeLength(session),
            "redirect": lambda: ChangeDirections(session, self._theme),
            "stop": lambda: StopRemedy(session),
            "end": lambda: EndCourse(session),
            "stay": lambda: StayAsItIs(session),
            "join": lambda: JoinPhase(session, self._theme, shelf()),
            "formula": lambda: TakeFormula(session, shelf()),
            "strike": lambda: StrikeOut(session, self._strike_reaction),
        }
        self._open(kind, partial(self._told, kind, forms[kind]))

    def _told(self, kind: str, make: Callable[[], FormDialog]) -> FormDialog:
        form = make()
        tell_what_is_unsaved(self._practice, form, kind)
        return form

    def _shelf(self) -> list[Remedy]:
        """The shelf's remedies as they are now."""
        return [entry.remedy for entry in list_remedies(self._practice)]

    def act(self, act: DecisionAct) -> None:
        """Ask for the decision that was chosen, its form filled in."""
        session = self._session
        match act:
            case PauseOver(first, last):
                self._fill("pause", lambda: TakePause(session, first=first, last=last))
            case StopFrom(remedy, first):
                self._fill("stop", lambda: StopRemedy(session, remedy=remedy, first=first))
            case GiveOtherwise(remedy):
                self.change_directions(remedy)
            case LeaveHerbOut(remedy, herb):
                self._change_formula("without", remedy, herb)
            case SwapHerb(remedy, herb):
                self._change_formula("swap", remedy, herb)
            case _:
                assert_never(act)

    def _change_formula(self, way: str, remedy: str, herb: str) -> None:
        make = partial(ChangeFormula, self._session, remedy=remedy, herb=herb, swap=way == "swap")
        self._open(f"formula-{way}/{remedy}/{herb}", make)

    def change_directions(self, remedy: str, directions: Directions | None = None) -> None:
        """Ask from when a remedy is taken in another way."""
        self._fill(
            "redirect",
            lambda: ChangeDirections(
                self._session, self._theme, remedy=remedy, directions=directions
            ),
        )

    def change_length(self, phase: str, days: int) -> None:
        """Ask whether a phase is to be so many days longer."""
        self._fill("extend", lambda: ChangeLength(self._session, phase=phase, days=days))

    # The form

    def _fill(self, kind: str, make: Callable[[], FormDialog]) -> None:
        """Open a form that is filled in, so nothing typed before is brought back into it."""
        self._open(kind, make, bring_back=False)

    def _open(self, kind: str, make: Callable[[], FormDialog], *, bring_back: bool = True) -> None:
        """Ask; what is asked already is left first, unless its reason is to be kept."""
        back = self._asked.back if self._asked else QApplication.focusWidget()
        if self.form is not None:
            self.form.reject()
        if self.form is None:
            self._show(_Asked(kind, make, self._session.course, back), bring_back=bring_back)
        self._take_focus()

    def _show(self, asked: _Asked, *, bring_back: bool) -> None:
        form = asked.make()
        self._keep_draft(form, asked.kind, bring_back=bring_back)
        form.be_part()
        first = form.focusWidget()
        self.form, self._asked = form, asked
        form.finished.connect(self._left)
        self._view.put_aside(form)
        self._first = first or form.main_button  # standing in the page, it has forgotten it

    def _take_focus(self) -> None:
        if self.form is not None:
            self._first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _left(self) -> None:
        """The form was left, with the decision made or not: the keyboard goes back."""
        back = self._asked.back if self._asked else None
        self._take_away()
        if back is not None and shiboken6.isValid(back) and back.isVisible():
            back.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self._view.calendar.focus_view()

    def _take_away(self) -> None:
        form, self.form, self._asked = self.form, None, None
        if form is not None:
            form.finished.disconnect(self._left)
            self._view.take_from_aside(form)
            form.hide()
            form.deleteLater()

    def put_away(self) -> None:
        """Take the form away without leaving it: what was typed stays a draft."""
        if self.form is not None and self.form.draft is not None:
            self.form.draft.stop()
        self._take_away()

    def _follow(self) -> None:
        """After an edit the form is about another course."""
        if self._asked is not None and self._asked.course is not self._session.course:
            self._renew()

    def _renew(self) -> None:
        """Make the form anew; what was typed comes back, and the keyboard stays where it is."""
        asked, form = self._asked, self.form
        if asked is None or form is None:
            return
        had_focus = form.isAncestorOf(QApplication.focusWidget() or self._view)
        self.put_away()
        self._show(
            _Asked(asked.kind, asked.make, self._session.course, asked.back), bring_back=True
        )
        if had_focus:
            self._take_focus()
