"""Mixing a strength (alligation, dilution), and changing a herb's ratio for the same herb."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from PySide6.QtWidgets import QWidget

from sennight.desktop.kit.forms import TypedField, explained
from sennight.desktop.parts.amounts_reading import (
    read_amount,
    read_percent,
    read_ratio,
)
from sennight.desktop.remedies.calculators.base import CalculatorDialog, exact_text
from sennight.desktop.remedies.formula import Formula
from sennight.domain.amounts import plain_number
from sennight.domain.formulas.calculations import alligate, mix, percent_of_ratio, with_ratio
from sennight.domain.formulas.formulas import with_ingredient
from sennight.domain.herbs.herbs import MateriaMedica
from sennight.domain.remedies.remedies import Ingredient
from sennight.domain.remedies.remedy_words import ratio_words


class StrengthDialog(CalculatorDialog):
    """Asks for a herb of the formula, another ratio, and a strength to mix."""

    def __init__(
        self, parent: QWidget | None, before: Formula, materia_medica: MateriaMedica
    ) -> None:
        super().__init__(parent, self.tr("Strength and ratio"), before, materia_medica)
        self.herb = self.herb_box()
        self.ratio = TypedField(read_ratio, placeholder=self.tr("such as 1:5"))
        self.wanted = TypedField(read_percent, placeholder=self.tr("such as 45"))
        self.high, self.low = TypedField(read_percent), TypedField(read_percent)
        self.whole = TypedField(read_amount)
        self.fields.row(self.tr("Herb"), self.herb)
        rows = [
            self.fields.row(
                self.tr("In another ratio"),
                self.ratio,
                help_text=self.tr("The parts change so that they contain the same dried herb."),
            ),
            self.fields.row(self.tr("Liquid of a strength, % v/v"), self.wanted),
            *self.fields.line(
                (self.tr("mixed from, % v/v"), self.high),
                (self.tr("and from, % v/v"), self.low),
                (self.tr("mL to make"), self.whole),
            ),
        ]
        fields = (self.ratio, self.wanted, self.high, self.low, self.whole)
        for field, text in zip((self.high, self.low, self.whole), ("96", "0", "500"), strict=True):
            field.setText(text)
        for row, field in zip(rows, fields, strict=True):
            explained(row, field, lambda _: "")
        self.quiet(
            self.tr(
                "Volumes are treated as additive. Where ethanol meets water the true volume is up "
                "to 4 % less: make up to the volume."
            )
        )
        self.ready(lines=40)

    def work_out(self) -> tuple[str, Formula | None]:
        """The new parts and the mixture, whichever are asked for."""
        index: int = self.herb.currentData()
        remedy, sentences = self.before.remedy, []
        ratio, wanted = self.ratio.value(), self.wanted.value()
        if ratio is not None:
            remedy = with_ratio(remedy, index, ratio)
            sentences.append(self._ratio_words(remedy.ingredients[index], ratio))
        if wanted is not None:
            sentences.append(self._mixing(wanted))
            ingredient = replace(remedy.ingredients[index], ethanol=wanted)
            remedy = with_ingredient(remedy, index, ingredient)
            name = self.herb_name(ingredient.herb)
            template = self.tr("Apply enters {herb} at {percent} % v/v.")
            sentences.append(template.format(herb=name, percent=plain_number(wanted)))
        if not sentences:
            return self.tr("Type another ratio, or a strength to mix."), None
        return " ".join(sentences), replace(self.before, remedy=remedy)

    def _ratio_words(self, ingredient: Ingredient, ratio: Fraction) -> str:
        template = self.tr("{herb} at {ratio} ({percent} % w/v) takes {parts} parts.")
        return template.format(
            herb=self.herb_name(ingredient.herb),
            ratio=ratio_words(ratio),
            percent=exact_text(percent_of_ratio(ratio)),
            parts=exact_text(ingredient.parts or Fraction(0)),
        )

    def _mixing(self, wanted: Fraction) -> str:
        high, low = self.high.value() or Fraction(96), self.low.value() or Fraction(0)
        whole = self.whole.value() or Fraction(100)
        stronger, weaker = alligate(high, low, wanted)
        of_high, _of_low = mix(whole, high, low, wanted)
        if low:
            template = self.tr(
                "{whole} mL of {wanted} %: {one} mL of {high} %, made up with {low} % "
                "({stronger} parts to {weaker})."
            )
        else:
            template = self.tr(
                "{whole} mL of {wanted} %: {one} mL of {high} %, made up with water "
                "({stronger} parts to {weaker})."
            )
        return template.format(
            whole=exact_text(whole),
            wanted=plain_number(wanted),
            one=exact_text(of_high),
            high=plain_number(high),
            low=plain_number(low),
            stronger=stronger,
            weaker=weaker,
        )
