"""What a remedy holds: a dose to try it with, and each herb of a day of it against its range."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from sennight.desktop.kit.theme import Role, Theme
from sennight.desktop.kit.widgets import restyle, text_label
from sennight.desktop.parts.directions_edit import DirectionsEdit
from sennight.desktop.parts.question_bar import QuestionBar
from sennight.desktop.parts.range_bar import RangeBars, bars_of
from sennight.desktop.parts.typed import explain_directions, read_back
from sennight.desktop.remedies.formula import (
    Formula,
    dose_words,
    ethanol_words,
    full_day_words,
    not_counted_words,
    published_words,
    skin_words,
    solution_sources,
    solution_words,
    strength_words,
    sugar_words,
)
from sennight.domain.day import ClientDay
from sennight.domain.directions.directions import SameTimeError, Unit
from sennight.domain.directions.parser import DirectionsError
from sennight.domain.directions.understanding import read_usual_directions
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.forms import Form, called, is_taken_by_mouth
from sennight.domain.remedies.portions import measured_units
from sennight.domain.remedies.remedies import Remedy
from sennight.domain.tag_words import upper_first


class DoseContents(QWidget):
    """A trial dose and what follows from it.

    `tried` tells a dose that can be read, as it is typed, `settled` once the field is left.
    """

    tried = Signal(str)
    settled = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._remedy, self._tried = Remedy("", "", Form.TEA, ()), ""
        self._materia_medica = MateriaMedica()
        self._make_parts(theme)
        self._layout = QVBoxLayout(self)
        self._layout.setContentsMargins(0, 0, 0, 0)
        for part in (
            self._label,
            self.dose,
            self.explained,
            self.questions,
            self.warning,
            self.strength,
            self.one_dose,
            self.ethanol,
            self._heading,
            self.full_day,
            self.bars,
            self.nothing,
        ):
            self._layout.addWidget(part)
        self._layout.addStretch(1)
        self.apply_theme(theme)

    def _make_parts(self, theme: Theme) -> None:
        self._label = text_label(self.tr("Trial dose"), Role.HEADING)
        self.dose = DirectionsEdit(self._explain, theme)
        self.dose.setAccessibleName(self.tr("Trial dose, in the short form"))
        self._label.setBuddy(self.dose)
        self.explained = text_label("", Role.QUIET, wrap=True)
        self.questions = QuestionBar.beneath(self.dose)
        self.warning = text_label("", Role.ALARM, wrap=True)
        self.strength = text_label("", wrap=True)
        self.one_dose = text_label("", wrap=True)
        self.ethanol = text_label("", wrap=True)
        self.full_day = text_label("", wrap=True)
        self._heading = text_label(self.tr("Daily amount"), Role.HEADING)
        self.bars = RangeBars(theme, self.tr("Each herb's amount in a day, against its range"))
        self.nothing = text_label("", Role.QUIET, wrap=True)
        self.dose.explained.connect(self._update_text)
        self.dose.textEdited.connect(self._typed)
        self.dose.editingFinished.connect(self._left)

    def apply_theme(self, theme: Theme) -> None:
        """Draw with another look."""
        self._layout.setSpacing(theme.unit * 2)
        self.bars.apply_theme(theme)

    def _explain(self, text: str) -> tuple[str, tuple[int, int] | None]:
        """What a dose means, or what is wrong with it and where."""
        try:
            directions = read_usual_directions(text)
            directions.minutes(ClientDay.at())
            explanation = read_back(text, directions, ClientDay.at())
        except DirectionsError:
            return explain_directions(text, ClientDay.at())
        except SameTimeError as error:
            return str(error), (0, len(text))
        if directions.unit is Unit.DROPPERFUL and self._remedy.dropperful is None:
            said = self.tr("First enter how much one dropperful holds.")
            return said, (0, len(text))
        units = measured_units(self._remedy)
        if directions.unit not in units:
            template = self.tr("{form} is not measured in {unit}; expected {units}")
            known = ", ".join(str(unit) for unit in units)
            return template.format(
                form=upper_first(called(self._remedy.form)), unit=directions.unit, units=known
            ), (
                0,
                len(text),
            )
        return explanation, None

    def _update_text(self, text: str, wrong: bool) -> None:  # noqa: FBT001 - a signal takes no names
        self.explained.setText(text)
        self.explained.setProperty("role", "alarm" if wrong else "quiet")
        restyle(self.explained)

    def _typed(self, text: str) -> None:
        if self._explain(text)[1] is None:  # the field itself reads a little later
            self._tried = text
            self.tried.emit(text)

    def _left(self) -> None:
        if self.dose.wrong is None and self.dose.text().strip():
            self.settled.emit(self.dose.text())

    def show_formula(self, formula: Formula, materia_medica: MateriaMedica) -> None:
        """Say what a formula holds."""
        before, self._remedy = self._remedy, formula.remedy
        self._materia_medica = materia_medica
        if formula.tried != self._tried:
            self._tried = formula.tried
            if self.dose.text() != formula.tried:
                self.dose.setText(formula.tried)
        elif measured_units(before) != measured_units(self._remedy) or (
            before.dropperful != self._remedy.dropperful
        ):
            self.dose.read_again()
        tried = formula.trial(materia_medica)
        self._show(self.warning, solution_words(formula.remedy, materia_medica))
        self.warning.setToolTip(solution_sources(formula.remedy, materia_medica))
        skin = skin_words(formula.remedy, materia_medica)
        self._show(self.strength, " ".join(filter(None, (strength_words(formula.remedy), skin))))
        self._show(self.one_dose, dose_words(tried, materia_medica) if tried else "")
        drunk = (ethanol_words(tried), sugar_words(tried)) if tried else ()
        self._show(self.ethanol, " ".join(filter(None, drunk)))
        form = formula.remedy.form
        whole = full_day_words(tried, form, materia_medica) if tried else ""
        self._show(self.full_day, whole)
        rows = tried.rows if tried else ()
        self.bars.show_bars(bars_of(rows, materia_medica.names))
        self._heading.setVisible(bool(rows))
        self._show(self.nothing, self._why_nothing(formula, counted=bool(rows)))

    def _why_nothing(self, formula: Formula, *, counted: bool) -> str:
        if counted:
            return ""
        if not is_taken_by_mouth(formula.remedy.form):
            published = published_words(formula.remedy, self._materia_medica)
            return "\n".join(filter(None, (not_counted_words(formula.remedy.form), published)))
        if not formula.remedy.ingredients:
            return self.tr("Add a herb, and its amount shows here against its range.")
        return self.tr("Type a dose that fits, and each herb shows here against its range.")

    def _show(self, label: QLabel, text: str) -> None:
        label.setText(text)
        label.setVisible(bool(text))
