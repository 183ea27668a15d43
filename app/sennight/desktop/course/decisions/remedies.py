"""Decisions about one remedy: other directions, or none of it any more."""

from __future__ import annotations

from datetime import date

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.decisions.base import Decision, FieldError
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import Explained, explain_directions
from sennight.domain.courses.courses import Redirect, Revision, Stop
from sennight.domain.directions.directions import Directions


class ChangeDirections(Decision):
    """A remedy is taken in another way from some day on."""

    def __init__(
        self,
        session: Session,
        theme: Theme,
        parent: QWidget | None = None,
        *,
        remedy: str = "",
        directions: Directions | None = None,
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("ChangeDirections", "Change directions"),
            do=translate("ChangeDirections", "Change"),
        )
        course = self.session.course
        names = [(remedy.name, remedy.id) for remedy in course.remedies]
        self.remedy = self.add_choice("remedy", self.tr("Remedy"), names)
        self.directions = DirectionsEdit(self._explain, theme)
        self.add("take", self.tr("Directions"), self.directions)
        self.ask_beneath(QuestionBar.beneath(self.directions))
        day = max(self.session.day, self.today)
        self.first = self.add_date("from", self.tr("From"), day)
        self.last = self.add_date(
            "to", self.tr("To (optional; usually the end of the phase)"), None
        )
        if remedy:
            self.remedy.setCurrentIndex(max(0, self.remedy.findData(remedy)))
        self.directions.setText(str(directions) if directions else self._present())
        self.remedy.currentIndexChanged.connect(
            lambda _n: self.directions.setText(self._present())
        )
        self.ready()

    def _present(self) -> str:
        """How the chosen remedy is taken in the phase in hand."""
        remedy = self.remedy.currentData()
        lines = [line for line in self.session.phase.lines if line.remedy == remedy]
        return str(lines[0].directions) if lines else ""

    def _explain(self, text: str) -> Explained:
        return explain_directions(text, self.session.course.client.day)

    def check(self) -> None:
        """Tell the directions in plain words as well."""
        super().check()
        text, wrong = self._explain(self.directions.text())
        if text and wrong is None and not self.rows["take"].is_wrong:
            self.rows["take"].explain(text)

    def revision(self) -> Revision:
        """A Redirect."""
        directions = self.directions_in("take", self.directions)
        return Redirect(
            on=self.today,
            reason=self.why,
            remedy=str(self.remedy.currentData()),
            first=self.day_of("from", self.first),
            directions=directions,
            last=self.day_or_none("to", self.last),
        )


class StopRemedy(Decision):
    """None of a remedy any more; the reason is asked for."""

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        *,
        remedy: str = "",
        first: date | None = None,
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("StopRemedy", "Stop a remedy"),
            do=translate("StopRemedy", "Stop"),
        )
        names = [(remedy.name, remedy.id) for remedy in self.session.course.remedies]
        self.remedy = self.add_choice("remedy", self.tr("Remedy"), names)
        self.remedy.setCurrentIndex(max(0, self.remedy.findData(remedy)))
        self.first = self.add_date("from", self.tr("First day without it"), first or session.day)
        self.ready()

    def revision(self) -> Revision:
        """A Stop."""
        if not self.why:
            raise FieldError("reason", self.tr("Enter a reason; it is recorded with the course"))
        return Stop(
            on=self.today,
            reason=self.why,
            remedy=str(self.remedy.currentData()),
            first=self.day_of("from", self.first),
        )
