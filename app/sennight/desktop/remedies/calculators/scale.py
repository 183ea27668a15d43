"""How much of each herb makes so much of a formula."""

from __future__ import annotations

from dataclasses import replace
from typing import assert_never

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.forms import TypedField, explained
from sennight.desktop.kit.reading import ReadingError
from sennight.desktop.parts.amounts_reading import read_amount
from sennight.desktop.remedies.calculators.base import CalculatorDialog, exact_text
from sennight.desktop.remedies.formula import Formula
from sennight.domain.directions.plain_words import listed
from sennight.domain.formulas.calculations import amounts_for, base_for
from sennight.domain.formulas.formulas import with_whole
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.form_facts import Composition
from sennight.domain.remedies.forms import composition_of


class ScaleDialog(CalculatorDialog):
    """Asks for the amount to make."""

    def __init__(
        self, parent: QWidget | None, before: Formula, materia_medica: MateriaMedica
    ) -> None:
        super().__init__(parent, self.tr("Scale to an amount"), before, materia_medica)
        composition = composition_of(before.remedy.form)
        self.amount = TypedField(read_amount)
        self.amount.setText("100")
        row = self.fields.row(self._asked(composition), self.amount)
        explained(row, self.amount, lambda _: "")
        self.quiet(
            self.tr("Volumes are treated as additive; make up to the volume at the end.")
            if composition is Composition.BY_VOLUME
            else self.tr("By weight.")
        )
        self.ready(lines=24)

    def _asked(self, composition: Composition) -> str:
        match composition:
            case Composition.BY_WEIGHT | Composition.IN_BASE:
                return self.tr("Grams to make")
            case Composition.BY_VOLUME:
                return self.tr("mL to make")
            case Composition.BY_PIECE:
                return self.tr("Pieces to make")
            case _:
                assert_never(composition)

    def work_out(self) -> tuple[str, Formula | None]:
        """The amounts; applied, they are written as the parts (a capsule's mg stay)."""
        whole = self.amount.value()
        if whole is None:
            raise ReadingError(self.tr("Enter an amount, for example 100"))
        remedy = self.before.remedy
        composition = composition_of(remedy.form)
        unit = "mL" if composition is Composition.BY_VOLUME else "g"
        amounts = amounts_for(remedy, whole)
        parts = [
            f"{exact_text(amount)} {unit} {self.herb_name(ingredient.herb)}"
            for ingredient, amount in zip(remedy.ingredients, amounts, strict=True)
        ]
        rest = base_for(remedy, whole)
        if rest:
            name = (remedy.base.name if remedy.base else "") or self.tr("base")
            parts.append(f"{exact_text(rest)} {unit} {name}")
        measure = self.tr("pieces") if composition is Composition.BY_PIECE else unit
        template = self.tr("For {whole} {unit}: {parts}.")
        text = template.format(whole=exact_text(whole), unit=measure, parts=listed(parts))
        if composition in (Composition.BY_PIECE, Composition.IN_BASE):
            return text, None
        applied = self.tr(" Apply sets these as the parts; the shares stay as they are.")
        return text + applied, replace(self.before, remedy=with_whole(remedy, whole))
