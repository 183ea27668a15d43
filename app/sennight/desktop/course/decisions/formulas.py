"""Another formula of a remedy in this course: a herb left out, or another in its place."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QWidget

from sennight.desktop.course.decisions.base import Decision
from sennight.desktop.course.session import Session
from sennight.desktop.kit.translating import translate
from sennight.domain.courses.courses import Course, Revision
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.safety.acting import with_formula, with_other_herb, without_herb
from sennight.practice.course_reading import CourseReading

LEFT_OUT = ""


class ChangeFormula(Decision):
    """Asks what takes a herb's place, and tries the course with it, findings included.

    A course that was not begun is changed; in a running one the new formula is a decision.
    """

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        *,
        remedy: str,
        herb: str,
        swap: bool,
    ) -> None:
        super().__init__(
            session,
            parent,
            title=translate("ChangeFormula", "Change a remedy in this course"),
            do=translate("ChangeFormula", "Change"),
        )
        self._remedy, self._herb = session.course.remedy(remedy), herb
        names = session.reading.materia_medica.names
        held = {part.herb for part in self._remedy.ingredients}
        options = [
            *self._proposed(herb, names),
            *((name, herb_id) for herb_id, name in names.items() if herb_id not in held),
        ]
        if len(held) > 1:
            options.insert(0, (self.tr("Nothing: it is left out"), LEFT_OUT))
        label = self.tr("In place of {herb}").format(herb=names.get(herb, herb))
        self.instead = self.add_choice("instead", label, options)
        if swap and len(held) > 1:
            self.instead.setCurrentIndex(1)
        self.ready()

    def _proposed(self, herb: str, names: Mapping[str, str]) -> list[tuple[str, str]]:
        """The herbs that went through the whole check in this one's place, before all others."""
        proposals = self.session.reading.proposals.values()
        herbs = dict.fromkeys(
            proposed.herb
            for found in proposals
            for proposed in found
            if proposed.instead_of == herb
        )
        shown = self.tr("{herb} (checked in its place, nothing found)")
        return [(shown.format(herb=names[proposed]), proposed) for proposed in herbs]

    def changed(self) -> Remedy:
        """The remedy as it would be."""
        other = str(self.instead.currentData())
        if other == LEFT_OUT:
            return without_herb(self._remedy, self._herb)
        return with_other_herb(self._remedy, self._herb, other)

    def course(self) -> Course:
        """The course as it would be."""
        return with_formula(self.session.course, self.changed(), today=self.today, reason=self.why)

    def revision(self) -> Revision:
        """The decision, where the course runs."""
        return self.course().revisions[-1]

    def tried(self) -> CourseReading | None:
        """The course with the other formula; None, and a field says why, where it cannot be."""
        return self.read(self.course)

    def check(self) -> None:
        """Try it out; what would still be found is told as well."""
        super().check()
        if self._tried is not None:
            self.main_button.setEnabled(self._tried.course != self.session.course)
            still = [line.heading for line in self._tried.safety.stopping]
            clear = self.tr(
                "Nothing to avoid would be left undecided. That does not mean it is safe."
            )
            left = self.tr("Still to avoid: {findings}.").format(findings="; ".join(still))
            self._tell(left if still else clear)
