"""Decisions that bring a remedy in: one that joins a phase, a formula in another's place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.decisions.base import Decision, FieldError
from sennight.desktop.course.session import Session
from sennight.desktop.kit.theme import Theme
from sennight.desktop.kit.translating import translate
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.typed import Explained, explain_directions
from sennight.domain.courses.courses import Course, Join, Reformulate, Revision
from sennight.domain.courses.joining import free_id, same_formula
from sennight.domain.directions.directions import Directions
from sennight.domain.remedies.remedies import Remedy
from sennight.practice.course_reading import CourseReading


class JoinPhase(Decision):
    """A remedy of the course or of the shelf joins the phase that runs on a day."""

    def __init__(
        self,
        session: Session,
        theme: Theme,
        shelf: Sequence[Remedy],
        parent: QWidget | None = None,
        *,
        remedy: Remedy | None = None,
        directions: Directions | None = None,
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("JoinPhase", "Add a remedy to a phase under way"),
            do=translate("JoinPhase", "Add"),
        )
        own = session.course.remedies
        known = {other.id for other in own}
        others = [other for other in (remedy, *shelf) if other and other.id not in known]
        self._remedies: tuple[Remedy, ...] = (*own, *dict.fromkeys(others))
        names = [(other.name, str(place)) for place, other in enumerate(self._remedies)]
        self.remedy = self.add_choice("remedy", self.tr("Remedy"), names)
        self.directions = DirectionsEdit(self._explain, theme)
        self.add("take", self.tr("Directions"), self.directions)
        self.ask_beneath(QuestionBar.beneath(self.directions))
        self.first = self.add_date("from", self.tr("From"), max(session.day, self.today))
        self.last = self.add_date(
            "to", self.tr("To (optional; usually the end of the phase)"), None
        )
        if remedy:
            ids = [other.id for other in self._remedies]
            self.remedy.setCurrentIndex(ids.index(remedy.id))
        self.directions.setText(str(directions) if directions else "")
        self.ready()

    def _explain(self, text: str) -> Explained:
        return explain_directions(text, self.session.course.client.day)

    def revision(self) -> Revision:
        """A Join."""
        directions = self.directions_in("take", self.directions)
        return Join(
            on=self.today,
            reason=self.why,
            remedy=self._chosen().id,
            first=self.day_of("from", self.first),
            directions=directions,
            last=self.day_or_none("to", self.last),
        )

    def _chosen(self) -> Remedy:
        place = int(self.remedy.currentData())
        return self._remedies[place]

    def tried(self) -> CourseReading | None:
        """The course with the remedy among its own, and the decision."""
        return self.read(lambda: _with_remedy(self.session, self._chosen(), self.revision()))


class TakeFormula(Decision):
    """Another formula, of the course or the shelf, takes a remedy's place from a day on."""

    def __init__(
        self, session: Session, shelf: Sequence[Remedy], parent: QWidget | None = None
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("TakeFormula", "Another formula in a remedy’s place"),
            do=translate("TakeFormula", "Replace"),
        )
        course = session.course
        names = [(remedy.name, remedy.id) for remedy in course.lanes]
        self.remedy = self.add_choice("remedy", self.tr("Remedy"), names)
        changed = (
            other
            for other in shelf
            if not any(same_formula(other, remedy) for remedy in course.remedies)
        )
        self._formulas: tuple[Remedy, ...] = (*course.remedies, *changed)
        known = {remedy.id for remedy in course.remedies}
        choices = [(self._called(n, known), str(n)) for n in range(len(self._formulas))]
        self.formula = self.add_choice("with", self.tr("Formula"), choices)
        self.first = self.add_date("from", self.tr("From"), max(session.day, self.today))
        self.formula.setCurrentIndex(min(len(known), len(choices) - 1))
        self.ready()

    def _called(self, place: int, known: set[str]) -> str:
        """A formula's name; that of a newer version says so."""
        formula = self._formulas[place]
        if place < len(known) or formula.id not in known:
            return formula.name
        return self.tr("{name} (as it is on the shelf now)").format(name=formula.name)

    def _chosen(self) -> Remedy:
        """The formula under an id of its own: a newer one of a remedy is another remedy."""
        place = int(self.formula.currentData())
        formula, own = self._formulas[place], self.session.course.remedies
        return formula if place < len(own) else replace(formula, id=free_id(formula.id, own))

    def revision(self) -> Revision:
        """A Reformulate."""
        remedy = self.session.course.remedy(str(self.remedy.currentData()))
        if self._chosen().form is not remedy.form:
            form = remedy.form.facts.noun
            message = self.tr("Choose a {form}: it is measured in the same way").format(form=form)
            raise FieldError("with", message)
        return Reformulate(
            on=self.today,
            reason=self.why,
            remedy=remedy.id,
            first=self.day_of("from", self.first),
            formula=self._chosen().id,
        )

    def tried(self) -> CourseReading | None:
        """The course with the formula among its own, and the decision."""
        return self.read(lambda: _with_remedy(self.session, self._chosen(), self.revision()))


def _with_remedy(session: Session, remedy: Remedy, revision: Revision) -> Course:
    course = session.with_decision(revision)
    if any(own.id == remedy.id for own in course.remedies):
        return course
    return replace(course, remedies=(*course.remedies, remedy))
