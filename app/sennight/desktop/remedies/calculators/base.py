"""What the answers share: fields, the answer in a sentence, and one edit that applies it."""

from __future__ import annotations

from fractions import Fraction

from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from sennight.desktop.kit.dialogs import FormDialog
from sennight.desktop.kit.forms import FieldForm
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.kit.theme import Role
from sennight.desktop.kit.widgets import restyle, text_label
from sennight.desktop.remedies.formula import Formula
from sennight.domain.amounts import rounded
from sennight.domain.exposure.bands import Band
from sennight.domain.formulas.calculations import CalculationError
from sennight.domain.herbs.herbs import MateriaMedica


class CalculatorDialog(FormDialog):
    """A question with its fields; `formula` is the answer, None where there is none to apply.

    A subclass puts its fields into `fields`, connects them to `refresh`, and gives the answer in
    `work_out`, which may raise CalculationError or ReadingError.
    """

    def __init__(
        self, parent: QWidget | None, title: str, before: Formula, materia_medica: MateriaMedica
    ) -> None:
        super().__init__(parent, title, do=self.tr("Apply"))
        self.before, self.materia_medica = before, materia_medica
        self.answer: Formula | None = None
        self.fields = FieldForm()
        self.message = text_label("", wrap=True)
        self.message.setMinimumHeight(self.fontMetrics().height() * 3)
        self.message.setAccessibleName(self.tr("Answer"))
        self.foot.addWidget(self.message)

    def ready(self, *, columns: int = 76, lines: int = 30) -> None:
        """All fields are there: lay out, and work the answer out for the first time."""
        self.fields.keep_together()
        self.set_body(self.fields, columns=columns, lines=lines)
        for field in self.fields.findChildren(QLineEdit):
            field.textChanged.connect(self.refresh)
        for box in self.fields.findChildren(QComboBox):
            box.currentIndexChanged.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Work the answer out anew, and say it."""
        try:
            text, self.answer = self.work_out()
            wrong = False
        except (CalculationError, ReadingError) as error:
            text, self.answer, wrong = f"{str(error)[:1].upper()}{str(error)[1:]}.", None, True
        self.message.setText(text)
        self.message.setProperty("role", "alarm" if wrong else "text")
        restyle(self.message)
        changes = self.answer is not None and self.answer != self.before
        self.main_button.setEnabled(changes)

    def work_out(self) -> tuple[str, Formula | None]:
        """The answer in a sentence, and the formula that comes of applying it."""
        raise NotImplementedError

    def herb_name(self, herb_id: str) -> str:
        """The herb's name, in running text."""
        herb = self.materia_medica.herb(herb_id)
        return herb.name if herb else herb_id

    def herb_box(self) -> QComboBox:
        """A choice of the formula's ingredients, by their places."""
        box = QComboBox()
        for n, ingredient in enumerate(self.before.remedy.ingredients):
            box.addItem(self.herb_name(ingredient.herb), n)
        return box

    def quiet(self, text: str) -> None:
        """A quiet line at the foot: what the answer rests on."""
        self.foot.addWidget(text_label(text, Role.QUIET, wrap=True))


PLACES: tuple[tuple[Band, Fraction], ...] = (
    (Band.LOW, Fraction(0)),
    (Band.MIDDLE, Fraction(1, 3)),
    (Band.HIGH, Fraction(2, 3)),
)
"""Where each band begins, from the minimum (0) to the maximum (1)."""


def exact_text(value: Fraction) -> str:
    """A number to three places, said to be about so much where it is not exact."""
    shown = rounded(value, 3)
    return shown if Fraction(shown) == value else f"about {shown}"
